package plan

import (
	"hopperful/estimate"
	"hopperful/polymer"
)

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
		one.About = p.Name
		if v.Low == v.High {
			one.Family = estimate.Exact
		}
	}
	return nil
}
