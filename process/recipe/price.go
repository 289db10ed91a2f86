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
	m := newModel(t.p, lotsOf(r.Uses), plain)
	for k := range m.lots {
		m.lo[k] = max(m.lo[k], m.least[k])
		m.program.Lo[k] = m.lo[k]
	}
	s, err := t.newSearch(m, nil, 1)
	if err != nil {
		return err
	}
	root := &node{bound: math.Inf(-1), basis: m.crash()}
	for round := 0; ; round++ {
		ok, err := s.relaxOnce(root)
		if err != nil || !ok { // a cut that need not hold: no price
			return err
		}
		again := false
		if len(t.p.Curves) > 0 && round < cutsLeaf {
			if again, err = s.refine(s.exact(s.solver.Values()[:len(m.lots)], nil, false)); err != nil {
				return err
			}
		}
		if !again {
			break
		}
	}
	m.readPrices(s.solver, r)
	return nil
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
