package grains

import (
	"math"

	"hopperful/fact"
	"hopperful/plan/sieving"
	"hopperful/process/grain"
	"hopperful/quantity"
	"hopperful/shop"
)

// Where nobody measured yet: usual granulate. Judgement.
const (
	usualMiddle = 1e-3 // m
	usualSpread = 1.6  // geometric standard deviation
)

// Needed says how much of a lot to spread for d50 within 5 %, by its last analysis;
// of usual granulate where there is none.
func Needed(s *shop.State, lot shop.LotID, sheet grain.Sheet) (fact.Saying, error) {
	middle := usualMiddle
	if all := s.Sievings(lot); len(all) > 0 {
		if d50, ok := middleOf(s, all[0].ID); ok {
			middle = d50
		}
	}
	density, err := sieving.DensityOf(s, lot)
	if err != nil {
		return fact.Saying{}, err
	}
	n, err := grain.GrainsNeeded(usualSpread, 0.5, wanted)
	if err != nil {
		return fact.Saying{}, err
	}
	need, err := grain.SampleNeeded(n, usualSpread, middle)
	if err != nil {
		return fact.Saying{}, err
	}
	return fact.Say("grains.spread", fact.Count("n", int(math.Ceil(need.Area/(sheet.W*sheet.H)))), fact.About("grains", quantity.Number, n),
		fact.About("size", quantity.Length, middle), fact.About("mass", quantity.Mass, need.Volume*density.Value)), nil
}
