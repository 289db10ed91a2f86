package plan

import (
	"fmt"

	"hopperful/estimate"
	"hopperful/polymer"
	"hopperful/shop"
)

// Materials returns the books' table of materials with the shop's own values
// on top.
func Materials(s *shop.State) (*polymer.Table, error) {
	own := make([]polymer.Value, 0, len(s.Materials))
	for _, m := range s.Materials {
		v, err := polymer.Own(m.Polymer, polymer.Property(m.Property), m.Value, m.Low, m.High, polymer.Entered, m.Why)
		if err != nil {
			return nil, fmt.Errorf("the shop's own value for %s: %w", m.Polymer, err)
		}
		own = append(own, v)
	}
	return polymer.Books().With(own)
}

// wanted are the properties a grinding plan draws, and where they go.
var wanted = []struct {
	property polymer.Property
	param    estimate.Param
}{
	{polymer.Density, estimate.SolidDensity},
	{polymer.SpecificHeatSolid, estimate.SpecificHeat},
	{polymer.Softening, estimate.Softening},
	{polymer.BulkChips, estimate.GrainBulk},
	{polymer.BreakageResistance, estimate.Toughness},
}

// learnMaterial puts a polymer's book values into the beliefs.
func learnMaterial(b *estimate.Beliefs, p polymer.Polymer) error {
	for _, w := range wanted {
		v, err := p.Value(w.property)
		if err != nil {
			return err
		}
		one := &b[w.param]
		one.Median, one.Low, one.High, one.Source = v.Value, v.Low, v.High, v.Source
		one.FromUser = v.Figure().Basis == "you entered"
		one.Name += " " + p.Name
		if v.Low == v.High {
			one.Family = estimate.Exact
		}
	}
	return nil
}
