package plan

import (
	"math"

	"hopperful/estimate"
	"hopperful/figure"
	"hopperful/plan/consumption"
	"hopperful/polymer"
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

// wantings is what every print of a request wants; none for the rest of a
// campaign, whose amount is known.
func wantings(s *shop.State, material polymer.Polymer, req Request) ([]consumption.Wanting, error) {
	if req.Make != nil {
		return nil, nil
	}
	var all []consumption.Wanting
	for _, need := range append([]shop.Need{req.Need}, req.Also...) {
		w, err := consumption.Want(s, material, need)
		if err != nil {
			return nil, err
		}
		all = append(all, w)
	}
	return all, nil
}

// demand works a request out for every draw, from what every room takes a print
// to want.
func (j *job) demand(rows [][]float64) (demand, error) {
	n := len(rows)
	d := demand{print: make([]float64, n), want: make([]float64, n), make: make([]float64, n)}
	if rest := j.req.Make; rest != nil {
		for i := range rows {
			d.print[i], d.want[i], d.make[i] = *rest, *rest, *rest
		}
		d.figure = figure.Exact("need", "plan.still_to_make", quantity.Mass, *rest, figure.Reckoned)
		return d, nil
	}
	for _, lot := range j.lots.ready {
		d.onHand += lot.Mass
	}
	purge := make([]float64, n) // what a print takes hangs on its purge more than on anything else drawn
	for i, row := range rows {
		purge[i] = row[estimate.Purge]
	}
	var parts []figure.Figure
	for _, w := range j.wanting {
		parts = append(parts, w.Figure)
		for i, a := range w.Beside(purge) {
			d.print[i], d.want[i] = d.print[i]+a.Part, d.want[i]+a.Want
		}
	}
	for i := range d.want {
		d.make[i] = math.Max(0, d.want[i]-d.onHand)
	}
	if d.figure = parts[0]; len(parts) == 1 {
		return d, nil
	}
	sum, err := figure.FromDraws("need", "plan.wanted", quantity.Mass, d.want)
	d.figure = sum.From("Σ want", parts...)
	return d, err
}

// belief turns what is believed of a parameter into an explained number.
func belief(b *estimate.Beliefs, p estimate.Param) figure.Figure {
	one := b[p]
	f := figure.Figure{Key: one.Key, Name: one.Name, About: one.About, Kind: one.Kind,
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
