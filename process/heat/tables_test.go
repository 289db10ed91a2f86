package heat

import (
	"math"
	"testing"
)

// The metals against a second source: heat per mole of atoms is 3 R = 24.9 J/(mol K) for
// every metal near room temperature (Dulong and Petit's law, within an eighth), and the
// density is that of its chief element within a tenth; molar masses and densities of the
// elements from memory.
func TestMetalsFollowTheirElements(t *testing.T) {
	t.Parallel()
	molar := map[string][2]float64{ // kg/mol, kg/m³
		"carbon steel": {0.0558, 7870}, "stainless steel": {0.0552, 7900}, "cast iron": {0.0530, 7300}, "aluminium": {0.02698, 2700}, "brass": {0.0642, 8450}, "copper": {0.06355, 8960},
	}
	seen := 0
	for _, m := range Metals {
		e, ok := molar[m.Name]
		if !ok { // a plastic, between the lightest and the heaviest of those a housing is made of
			if m.SpecificHeat < 1000 || m.SpecificHeat > 2300 || m.Density < 900 || m.Density > 1450 {
				t.Errorf("%+v", m)
			}
			continue
		}
		seen++
		if got := m.SpecificHeat * e[0] / (3 * 8.314463); math.Abs(got-1) > 0.125 {
			t.Errorf("%s: %.3f times the heat of Dulong and Petit", m.Name, got)
		}
		if math.Abs(m.Density/e[1]-1) > 0.1 {
			t.Errorf("%s: %g kg/m³", m.Name, m.Density)
		}
	}
	if seen != len(molar) {
		t.Errorf("%d of %d metals", seen, len(molar))
	}
}
