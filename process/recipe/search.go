package recipe

// Branch and bound over one model: a node's relaxation bounds what lies below
// it; where its solution is no recipe, two or more nodes divide what is left.

import (
	"math"

	"hopperful/process/recipe/simplex"
)

// search is one tree.
type search struct {
	t       *task
	m       *model
	solver  *simplex.Solver
	avoid   [][]int // sets of lots of the model, none of which may be used whole
	lo, hi  []float64
	in      []bool // the lot counts as used in this node
	was     []bool // in, when the row that counts lots was written
	counted bool   // it was written at all
	oldest  int    // row of cuts to write over next

	open   queue
	serial int
	nodes  int
	limit  int
	once   bool // any recipe will do

	best    *Recipe
	cost    float64 // of best, or of what may not be exceeded [1]; +Inf
	uses    []Use   // best of an elastic search
	pruned  float64 // the lowest bound of what was cut off unseen [1]
	certain bool    // false once a node had to be left without an answer
}

func (t *task) newSearch(m *model, avoid [][]int, limit int) (*search, error) {
	solver, err := simplex.New(m.program)
	if err != nil {
		return nil, err
	}
	n := len(m.lots)
	s := &search{
		t: t, m: m, solver: solver, limit: limit,
		lo: make([]float64, n), hi: make([]float64, n), in: make([]bool, n), was: make([]bool, n),
		cost: math.Inf(1), pruned: math.Inf(1), certain: true,
	}
	s.localise(avoid)
	for _, c := range t.cuts {
		if err := s.addCut(c); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// localise translates sets of lots into places in the model; a set with a lot
// that the model lacks can never be used whole.
func (s *search) localise(avoid [][]int) {
	place := map[int]int{}
	for k, i := range s.m.lots {
		place[i] = k
	}
	for _, set := range avoid {
		var here []int
		for _, i := range set {
			if k, ok := place[i]; ok {
				here = append(here, k)
			}
		}
		if len(here) == len(set) {
			s.avoid = append(s.avoid, here)
		}
	}
}

// start takes a recipe known already as the one to beat.
func (s *search) start(r *Recipe) {
	if r != nil {
		s.best, s.cost = r, r.Cost/s.m.unit
	}
}

// cutoff is the cost from which on a node is not worth looking into.
func (s *search) cutoff() float64 {
	if math.IsInf(s.cost, 1) {
		return s.cost
	}
	return s.cost - max(s.t.o.slip(s.cost*s.m.unit)/s.m.unit, 1e-9)
}

// run searches until the tree is done or the nodes are spent.
func (s *search) run() error {
	s.open.add(&node{bound: math.Inf(-1), basis: s.m.crash()})
	for len(s.open) > 0 && s.nodes < s.limit {
		n := s.open.first()
		for n != nil && s.nodes < s.limit {
			if s.nodes%64 == 0 {
				if err := s.t.ctx.Err(); err != nil {
					return err
				}
			}
			kids, err := s.visit(n)
			if err != nil {
				return err
			}
			if s.once && s.best != nil {
				return nil
			}
			n = nil
			for k, kid := range kids {
				if k == 0 {
					n = kid
					continue
				}
				s.open.add(kid)
			}
		}
		if n != nil {
			s.open.add(n)
		}
	}
	return nil
}

// bound is what no recipe of this model can beat [1].
func (s *search) bound() float64 { return min(s.open.lowest(), s.pruned, s.cost) }

// done reports whether the whole tree was seen.
func (s *search) done() bool { return len(s.open) == 0 && s.certain }

// visit solves a node and returns what it divides into, the most promising first.
func (s *search) visit(n *node) ([]*node, error) {
	s.nodes++
	s.t.nodes++
	if n.bound >= s.cutoff() {
		s.pruned = min(s.pruned, n.bound)
		return nil, nil
	}
	if ok, err := s.load(n); !ok || err != nil {
		return nil, err
	}
	for round := 0; ; round++ {
		before := s.solver.Pivots()
		status, err := s.solver.Solve()
		s.t.pivots += s.solver.Pivots() - before
		if err != nil {
			return nil, err
		}
		if status != simplex.Optimal {
			return nil, nil
		}
		n.bound = max(n.bound, s.solver.Objective())
		if n.bound >= s.cutoff() {
			s.pruned = min(s.pruned, n.bound)
			return nil, nil
		}
		again, kids, err := s.look(n, round)
		if err != nil || !again {
			return kids, err
		}
	}
}

// look judges the solution of a node: a recipe, something to divide, or, after
// a cut, something to solve again.
func (s *search) look(n *node, round int) (again bool, kids []*node, err error) {
	w := s.solver.Values()[:len(s.m.lots)]
	ways, whole := s.divide(w)
	uses, ok := s.m.weigh(w)
	curved := len(s.t.p.Curves) > 0
	if curved && (whole && round < cutsLeaf || n.parent == nil && round < cutsRoot) {
		if again, err = s.refine(s.exact(w, uses, whole)); again || err != nil {
			if whole && ok && err == nil && !s.m.elastic { // what it breaks was believed too little
				s.offer(uses)
			}
			return again, nil, err
		}
	}
	if ok {
		ok = s.offer(uses)
	}
	if whole && s.t.p.anchored() && !s.m.elastic && len(uses) > 0 {
		better, err := s.polish(uses)
		if err != nil {
			return false, nil, err
		}
		ok = ok || better
	}
	if s.t.fault != nil {
		return false, nil, s.t.fault
	}
	if whole {
		if !ok || curved && round >= cutsLeaf {
			s.pruned, s.certain = min(s.pruned, n.bound), false
		}
		return false, nil, nil
	}
	for _, changes := range ways {
		s.serial++
		kids = append(kids, &node{parent: n, changes: changes, bound: n.bound, serial: s.serial})
	}
	basis, out := s.solver.Basis(), s.shrink(n)
	for _, kid := range kids {
		kid.basis, kid.out = basis, out
	}
	return false, kids, nil
}

// exact is where to cut: at the recipe when it is one, else at the shares
// themselves.
func (s *search) exact(w []float64, uses []Use, whole bool) []Use {
	if whole {
		return uses
	}
	var all []Use
	for k, v := range w {
		if v > dust {
			all = append(all, Use{Lot: s.m.lots[k], Mass: v * s.t.p.Mass})
		}
	}
	return all
}

// offer takes a blend as the best so far if it is a recipe and costs less. It
// answers whether it is a recipe.
func (s *search) offer(uses []Use) bool {
	if s.m.elastic {
		if v := s.solver.Objective(); v < s.cost {
			s.uses, s.cost = uses, v
		}
		return true
	}
	r, ok := s.t.certify(uses)
	if !ok {
		return false
	}
	s.t.remember(r)
	if s.spoils(uses) {
		return false
	}
	if c := r.Cost / s.m.unit; c < s.cost {
		s.best, s.cost = r, c
	}
	return true
}
