package recipe

// How a node is divided when its solution is no recipe.

import "math"

// divide returns the ways to go on, each a list of changes, the most promising
// first; whole is true when the shares w are a recipe as they stand.
func (s *search) divide(w []float64) (ways [][]change, whole bool) {
	if k := s.tooMany(w); k >= 0 {
		return s.inOrOut(k, true), false
	}
	if k := s.tooLittle(w); k >= 0 {
		return s.inOrOut(k, 2*w[k] > s.m.least[k]), false
	}
	if k := s.broken(w); k >= 0 {
		return s.lessOrMore(k, w[k]), false
	}
	if set := s.repeated(w); set != nil {
		return s.withoutOne(set), false
	}
	return nil, true
}

// tooMany picks the lot to decide on when more lots are used than may be: the
// one with the greatest share of those not yet in. −1 when they are few enough.
func (s *search) tooMany(w []float64) int {
	used, pick := 0, -1
	for k, v := range w {
		switch {
		case s.in[k]:
			used++
		case v > dust:
			used++
			if pick < 0 || v > w[pick] {
				pick = k
			}
		}
	}
	if s.t.p.Most == 0 || used <= s.t.p.Most {
		return -1
	}
	return pick
}

// tooLittle picks a lot used, but below its least amount.
func (s *search) tooLittle(w []float64) int {
	pick, worst := -1, 0.0
	for k, v := range w {
		if v <= dust || s.lo[k] > 0 {
			continue
		}
		if lack := min(v, s.m.least[k]-v); lack > dust && lack > worst {
			pick, worst = k, lack
		}
	}
	return pick
}

// broken picks the lot furthest from a whole number of steps.
func (s *search) broken(w []float64) int {
	pick, worst := -1, 1e-6
	for k, v := range w {
		if s.m.step[k] == 0 || v <= dust {
			continue
		}
		n := v / s.m.step[k]
		if off := math.Abs(n - math.Round(n)); off > worst {
			pick, worst = k, off
		}
	}
	return pick
}

// repeated finds a set to avoid that is used whole.
func (s *search) repeated(w []float64) []int {
next:
	for _, set := range s.avoid {
		for _, k := range set {
			if w[k] <= dust {
				continue next
			}
		}
		return set
	}
	return nil
}

// spoils reports whether a blend uses a set to avoid whole.
func (s *search) spoils(uses []Use) bool {
	w := make([]float64, len(s.m.lots))
	if len(s.avoid) == 0 {
		return false
	}
	at := 0
	for k, i := range s.m.lots {
		for at < len(uses) && uses[at].Lot < i {
			at++
		}
		if at < len(uses) && uses[at].Lot == i {
			w[k] = 1
		}
	}
	return s.repeated(w) != nil
}

func (s *search) inOrOut(k int, inFirst bool) [][]change {
	in := []change{{lot: k, lo: s.m.least[k], hi: s.hi[k], in: true}}
	out := []change{{lot: k, hi: 0}}
	if inFirst {
		return [][]change{in, out}
	}
	return [][]change{out, in}
}

func (s *search) lessOrMore(k int, v float64) [][]change {
	step := s.m.step[k]
	n := math.Floor(v/step + 1e-6)
	less := change{lot: k, hi: n * step}
	if less.hi < s.m.least[k]*(1-almost) {
		less.hi = 0
	}
	more := change{lot: k, lo: max((n+1)*step, s.m.least[k]), hi: s.hi[k], in: true}
	if v/step-n < 0.5 {
		return [][]change{{less}, {more}}
	}
	return [][]change{{more}, {less}}
}

// withoutOne divides by the first lot of a set that is left out; those before
// it are in. Lots that must be used cannot be left out.
func (s *search) withoutOne(set []int) [][]change {
	var ways [][]change
	var in []change
	for _, k := range set {
		if s.lo[k] == 0 {
			ways = append(ways, append(in[:len(in):len(in)], change{lot: k, hi: 0}))
		}
		in = append(in, change{lot: k, lo: s.m.least[k], hi: s.hi[k], in: true})
	}
	return ways
}
