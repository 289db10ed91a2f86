package plan

import (
	"math"

	"hopperful/estimate"
	"hopperful/figure"
	"hopperful/plan/eats"
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

// demandOf works a need out for every draw, from what every room takes a print
// to want.
func demandOf(w eats.Wanting, rows [][]float64, ready []*shop.Lot) demand {
	n := len(rows)
	d := demand{print: make([]float64, n), want: make([]float64, n), make: make([]float64, n), figure: w.Figure}
	for _, lot := range ready {
		d.onHand += lot.Mass
	}
	purge := make([]float64, n) // what a print takes hangs on its purge more than on anything else drawn
	for i, row := range rows {
		purge[i] = row[estimate.Purge]
	}
	for i, a := range w.Beside(purge) {
		d.print[i], d.want[i] = a.Part, a.Want
		d.make[i] = math.Max(0, a.Want-d.onHand)
	}
	return d
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
