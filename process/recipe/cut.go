package recipe

// Curved limits as linear cuts: g(x₀) + ∇g(x₀)·(x − x₀) ≤ t. For a convex g the
// cut holds for every x; for another it is the successive linearisation.

import (
	"fmt"
	"math"

	"hopperful/process/recipe/simplex"
)

const (
	keptCuts = 48 // rows of cuts in a program; the oldest makes room
	cutsRoot = 30 // rounds of cuts at the root of a search
	cutsLeaf = 40 // rounds of cuts at a recipe
)

// cut is Σ slope x − g ≤ right over all lots of the problem, masses in kg.
type cut struct {
	curve int
	slope []float64
	right float64
}

// curveAt evaluates curve k at a blend and leaves its slopes in t.slope.
func (t *task) curveAt(k int, uses []Use) float64 {
	clear(t.slope)
	return t.curveInto(k, uses, t.slope)
}

// curveOnly evaluates curve k at a blend without its slopes.
func (t *task) curveOnly(k int, uses []Use) float64 { return t.curveInto(k, uses, nil) }

func (t *task) curveInto(k int, uses []Use, slope []float64) float64 {
	var v float64
	t.spread(uses, func() { v = t.p.Curves[k].Value(t.x, slope) })
	if !finite(v) {
		t.fault = fmt.Errorf("curved limit %d: its value is %g at a blend of %d lots; it must be finite wherever there is mass", k, v, len(uses))
		return math.Inf(1)
	}
	return v
}

func finite(v float64) bool { return math.Abs(v) <= math.MaxFloat64 }

// cutAt makes the cut of curve k at a blend.
func (t *task) cutAt(k int, uses []Use, v float64) cut {
	c := cut{curve: k, slope: make([]float64, len(t.slope)), right: -v}
	copy(c.slope, t.slope)
	for _, u := range uses {
		c.right += c.slope[u.Lot] * u.Mass
	}
	for i, s := range c.slope {
		if !finite(s) {
			t.fault = fmt.Errorf("curved limit %d: its slope for lot %d is %g; it must be finite wherever there is mass", k, i, s)
			c.slope[i] = 0
		}
	}
	return c
}

// row is a cut as a row of a model.
func (m *model) row(c cut) simplex.Row {
	scale := curveScale(m.p.Curves[c.curve])
	r := simplex.Row{Coef: make([]float64, len(m.program.Cost)), Lo: math.Inf(-1), Hi: c.right / scale}
	for k, i := range m.lots {
		r.Coef[k] = c.slope[i] * m.p.Mass / scale
	}
	r.Coef[m.curve+c.curve] = -1
	if m.elastic {
		r.Coef[m.curve+len(m.p.Curves)+c.curve] = -1
	}
	return r
}

// believed is what a solution of the program takes g of curve k to be.
func (m *model) believed(values []float64, k int) float64 {
	v := values[m.curve+k]
	if m.elastic {
		v += values[m.curve+len(m.p.Curves)+k]
	}
	return v * curveScale(m.p.Curves[k])
}

// refine compares every curve, as the tree takes it to be, with what the program believes of it and adds a
// cut where it believes too little. It answers whether there was one.
func (s *search) refine(uses []Use) (bool, error) {
	added := false
	if len(uses) == 0 {
		return false, nil
	}
	for k, c := range s.m.p.Curves {
		v := s.t.modelled(k, uses)
		if s.t.fault != nil {
			return false, s.t.fault
		}
		scale := curveScale(c)
		if c.Weight == 0 && v <= c.Limit || v <= s.m.believed(s.solver.Values(), k)+0.5e-6*scale {
			continue
		}
		made := s.t.cutAt(k, uses, v)
		if s.t.fault != nil {
			return false, s.t.fault
		}
		s.t.keep(made)
		if err := s.addCut(made); err != nil {
			return false, err
		}
		added = true
	}
	return added, nil
}

// keep remembers a cut for the searches to come.
func (t *task) keep(c cut) {
	if len(t.cuts) == keptCuts {
		t.cuts = append(t.cuts[:0:0], t.cuts[1:]...)
	}
	t.cuts = append(t.cuts, c)
}

// addCut puts a cut into the program, in place of the oldest when there are many.
func (s *search) addCut(c cut) error {
	r := s.m.row(c)
	first := len(s.m.program.Rows)
	if s.solver.Rows() < first+keptCuts {
		return s.solver.AddRow(r)
	}
	i := first + s.oldest
	s.oldest = (s.oldest + 1) % keptCuts
	return s.solver.SetRow(i, r)
}
