package polymer

import "testing"

func TestPairsOfTheTable(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		host, stray                string
		structural, visual, refuse float64
	}{
		{"PLA", "PETG", 0.01, 0.03, 0.05},
		{"petg", "pla", 0.01, 0.03, 0.05},
		{"PLA", "HDPE", 0.005, 0.01, 0.02}, // the stray in any host
		{"PETG", "PC", 0.05, 0.10, 0.20},
		{"PLA", "PVC", 0, 0, 0},
		{"PVC", "PLA", 0, 0, 0},
		{"PLA", "filled", 0.005, 0.02, 0.05},
		{"PC", "ASA", 0.005, 0.01, 0.02}, // no finding: as two that do not mix
		{"PLA", "PLA", 1, 1, 1},
		{"unknown", "unknown", 0, 0, 0},
	} {
		p, err := Books().Pair(c.host, c.stray)
		if err != nil {
			t.Error(err)
			continue
		}
		if p.Structural != c.structural || p.Visual != c.visual || p.Refuse != c.refuse || p.What == "" {
			t.Errorf("%s in %s: %+v", c.stray, c.host, p)
		}
	}
	for _, names := range [][2]string{{"PLX", "PLA"}, {"PLA", "PLX"}, {"filled", "PLA"}} {
		if _, err := Books().Pair(names[0], names[1]); err == nil {
			t.Errorf("%v: no error", names)
		}
	}
}

func TestEveryPairHasAnAnswer(t *testing.T) {
	t.Parallel()
	for _, host := range Names() {
		for _, stray := range append(Names(), Filled) {
			if _, err := Books().Pair(host, stray); err != nil {
				t.Error(err)
			}
		}
	}
}

// Hydrogen chloride leaves PVC from about 160 °C, far below any other melt
// window of the table: nothing here may be warmed with it.
func TestHazardsAreSaid(t *testing.T) {
	t.Parallel()
	each(t, func(p Polymer) {
		reason, refused := p.Refused()
		if refused != (p.Name == "PVC") {
			t.Errorf("%s: refused %v (%s)", p.Name, refused, reason.Code)
		}
		fumes := false
		for _, c := range p.Cautions() {
			fumes = fumes || c.Kind == Fumes
		}
		if !fumes {
			t.Errorf("%s: no word on fumes", p.Name)
		}
	})
	if (Polymer{}).Cautions() != nil {
		t.Error("a material out of nowhere has cautions")
	}
}
