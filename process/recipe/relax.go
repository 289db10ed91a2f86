package recipe

// The relaxation over all lots: a bound on every recipe, and which lots are
// worth a place in the tree.

import (
	"cmp"
	"math"
	"slices"

	"hopperful/process/recipe/simplex"
)

// relaxation is the optimum without steps, least amounts and whole lots.
type relaxation struct {
	empty  bool      // not even the relaxation has a solution
	sure   bool      // that is proved, not the effect of a cut that need not hold
	bound  float64   // [cost]
	perKG  []float64 // reduced cost of every lot of the problem [cost/kg]
	lots   []int     // lots that can be used at all
	m      *model
	w, d   []float64 // shares and reduced costs of lots [share], [1]
	perLot float64   // price of one lot more in the recipe [1], ≥ 0
	cost   float64   // [1]
}

// usable lists the lots of which a recipe can hold anything.
func (p *Problem) usable() []int {
	var lots []int
	for i, l := range p.Lots {
		if l.upTo(p.Mass+p.Slack) > 0 || l.Must > 0 {
			lots = append(lots, i)
		}
	}
	return lots
}

// relax solves the root. Where curves are not convex its bound is that before
// the first of their cuts.
func (t *task) relax() (*relaxation, error) {
	r := &relaxation{lots: t.p.usable(), bound: math.Inf(1), sure: true}
	if len(r.lots) == 0 {
		r.empty = true
		return r, nil
	}
	r.m = newModel(t.p, r.lots, tight)
	s, err := t.newSearch(r.m, nil, 1)
	if err != nil {
		return nil, err
	}
	first := math.NaN()
	root := &node{bound: math.Inf(-1), basis: r.m.crash()}
	for round := 0; ; round++ {
		ok, err := s.relaxOnce(root)
		if err != nil {
			return nil, err
		}
		if !ok {
			r.empty, r.sure = true, round == 0 || t.convex()
			return r, nil
		}
		r.cost = s.solver.Objective()
		if round == 0 {
			first = r.cost
		}
		w := s.solver.Values()[:len(r.lots)]
		again := false
		if len(t.p.Curves) > 0 && round < cutsRoot {
			if again, err = s.refine(s.exact(w, nil, false)); err != nil {
				return nil, err
			}
		}
		if !again {
			break
		}
		root.basis = s.solver.Basis()
	}
	r.take(s)
	if t.convex() {
		first = r.cost
	}
	r.bound = first * r.m.unit
	return r, nil
}

func (s *search) relaxOnce(root *node) (bool, error) {
	if ok, err := s.load(root); !ok || err != nil {
		return false, err
	}
	before := s.solver.Pivots()
	status, err := s.solver.Solve()
	s.t.pivots += s.solver.Pivots() - before
	s.t.nodes++
	return status == simplex.Optimal, err
}

// take keeps what the solver knows of the root.
func (r *relaxation) take(s *search) {
	n := len(r.lots)
	r.w = slices.Clone(s.solver.Values()[:n])
	r.d = slices.Clone(s.solver.Reduced()[:n])
	if r.m.count >= 0 {
		r.perLot = max(0, -s.solver.Price(r.m.count))
	}
	r.perKG = make([]float64, len(s.t.p.Lots))
	for i := range r.perKG {
		r.perKG[i] = math.Inf(1) // a lot that cannot be used
	}
	for k, i := range r.lots {
		r.perKG[i] = r.d[k] * r.m.unit / s.t.p.Mass
	}
}

// used says of a lot by its place that the relaxation uses it, or any recipe must.
func (r *relaxation) used(k int) bool { return r.w[k] > dust || r.m.lo[k] > 0 }

// pool is the lots the relaxation uses and the nearest to being used, in order.
func (r *relaxation) pool(size int) []int {
	rank := make([]int, len(r.lots))
	for k := range rank {
		rank[k] = k
	}
	must := 0
	key := make([]float64, len(r.lots))
	for k := range rank {
		if key[k] = max(r.d[k], 0); r.used(k) {
			key[k] = math.Inf(-1)
			must++
		}
	}
	slices.SortStableFunc(rank, func(a, b int) int { return cmp.Compare(key[a], key[b]) })
	var lots []int
	for _, k := range rank[:min(len(rank), max(size, must))] {
		lots = append(lots, r.lots[k])
	}
	slices.Sort(lots)
	return lots
}

// worthwhile leaves out the lots with which no recipe can beat the one known.
// others is the least cost [1] with a lot left out.
func (r *relaxation) worthwhile(best *Recipe, o Options) (lots []int, others float64) {
	others = math.Inf(1)
	if best == nil {
		return r.lots, others
	}
	cost := best.Cost / r.m.unit
	cut := cost - max(o.slip(best.Cost)/r.m.unit, 1e-9)
	for k, i := range r.lots {
		with := r.cost + atLeast(r.d[k], r.perLot, r.m.least[k], r.m.hi[k])
		if r.used(k) || with < cut {
			lots = append(lots, i)
		} else {
			others = min(others, with)
		}
	}
	return lots, others
}
