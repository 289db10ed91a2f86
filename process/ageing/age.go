package ageing

// The age of a lot: shares by passes, and cut chains.

import (
	"hopperful/process"
)

const (
	mostPasses = 1000
	mostParts  = 1000
	mostCuts   = 10.0 // [mol/kg]; a hundred times what wet plastic could hold
	closes     = 1e-6 // shares that miss 1 by more are refused

	derived = "own derivation"
	judged  = "judgement"
)

// Age is how often the plastic of a lot went through a melt, and what water did
// to it there.
type Age struct {
	Shares []float64 // share by mass with 0, 1, 2, … passes [–], 0 to 1, together 1
	Cuts   float64   // chains cut by water so far [mol/kg], 0 to 10
}

// Virgin is plastic as its maker delivers it: the maker's own passes do not
// count.
func Virgin() Age { return Age{Shares: []float64{1}} }

// Passed is plastic of which every gram had n passes, 0 to 1000; for a lot
// nobody mixed.
//
// Errors: RangeError for another n.
func Passed(n int) (Age, error) {
	if err := process.Within("passes", float64(n), 0, mostPasses, "", judged); err != nil {
		return Age{}, err
	}
	a := Age{Shares: make([]float64, n+1)}
	a.Shares[n] = 1
	return a, nil
}

// Check refuses an age outside the ranges of its fields with a RangeError.
// Shares that do not add up to 1 are refused and not stretched.
func (a Age) Check() error {
	if err := process.Within("classes of passes", float64(len(a.Shares)), 1, mostPasses+1, "", judged); err != nil {
		return err
	}
	sum := 0.0
	for _, s := range a.Shares {
		if err := process.Within("share of a number of passes", s, 0, 1+closes, "", derived); err != nil {
			return err
		}
		sum += s
	}
	if err := process.Within("sum of the shares by passes", sum, 1-closes, 1+closes, "", derived); err != nil {
		return err
	}
	return process.Within("chains cut by water", a.Cuts, 0, mostCuts, "mol/kg", judged)
}

// Mean returns the mean number of passes [–]; a RangeError for an age that is
// none.
func (a Age) Mean() (float64, error) {
	if err := a.Check(); err != nil {
		return 0, err
	}
	return a.mean(), nil
}

func (a Age) mean() float64 {
	m := 0.0
	for n, s := range a.Shares {
		m += float64(n) * s
	}
	return m
}

// Beyond returns the share of plastic with more than k passes [–]; a RangeError
// for an age that is none.
func (a Age) Beyond(k int) (float64, error) {
	if err := a.Check(); err != nil {
		return 0, err
	}
	return a.beyond(k), nil
}

func (a Age) beyond(k int) float64 {
	sum := 0.0
	for n := max(0, k+1); n < len(a.Shares); n++ {
		sum += a.Shares[n]
	}
	return sum
}

// Oldest returns the least number of passes beyond which at most the given
// share [–], 0 to 1, of the plastic lies; 0 gives the oldest gram. A RangeError
// outside.
func (a Age) Oldest(share float64) (int, error) {
	if err := a.Check(); err != nil {
		return 0, err
	}
	if err := process.Within("share of the oldest plastic", share, 0, 1, "", derived); err != nil {
		return 0, err
	}
	beyond := 0.0
	for n := len(a.Shares) - 1; n > 0; n-- {
		if beyond += a.Shares[n]; beyond > share {
			return n, nil
		}
	}
	return 0, nil
}

// Melted returns the age after one more pass in which water cut chains
// [mol/kg], 0 to 10. A RangeError outside, or beyond 1000 passes.
func (a Age) Melted(cuts float64) (Age, error) {
	if err := a.Check(); err != nil {
		return Age{}, err
	}
	if err := process.Within("passes", float64(len(a.Shares)), 0, mostPasses, "", judged); err != nil {
		return Age{}, err
	}
	if err := process.Within("chains cut by water in a pass", cuts, 0, mostCuts-a.Cuts, "mol/kg", judged); err != nil {
		return Age{}, err
	}
	return Age{append([]float64{0}, a.Shares...), a.Cuts + cuts}, nil
}

// Part is some plastic of one age.
type Part struct {
	Age  Age
	Mass float64 // [kg], 0 or more
}

// Blend returns the age of a blend.
//
//	parts  what is blended, see its fields; together more than 0 kg
//
// Equation: each share, and the cut chains, weighed by mass.
// Holds for: any blend; it is exact.
// Source: own derivation.
// Errors: RangeError for no parts, no mass, or an age that is none.
// Checks: Blend rows of checks.csv (own derivation).
func Blend(parts ...Part) (Age, error) {
	if err := process.Within("parts of the blend", float64(len(parts)), 1, mostParts, "", judged); err != nil {
		return Age{}, err
	}
	total, classes := 0.0, 0
	for _, p := range parts {
		if err := process.Within("mass of a part", p.Mass, 0, 1e9, "kg", judged); err != nil {
			return Age{}, err
		}
		if err := p.Age.Check(); err != nil {
			return Age{}, err
		}
		total += p.Mass
		if p.Mass > 0 {
			classes = max(classes, len(p.Age.Shares))
		}
	}
	if err := process.Above("mass of the blend", total, 0, "kg", derived); err != nil {
		return Age{}, err
	}
	out := Age{Shares: make([]float64, classes)}
	for _, p := range parts {
		if p.Mass == 0 {
			continue
		}
		w := p.Mass / total
		for n, s := range p.Age.Shares {
			out.Shares[n] += w * s
		}
		out.Cuts += w * p.Age.Cuts
	}
	return out, nil
}
