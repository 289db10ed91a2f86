package polymer

import (
	"math"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/process/moisture"
)

func TestHeatChecks(t *testing.T) {
	t.Parallel()
	checkrow.Run(t, "checks.csv", map[string]checkrow.Func{
		"HeatToMelt": func(in checkrow.Inputs) ([]float64, error) {
			h, err := HeatToMelt(Melting{
				From: in.Num("from"), To: in.Num("to"), Turn: in.Num("turn"),
				SolidHeat: in.Num("solid"), MeltHeat: in.Num("melt"),
				Crystallinity: in.Num("crystals"), Fusion: in.Num("fusion"),
			})
			return []float64{h}, err
		},
		"Water": waterHeld,
	})
}

// Heat to go there in two steps is the heat to go there in one.
func TestHeatAddsUp(t *testing.T) {
	t.Parallel()
	for _, name := range Names() {
		p, err := Find(name)
		if err != nil {
			t.Fatal(err)
		}
		if p.Name == "PVC" || p.Name == "PVA" {
			continue // no specific heat of a melt that must not be, or that chars
		}
		heat := func(from, to float64) float64 {
			m, err := p.Melting(from, to)
			if err != nil {
				t.Fatal(err)
			}
			h, err := HeatToMelt(m)
			if err != nil {
				t.Fatal(err)
			}
			return h
		}
		whole := heat(293.15, 500)
		for _, stop := range []float64{300, 340, 372, 420, 450, 499} {
			if sum := heat(293.15, stop) + heat(stop, 500); math.Abs(sum-whole) > 1e-9*whole {
				t.Errorf("%s by way of %g K: %g, straight: %g J/kg", name, stop, sum, whole)
			}
		}
	}
}

// The usual printing plastics take 0.09 to 0.17 kWh/kg from the room to the
// nozzle (own reckoning from the same kind of data, other figures than here).
func TestHeatToPrintIsUsual(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]float64{ // kWh/kg
		"PETG": 0.105, "ABS": 0.119, "PP": 0.144, "PE-HD": 0.167, "PA6": 0.138, "PC": 0.113,
	} {
		p, err := Find(name)
		if err != nil {
			t.Fatal(err)
		}
		nozzle := map[string]float64{"PETG": 240, "ABS": 240, "PP": 220, "PE-HD": 210, "PA6": 260, "PC": 280}[name]
		m, err := p.Melting(zero+20, zero+nozzle)
		if err != nil {
			t.Fatal(err)
		}
		h, err := HeatToMelt(m)
		if err != nil {
			t.Fatal(err)
		}
		if got := h / 3.6e6; math.Abs(got-want) > 0.008 {
			t.Errorf("%s: %.3f kWh/kg, want %.3f ± 0.008 (specific heat of the melt is known to 10 %%)", name, got, want)
		}
	}
}

// waterHeld is what the table and the uptake curve say a plastic holds in air.
func waterHeld(in checkrow.Inputs) ([]float64, error) {
	p, err := Find(in.Word("polymer"))
	if err != nil {
		return nil, err
	}
	room, err := p.Value(WaterRoom)
	if err != nil {
		return nil, err
	}
	full, err := p.Value(WaterSaturated)
	if err != nil {
		return nil, err
	}
	w, err := moisture.EquilibriumWater(moisture.Sorption{Room: room.Value, Saturated: full.Value}, in.Num("rh"))
	return []float64{w}, err
}
