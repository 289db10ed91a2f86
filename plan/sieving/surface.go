package sieving

import (
	"fmt"

	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/process/sieve"
	"hopperful/quantity"
	"hopperful/shop"
)

// How much more surface shredded walls have than balls of the same volume:
// usually, and from compact chips to flakes (judgement; a cube has 1.24).
const (
	siftShape     = 2.0
	siftShapeLow  = 1.5
	siftShapeHigh = 3.0
)

// surface states Sauter's mean and the outer surface of a kilogram.
func (f *sifting) surface() error {
	if f.out.Simple {
		return nil
	}
	r, err := sieve.SauterRange(f.d)
	if err != nil {
		return refusal(err)
	}
	mean := f.mine(figure.Figure{Key: "sauter", Name: "sieving.sauter", Kind: quantity.Length, Value: r.Value, Low: r.Low, High: r.High, Basis: figure.Reckoned}).
		From("sieving.how_sauter").
		Cite("ISO2014", "D32, from memory")
	density, err := DensityOf(f.state, f.stack.Lot)
	if err != nil {
		return err
	}
	shape := figure.Figure{Key: "shape", Name: "sieving.shape", Kind: quantity.Number, Value: siftShape, Low: siftShapeLow, High: siftShapeHigh, Basis: figure.Assumed}.
		Cite("judgement", "1 a ball, 1.24 a cube")
	area := func(shape, d32, rho float64) float64 { return 6 * shape / (rho * d32) }
	g := f.mine(figure.Figure{Key: "surface", Name: "sieving.surface", Kind: quantity.Area,
		Value: area(siftShape, r.Value, density.Value), Low: area(siftShapeLow, r.High, density.High), High: area(siftShapeHigh, r.Low, density.Low), Basis: figure.Reckoned}).
		From("A = 6 × shape ÷ (ρ × d32)", shape, density, mean).Cite("ISO2014", "6/D32, from memory")
	f.out.Sizes = append(f.out.Sizes, mean, g)
	return nil
}

// DensityOf is the density of a lot's solid plastic, or that of any.
func DensityOf(s *shop.State, id shop.LotID) (figure.Figure, error) {
	table, err := s.Table()
	if err != nil {
		return figure.Figure{}, err
	}
	name, basis := polymer.Unknown, figure.Assumed
	if lot, ok := s.Lot(id); ok && lot.Polymer != "" {
		name, basis = lot.Polymer, figure.Books
	}
	p, err := table.Find(name)
	if err != nil { // a lot of a polymer the books have lost is as unknown as any
		if p, err = table.Find(polymer.Unknown); err != nil {
			return figure.Figure{}, fmt.Errorf("the density of an unknown plastic: %w", err)
		}
	}
	v, err := p.Value(polymer.Density)
	if err != nil {
		return figure.Figure{}, fmt.Errorf("the density of %s: %w", p.Name, err)
	}
	g := figure.Figure{Key: "density", Name: "figure.density_of", About: p.Name, Kind: quantity.Density, Value: v.Value, Low: v.Low, High: v.High, Basis: basis}
	if v.Source.Key != "" {
		g = g.Cite(v.Source.Key, v.Source.Place)
	}
	return g, nil
}
