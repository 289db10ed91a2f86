package recipe

// Curves that are not convex: a colour difference is the length of a few
// differences, each nearly straight in the masses. Straightened at an anchor, a
// blend near the wanted colour, the length is convex and the tree can work; the
// true value certifies, and the anchor moves on to what was found.

import (
	"fmt"
	"math"
)

// anchor is the straightened differences of a curve: base + slope·x.
type anchor struct {
	base  []float64
	slope [][]float64 // one slice a difference, one number a lot
}

const (
	anchorMoves = 12 // steps towards the smallest g
	polishMoves = 6  // steps to a recipe's own anchor
	anchorTrees = 3  // trees grown, each at the anchor of the best recipe so far
)

// straighten makes the anchor of curve k at a blend.
func (t *task) straighten(k int, uses []Use) *anchor {
	c := t.p.Curves[k]
	a := &anchor{base: make([]float64, c.Parts), slope: make([][]float64, c.Parts)}
	for r := range a.slope {
		a.slope[r] = make([]float64, len(t.p.Lots))
	}
	t.spread(uses, func() { c.Differences(t.x, a.base, a.slope) })
	for r, s := range a.slope {
		for _, u := range uses {
			a.base[r] -= s[u.Lot] * u.Mass
		}
		for i, v := range s {
			if !finite(v) || !finite(a.base[r]) {
				t.fault = fmt.Errorf("curved limit %d: difference %d or its slope for lot %d is not finite at a blend of %d lots; it must be wherever there is mass", k, r, i, len(uses))
				return a
			}
		}
	}
	return a
}

// spread sets t.x to a blend while f runs.
func (t *task) spread(uses []Use, f func()) {
	for _, u := range uses {
		t.x[u.Lot] = u.Mass
	}
	f()
	for _, u := range uses {
		t.x[u.Lot] = 0
	}
}

// length is what the anchor takes g to be at a blend; it fills slope.
func (a *anchor) length(uses []Use, slope []float64) float64 {
	var sum float64
	part := make([]float64, len(a.base))
	for r, s := range a.slope {
		part[r] = a.base[r]
		for _, u := range uses {
			part[r] += s[u.Lot] * u.Mass
		}
		sum += part[r] * part[r]
	}
	far := math.Sqrt(sum)
	clear(slope)
	if far == 0 {
		return 0
	}
	for r, s := range a.slope {
		for i, v := range s {
			slope[i] += part[r] / far * v
		}
	}
	return far
}

// modelled is what the tree takes curve k to be: the anchor's length where
// there is one, else its value.
func (t *task) modelled(k int, uses []Use) float64 {
	if a := t.anchors[k]; a != nil {
		return a.length(uses, t.slope)
	}
	return t.curveAt(k, uses)
}

// anchorAt straightens every curve that has differences at a blend; cuts made
// before are void.
func (t *task) anchorAt(uses []Use) {
	t.cuts = nil
	for k, c := range t.p.Curves {
		if c.Parts > 0 && !c.Convex && len(uses) > 0 {
			t.anchors[k] = t.straighten(k, uses)
		}
	}
}

// anchored reports whether any curve is worked on by an anchor.
func (p *Problem) anchored() bool {
	for _, c := range p.Curves {
		if c.Parts > 0 && !c.Convex {
			return true
		}
	}
	return false
}

// settleAnchors looks for the blend that keeps the linear limits and has the
// smallest g, by straightening and going as far as the true g falls.
func (t *task) settleAnchors() error {
	q := t.p.free()
	eachLot(func(l *Lot) { l.Least, l.Step = 0, 0 })(&q)
	q.Most = 0
	for k := range q.Curves {
		q.Curves[k].Limit, q.Curves[k].Weight = math.Inf(1), 1
	}
	sub := newTask(t.ctx, &q, t.o)
	defer func() { t.nodes += sub.nodes; t.pivots += sub.pivots }()
	at, ok, err := sub.settle(newModel(&q, q.usable(), plain), 0)
	if err != nil || !ok {
		return err
	}
	value := sub.sumOfCurves(at)
	for range anchorMoves {
		sub.anchorAt(at)
		if sub.fault != nil {
			return sub.fault
		}
		to, ok, err := sub.settle(newModel(&q, q.usable(), plain), cutsRoot)
		if err != nil || !ok {
			return err
		}
		next, best := at, value
		for _, way := range [...]float64{1, 0.5, 0.25, 0.1} {
			part := between(at, to, way)
			if v := sub.sumOfCurves(part); v < best {
				next, best = part, v
			}
		}
		if sub.fault != nil {
			return sub.fault
		}
		done := best > 0.99*value
		at, value = next, best
		if done {
			break
		}
	}
	t.anchorAt(at)
	return t.fault
}

func (t *task) sumOfCurves(uses []Use) float64 {
	var sum float64
	for k := range t.p.Curves {
		sum += t.curveOnly(k, uses)
	}
	return sum
}

// between is the blend a part of the way from one to another, both by index.
func between(from, to []Use, way float64) []Use {
	var out []Use
	for len(from) > 0 || len(to) > 0 {
		switch {
		case len(to) == 0 || len(from) > 0 && from[0].Lot < to[0].Lot:
			out = append(out, Use{Lot: from[0].Lot, Mass: (1 - way) * from[0].Mass})
			from = from[1:]
		case len(from) == 0 || to[0].Lot < from[0].Lot:
			out = append(out, Use{Lot: to[0].Lot, Mass: way * to[0].Mass})
			to = to[1:]
		default:
			out = append(out, Use{Lot: to[0].Lot, Mass: way*to[0].Mass + (1-way)*from[0].Mass})
			from, to = from[1:], to[1:]
		}
	}
	return out
}

// polish moves a blend to its own anchor, with the same lots, and offers what
// comes out. It answers whether any of it is a recipe.
func (s *search) polish(uses []Use) (bool, error) {
	t := s.t
	anchors, cuts := append([]*anchor(nil), t.anchors...), t.cuts
	defer func() { t.anchors, t.cuts = anchors, cuts }()
	found := false
	last := math.Inf(1)
	for range polishMoves {
		t.anchorAt(uses)
		if t.fault != nil {
			return false, t.fault
		}
		m := newModel(t.p, lotsOf(uses), plain)
		m.allIn()
		at, ok, err := t.settle(m, cutsLeaf)
		if err != nil || !ok {
			return found, err
		}
		w := make([]float64, len(m.lots))
		for k, j := 0, 0; k < len(m.lots) && j < len(at); k++ {
			if at[j].Lot == m.lots[k] {
				w[k], j = at[j].Mass/t.p.Mass, j+1
			}
		}
		weighed, ok := m.weigh(w)
		if !ok {
			return found, nil
		}
		found = s.offer(weighed) || found
		moved := distance(uses, weighed)
		if moved < 1e-6*t.p.Mass || moved > 0.9*last {
			return found, nil
		}
		uses, last = weighed, moved
	}
	return found, nil
}

// distance is how much mass differs between blends of the same lots.
func distance(a, b []Use) float64 {
	if len(a) != len(b) {
		return math.Inf(1)
	}
	var sum float64
	for k := range a {
		sum += math.Abs(a[k].Mass - b[k].Mass)
	}
	return sum
}
