package sieving

import (
	"slices"

	"hopperful/answer"
	"hopperful/process/sieve"
	"hopperful/shop"
)

// Which sieves to put up for a mill's product, when nobody has said: they stand
// around the hole of its screen, from one grains should not lie on down to dust.

const (
	// mostUsual is how many sieves a stack carries at ease beside its pan.
	// Common practice, no source.
	mostUsual = 8
	// overHole times the hole is the coarsest sieve: product of a sound screen
	// leaves it empty. Judgement.
	overHole = 1.3
	// unknownHole is a screen nobody has described [m]. Judgement.
	unknownHole = 3e-3
)

// UsualStack are the sieves that suit the mill a lot came out of, or without one
// the first mill in use whose screen is known, the coarsest first. They are of
// ISO 3310-1 R 20/3.
func UsualStack(s *shop.State, lot shop.LotID) []sieve.Sieve {
	return aroundHole(holeOf(s, lot))
}

// holeOf is the hole of the screen that lot went through [m].
func holeOf(s *shop.State, lot shop.LotID) float64 {
	for _, r := range slices.Backward(s.RecordsOf([]shop.LotID{lot}, (*shop.Ground)(nil))) {
		g, ok := r.Body.(*shop.Ground)
		if !ok || g.Into != lot {
			continue
		}
		if g.Hole != nil {
			return *g.Hole
		}
		if m, ok := s.Mill(g.Mill); ok && m.Screen.Hole != nil {
			return *m.Screen.Hole
		}
		break
	}
	for _, m := range s.ActiveMills() {
		if m.Screen.Hole != nil {
			return *m.Screen.Hole
		}
	}
	return unknownHole
}

// aroundHole takes the sieves from above the hole down to where dust begins. Are
// they too many, every second of those below the hole stays out, from below.
func aroundHole(hole float64) []sieve.Sieve {
	series := sieve.Openings(sieve.R20x3)
	top := 0
	for top+1 < len(series) && series[top+1].Opening >= overHole*hole {
		top++
	}
	end := top + 1
	for end < len(series) && (series[end].Opening >= answer.FinesLimit || end < top+3) {
		end++
	}
	list := slices.Clone(series[top:end])
	for i := len(list) - 2; i > 1 && len(list) > mostUsual; i -= 2 {
		list = slices.Delete(list, i, i+1)
	}
	return list
}
