package plan

import (
	"fmt"
	"math"

	"hopperful/estimate"
	"hopperful/figure"
	"hopperful/quantity"
	"hopperful/shop"
)

// demand is what a need comes to, draw by draw.
type demand struct {
	print  []float64 // mass of the printed part [kg]
	want   []float64 // granulate the printer has to be given [kg]
	onHand float64   // of it, what the shop already has [kg]
	make   []float64 // granulate still to be made [kg]
	figure figure.Figure
}

// demandOf works a need out: the part, and what is spent around it.
func demandOf(need shop.Need, b *estimate.Beliefs, rows [][]float64, ready []*shop.Lot) (demand, error) {
	n := len(rows)
	d := demand{print: make([]float64, n), want: make([]float64, n), make: make([]float64, n)}
	for _, lot := range ready {
		d.onHand += lot.Mass
	}
	for i, row := range rows {
		switch {
		case need.Mass != nil:
			d.print[i] = *need.Mass
		case need.Volume != nil:
			d.print[i] = *need.Volume * row[estimate.SolidDensity] * row[estimate.PrintScale]
		default:
			return d, &shop.Error{Code: shop.Invalid, Field: "mass_kg",
				Say:  fmt.Sprintf("The need %q has neither a mass nor a volume.", need.Name),
				Hint: "Type a mass such as 240 g, or give the file to be printed."}
		}
		d.want[i] = d.print[i] * (1 + row[estimate.Purge] + row[estimate.StartUp] + row[estimate.Handling])
		d.make[i] = math.Max(0, d.want[i]-d.onHand)
	}
	return d, d.explain(need, b)
}

// explain makes the figure of what is wanted.
func (d *demand) explain(need shop.Need, b *estimate.Beliefs) error {
	part, err := figure.FromDraws("print_mass", "mass of the part", quantity.Mass, d.print)
	if err != nil {
		return err
	}
	if need.Mass != nil {
		part = figure.Exact("print_mass", "mass of the part", quantity.Mass, *need.Mass, figure.Entered)
	} else {
		volume := figure.Exact("print_volume", "plastic in "+need.Name, quantity.Volume, *need.Volume, figure.Measured)
		volume.How = need.Taken
		part = part.From("plastic × density × flow", volume, belief(b, estimate.SolidDensity), belief(b, estimate.PrintScale))
	}
	want, err := figure.FromDraws("need", "granulate wanted", quantity.Mass, d.want)
	if err != nil {
		return err
	}
	d.figure = want.From("part × (1 + purge + start-up + handling)",
		part, belief(b, estimate.Purge), belief(b, estimate.StartUp), belief(b, estimate.Handling))
	return nil
}

// belief turns what is believed of a parameter into an explained number.
func belief(b *estimate.Beliefs, p estimate.Param) figure.Figure {
	one := b[p]
	f := figure.Figure{Key: one.Key, Name: one.Name, Kind: one.Kind,
		Value: one.Median, Low: one.Low, High: one.High, Basis: figure.Books, Records: one.Records}
	switch {
	case one.Runs > 0:
		f.Basis, f.Runs = figure.Learned, one.Runs
	case one.FromUser:
		f.Basis = figure.Entered
	case one.Source.Key == "judgement":
		f.Basis = figure.Assumed
	}
	if one.Source.Key != "" {
		f = f.Cite(one.Source.Key, one.Source.Place)
	}
	return f
}
