package recipe

// From shares to masses that can be weighed, and the true values of those. What
// a recipe claims comes from here and never from the linear program.

import (
	"math"
)

const (
	dust     = 1e-9 // a share below this is rounding
	massSlip = 1e-9 // relative rounding allowed in a mass
	meanSlip = 1e-8 // rounding allowed in a mean, relative to how far the lots lie from the limit
)

// weigh turns shares of the lots of a model into masses: whole steps, no more
// than the stock, the mass wanted. It answers false where rounding cannot meet
// the mass.
func (m *model) weigh(w []float64) ([]Use, bool) {
	uses, rest := m.portions(w)
	if m.elastic {
		return uses, true
	}
	m.p.fixSteps(uses, rest)
	return uses, m.p.fixMass(uses)
}

// portions rounds each share; rest is what rounding left out [kg].
func (m *model) portions(w []float64) (uses []Use, rest []float64) {
	for k, i := range m.lots {
		l := m.p.Lots[i]
		if w[k] < dust && m.lo[k] == 0 {
			continue
		}
		u := Use{Lot: i, Mass: w[k] * m.p.Mass}
		wanted := u.Mass
		if l.Step > 0 {
			u.Steps = int(math.Round(wanted / l.Step))
			u.Mass = float64(u.Steps) * l.Step
		} else {
			u.Mass = min(max(u.Mass, l.smallest()), l.Stock)
		}
		uses, rest = append(uses, u), append(rest, wanted-u.Mass)
	}
	return uses, rest
}

// fixSteps adds or takes single steps, where rounding lost most first, until
// the mass is met as nearly as steps can.
func (p *Problem) fixSteps(uses []Use, rest []float64) {
	for range len(uses) {
		short := p.short(uses)
		best := -1
		var gain float64
		var way int
		for k, u := range uses {
			step := p.Lots[u.Lot].Step
			if step == 0 {
				return // any mass will do for this lot: it takes up the rest
			}
			for _, d := range [...]int{1, -1} {
				n := u.Steps + d
				mass := float64(n) * step
				if float64(d)*short <= massSlip*p.Mass || mass < p.Lots[u.Lot].smallest() || mass > p.Lots[u.Lot].upTo(math.Inf(1)) {
					continue
				}
				if g := float64(d) * rest[k] / step; best < 0 || g > gain {
					best, gain, way = k, g, d
				}
			}
		}
		if best < 0 {
			return
		}
		step := p.Lots[uses[best].Lot].Step
		uses[best].Steps += way
		uses[best].Mass = float64(uses[best].Steps) * step
		rest[best] -= float64(way) * step
	}
}

// fixMass lets lots of any mass take up what is missing, the greatest first, and
// judges the mass.
func (p *Problem) fixMass(uses []Use) bool {
	for range len(uses) {
		short := p.short(uses)
		if short == 0 {
			break
		}
		best := -1
		for k, u := range uses {
			l := p.Lots[u.Lot]
			if to := u.Mass + short; l.Step == 0 && to >= max(l.smallest(), l.Must) && to <= l.Stock && (best < 0 || u.Mass > uses[best].Mass) {
				best = k
			}
		}
		if best < 0 {
			break
		}
		uses[best].Mass += short
	}
	return math.Abs(p.short(uses)) <= massSlip*p.Mass
}

// short is what a blend lacks to the nearer edge of the masses allowed [kg],
// below 0 where it is too much.
func (p *Problem) short(uses []Use) float64 {
	missing := p.Mass - total(uses)
	if missing > 0 {
		return max(0, missing-p.Slack)
	}
	return min(0, missing+p.Slack)
}

func total(uses []Use) float64 {
	var sum float64
	for _, u := range uses {
		sum += u.Mass
	}
	return sum
}

// mean is the mean of a property over a blend.
func (l Limit) mean(uses []Use) float64 {
	var sum, mass float64
	for _, u := range uses {
		sum += l.Of[u.Lot] * u.Mass
		mass += u.Mass
	}
	return sum / mass
}

// slip is the rounding allowed at a side of a limit.
func (l Limit) slip(uses []Use, side float64) float64 {
	var far float64
	for _, u := range uses {
		far = max(far, math.Abs(l.Of[u.Lot]-side))
	}
	return meanSlip * far
}

// kept reports whether a blend keeps the limit.
func (l Limit) kept(uses []Use) bool {
	v := l.mean(uses)
	return (math.IsInf(l.Hi, 1) || v <= l.Hi+l.slip(uses, l.Hi)) && (math.IsInf(l.Lo, -1) || v >= l.Lo-l.slip(uses, l.Lo))
}

// certify makes a recipe of masses, by true values, or answers false when they
// break a condition.
func (t *task) certify(uses []Use) (*Recipe, bool) {
	p := t.p
	if p.Most > 0 && len(uses) > p.Most || len(uses) == 0 {
		return nil, false
	}
	r := &Recipe{Uses: uses, Mass: total(uses)}
	for _, u := range uses {
		l := p.Lots[u.Lot]
		if u.Mass > l.Stock*(1+massSlip) || u.Mass < max(l.Must, l.smallest())*(1-massSlip) {
			return nil, false
		}
		r.Cost += l.Cost * u.Mass
	}
	for _, l := range p.Limits {
		if !l.kept(uses) {
			return nil, false
		}
		v := l.mean(uses)
		r.Limits = append(r.Limits, Reading{Value: v, Room: max(0, min(v-l.Lo, l.Hi-v))})
	}
	for k, c := range p.Curves {
		v := t.curveOnly(k, uses)
		if !(v <= c.Limit) {
			return nil, false
		}
		r.Cost += c.Weight * v
		r.Curves = append(r.Curves, Reading{Value: v, Room: c.Limit - v})
	}
	return r, true
}
