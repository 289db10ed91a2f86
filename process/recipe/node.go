package recipe

// The nodes of the search and the queue they wait in.

import (
	"container/heap"
	"math"
	"slices"
)

// change narrows one lot of a model: to a range of shares, or into the recipe.
type change struct {
	lot    int
	lo, hi float64 // [share]
	in     bool    // the lot counts as used
}

// node is a set of changes on top of its parent's, and what is known below it.
type node struct {
	parent  *node
	changes []change
	bound   float64 // no recipe below costs less [1]
	basis   []int   // of the parent's optimum
	out     lotSet  // lots that no better recipe below holds
	serial  int     // order of making, so that ties fall always the same way
}

// queue hands out the node with the lowest bound, the youngest of equals.
type queue []*node

func (q queue) Len() int { return len(q) }

func (q queue) Less(i, j int) bool {
	if q[i].bound != q[j].bound {
		return q[i].bound < q[j].bound
	}
	return q[i].serial > q[j].serial
}

func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }

// Push is for package heap.
func (q *queue) Push(n any) { *q = append(*q, n.(*node)) }

// Pop is for package heap.
func (q *queue) Pop() any {
	old := *q
	n := old[len(old)-1]
	old[len(old)-1] = nil
	*q = old[:len(old)-1]
	return n
}

func (q *queue) add(n *node)  { heap.Push(q, n) }
func (q *queue) first() *node { return heap.Pop(q).(*node) }

// lowest is the lowest bound of the nodes that wait.
func (q queue) lowest() float64 {
	if len(q) == 0 {
		return math.Inf(1)
	}
	return q[0].bound
}

// load sets the solver to a node. It answers false when the changes leave no
// recipe by themselves.
func (s *search) load(n *node) (bool, error) {
	copy(s.lo, s.m.lo)
	copy(s.hi, s.m.hi)
	for k, lo := range s.lo {
		s.in[k] = lo > 0
	}
	for at := n; at != nil; at = at.parent {
		for _, c := range at.changes {
			s.lo[c.lot] = max(s.lo[c.lot], c.lo)
			s.hi[c.lot] = min(s.hi[c.lot], c.hi)
			s.in[c.lot] = s.in[c.lot] || c.in
		}
	}
	n.out.each(func(k int) { s.hi[k] = 0 })
	used := 0
	for k := range s.in {
		if s.lo[k] > s.hi[k] {
			if s.lo[k] > s.hi[k]+almost {
				return false, nil
			}
			s.lo[k] = s.hi[k] // the same number of steps, rounded twice
		}
		if s.in[k] {
			used++
		}
	}
	most := s.t.p.Most
	if most > 0 && used > most {
		return false, nil
	}
	if most > 0 && used == most {
		for k, in := range s.in {
			if !in {
				s.hi[k] = 0
			}
		}
	}
	if err := s.solver.SetBounds(s.lo, s.hi); err != nil {
		return false, err
	}
	s.solver.Restart(n.basis)
	return true, s.countLots(used)
}

// countLots writes the row that counts lots: a lot already in counts as one
// whatever its share; any other at least share over greatest share.
func (s *search) countLots(used int) error {
	if s.m.count < 0 || s.counted && slices.Equal(s.in, s.was) {
		return nil
	}
	s.counted = true
	copy(s.was, s.in)
	r := s.m.program.Rows[s.m.count]
	for k, in := range s.in {
		r.Coef[k] = 0
		if !in && s.m.hi[k] > 0 {
			r.Coef[k] = 1 / s.m.hi[k]
		}
	}
	r.Hi = float64(s.t.p.Most - used)
	return s.solver.SetRow(s.m.count, r)
}
