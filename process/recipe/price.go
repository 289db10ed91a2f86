package recipe

// What the limits of a recipe cost: the linear program over its own lots, steps
// left aside.

import (
	"math"

	"hopperful/process/recipe/simplex"
)

// price fills in the prices of a recipe. They hold for its lots; what another
// choice of lots would give only another solve tells.
func (t *task) price(r *Recipe) error {
	if t.p.anchored() {
		t.anchorAt(r.Uses)
	}
	m := newModel(t.p, lotsOf(r.Uses), plain)
	m.allIn()
	s, ok, err := t.settled(m, cutsLeaf)
	if err != nil || !ok { // a cut that need not hold: no price
		return err
	}
	m.readPrices(s.solver, r)
	return nil
}

// allIn puts every lot of the model into the recipe.
func (m *model) allIn() {
	for k := range m.lots {
		m.lo[k] = max(m.lo[k], m.least[k])
		m.program.Lo[k] = m.lo[k]
	}
}

// settled solves one model without dividing it, with rounds of cuts.
func (t *task) settled(m *model, rounds int) (*search, bool, error) {
	s, err := t.newSearch(m, nil, 1)
	if err != nil {
		return nil, false, err
	}
	root := &node{bound: math.Inf(-1), basis: m.crash()}
	for round := 0; ; round++ {
		ok, err := s.relaxOnce(root)
		if err != nil || !ok {
			return s, false, err
		}
		if len(t.p.Curves) == 0 || round >= rounds {
			return s, true, nil
		}
		again, err := s.refine(s.exact(s.solver.Values()[:len(m.lots)], nil, false))
		if err != nil || !again {
			return s, err == nil, err
		}
		root.basis = s.solver.Basis()
	}
}

// settle is settled, for the blend alone.
func (t *task) settle(m *model, rounds int) ([]Use, bool, error) {
	if len(m.lots) == 0 {
		return nil, false, nil
	}
	s, ok, err := t.settled(m, rounds)
	if err != nil || !ok {
		return nil, false, err
	}
	return s.exact(s.solver.Values()[:len(m.lots)], nil, false), true, nil
}

// readPrices carries the prices of rows and bounds over to the recipe.
func (m *model) readPrices(s *simplex.Solver, r *Recipe) {
	perShare := 0.0
	for i, row := range m.program.Rows {
		y := clean(s.Price(i))
		k := m.limit[i]
		switch {
		case i == 0:
			perShare += y
		case k >= 0:
			r.Limits[k].Price += y * m.unit
			if y > 0 { // a lower side; its bound grows with the mass too
				perShare += y * row.Lo
			}
		}
	}
	r.PerKG = perShare * m.unit / m.p.Mass
	d := s.Reduced()
	for k := range r.Uses {
		r.Uses[k].Price = min(0, clean(d[k])) * m.unit / m.p.Mass
	}
	for k := range r.Curves {
		r.Curves[k].Price = min(0, clean(d[m.curve+k])) * m.unit / curveScale(m.p.Curves[k])
	}
}

// clean makes rounding zero.
func clean(v float64) float64 {
	if math.Abs(v) < 1e-9 {
		return 0
	}
	return v
}
