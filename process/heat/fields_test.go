package heat

import (
	"testing"

	"hopperful/internal/checkrow"
)

// What the comments of the fields tell is what is taken and refused, at both ends.
func TestFieldsKeepTheirRanges(t *testing.T) {
	t.Parallel()
	pot := Pot{Wall: 1500, Exchange: 2, Loss: 0.75, ToCharge: 0.8, SpecificHeat: 1800, Layer: 0.1}
	checkrow.Fields(t, pot, func(p Pot) error { return p.Check() })
	checkrow.Fields(t, pot, func(p Pot) error { return p.Step(&State{300, 300}, &Account{}, Span{Room: room}) })
	checkrow.Fields(t, State{300, 310}, func(s State) error { return pot.Step(&s, &Account{}, Span{Room: room}) })
	checkrow.Fields(t, Span{Time: 1, Power: 1, From: 1, To: 1, Room: room}, Span.check)
	checkrow.Fields(t, Vessel{0.15, 0.2, 0.9}, func(v Vessel) error { _, err := LossConductance(v, 310, room); return err })
	checkrow.Fields(t, Part{1, 500}, func(p Part) error { _, err := WallCapacity(p); return err })
	for name, f := range map[string]func(float64) error{
		"to":   func(x float64) error { _, err := RestUntil(pot, 400, 350, x, 1); return err },
		"from": func(x float64) error { _, err := RestUntil(pot, x, 300, 250, 1); return err },
	} {
		checkrow.Range(t, "RestUntil "+name, 233.15, 673.15, f)
	}
	checkrow.Range(t, "lid of RestUntil", 1, 20, func(x float64) error { _, err := RestUntil(pot, 350, 300, room, x); return err })
	checkrow.Range(t, "lid of Rest", 1, 20, func(x float64) error { return pot.Rest(&State{300, 300}, &Account{}, 1, 0, room, x) })
	checkrow.Range(t, "load", 0, 1e9, func(x float64) error { _, _, err := CycleLoad(Load{1, x}); return err })
	checkrow.Range(t, "time of a load", 0, 1e9, func(x float64) error { _, _, err := CycleLoad(Load{x, 1}, Load{1, 1}); return err })
}
