package recipe

// The nearest possible: the blend that breaks mass and limits as little as can
// be, while stock, steps, least amounts and the number of lots are kept.

import "math"

const nearestNodes = 500

// nearest finds it, or as near as the nodes allow.
func (t *task) nearest() (*Nearest, error) {
	lots := t.p.usable()
	if len(lots) == 0 {
		return t.measure(nil), nil
	}
	t.cuts = nil
	s, err := t.newSearch(newModel(t.p, lots, elastic), nil, nearestNodes)
	if err != nil {
		return nil, err
	}
	if err := s.run(); err != nil {
		return nil, err
	}
	return t.measure(s.uses), nil
}

// nearestCurves keeps everything but the curves, and goes as near to them as it
// can; nil where that finds nothing. It may be a recipe that was overlooked.
func (t *task) nearestCurves() ([]Use, error) {
	if len(t.p.Curves) == 0 {
		return nil, nil
	}
	q := t.p.free()
	const near = 0.01 // of the limit
	for k := range q.Curves {
		c := &q.Curves[k]
		c.Limit, c.Weight = math.Inf(1), 1/curveScale(*c)
	}
	sub := newTask(t.ctx, &q, Options{Recipes: 1, Nodes: min(t.o.Nodes/2+1, nearestNodes), Gap: 1e-3, Near: near})
	defer func() { t.nodes += sub.nodes; t.pivots += sub.pivots }()
	r, err := sub.first()
	if err != nil || r == nil {
		return nil, err
	}
	return r.Uses, nil
}

// first is the best recipe alone, nil where none is found.
func (t *task) first() (*Recipe, error) {
	if t.p.anchored() {
		if err := t.settleAnchors(); err != nil {
			return nil, err
		}
	}
	root, err := t.relax()
	if err != nil {
		return nil, err
	}
	f, _, err := t.findAnchored(root, nil)
	return f.best, err
}

// measure says by how much a blend misses.
func (t *task) measure(uses []Use) *Nearest {
	p := t.p
	n := &Nearest{Uses: uses, Mass: total(uses), Over: make([]float64, len(p.Limits)), Curves: make([]float64, len(p.Curves))}
	n.Short = p.Mass - n.Mass
	if math.Abs(n.Short) <= p.Slack+massSlip*p.Mass {
		n.Short = 0
	}
	if n.Mass == 0 {
		return n
	}
	for k, l := range p.Limits {
		if l.kept(uses) {
			continue
		}
		if v := l.mean(uses); v > l.Hi {
			n.Over[k] = v - l.Hi
		} else {
			n.Over[k] = v - l.Lo
		}
	}
	for k, c := range p.Curves {
		n.Curves[k] = max(0, t.curveOnly(k, uses)-c.Limit)
	}
	return n
}
