package reckon_test

import (
	"testing"

	"hopperful/plan/reckon"
)

// One flow through one nozzle asks for one pressure, with the loss at its mouth,
// whichever calculator is asked.
func TestOnePressureForOneFlow(t *testing.T) {
	t.Parallel()
	for _, material := range []string{"PLA", "PETG", "ABS"} {
		var seen []float64
		for _, topic := range []string{"nozzle", "screw"} {
			a, err := reckon.Answer(nil, topic, reckon.Given{Words: map[string]string{"material": material}, Numbers: map[string]float64{"flow": 4e-9}})
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range a.Figures {
				if f.Key == map[string]string{"nozzle": "pressure", "screw": "pressure_at"}[topic] {
					seen = append(seen, f.Value, f.Low, f.High)
					if !(f.Low < f.Value && f.Value < f.High) {
						t.Errorf("%s, %s: %g is not inside %g to %g", topic, material, f.Value, f.Low, f.High)
					}
				}
			}
		}
		if len(seen) != 6 || seen[0] != seen[3] || seen[1] != seen[4] || seen[2] != seen[5] {
			t.Errorf("%s: %v", material, seen)
		}
	}
}
