package recipe

// Solve: relaxation of all lots, a first recipe from a few promising lots, then
// the tree over the lots that could still be part of a better one.

import (
	"context"
	"math"
	"slices"
)

// task is one call of Solve.
type task struct {
	ctx     context.Context
	p       *Problem
	o       Options
	x       []float64 // one mass a lot, all 0 between uses
	slope   []float64
	cuts    []cut
	anchors []*anchor // one a curve, nil where it has none
	seen    []*Recipe // good recipes met on the way, the cheapest first
	fault   error     // what a curve answered that cannot be
	nodes   int
	pivots  int
}

// Solve finds the best recipe and the next best different ones.
//
//	ctx  ends the search early; what was found by then is dropped
//	p    the blend wanted, see the fields of Problem
//	o    how many recipes and how much work, see the fields of Options
//
// Equation: min Σ c x + Σ w g(x) under the conditions of the package comment.
// Holds for: properties that mix by mass, and curves given as functions with their slopes. A curve that is not convex gets good recipes, each true to its limit, but no claim to the best.
// Source: own derivation; the method is the bounded dual simplex with branch and bound.
// Errors: RangeError and errors that name lot, limit or curve for what cannot be; the context's error when it ends. "No recipe" is an answer, not an error.
// Checks: Solve, SolveCount and SolveSteps rows of checks.csv.
func Solve(ctx context.Context, p Problem, o Options) (Answer, error) {
	if err := p.check(); err != nil {
		return Answer{}, err
	}
	if err := o.fill(p); err != nil {
		return Answer{}, err
	}
	t := newTask(ctx, &p, o)
	a, err := t.answer()
	a.Nodes, a.Pivots = t.nodes, t.pivots
	if err != nil {
		return Answer{}, err
	}
	return a, nil
}

func newTask(ctx context.Context, p *Problem, o Options) *task {
	return &task{ctx: ctx, p: p, o: o, x: make([]float64, len(p.Lots)), slope: make([]float64, len(p.Lots)), anchors: make([]*anchor, len(p.Curves))}
}

func (t *task) answer() (Answer, error) {
	if t.p.anchored() {
		if err := t.settleAnchors(); err != nil {
			return Answer{}, err
		}
	}
	root, err := t.relax()
	if err != nil {
		return Answer{}, err
	}
	a := Answer{Bound: root.bound, Reduced: root.perKG}
	var avoid [][]int
	for len(a.Recipes) < t.o.Recipes {
		var f found
		if f, root, err = t.findAnchored(root, avoid); err != nil {
			return a, err
		}
		if len(a.Recipes) == 0 {
			a.Bound, a.Proved = f.bound, f.proved
		}
		if f.best == nil {
			break
		}
		if err := t.price(f.best); err != nil {
			return a, err
		}
		a.Recipes = append(a.Recipes, *f.best)
		avoid = append(avoid, lotsOf(f.best.Uses))
	}
	if len(a.Recipes) > 0 {
		return a, nil
	}
	return t.without(a)
}

// without answers where no recipe was found.
func (t *task) without(a Answer) (Answer, error) {
	uses, err := t.nearestCurves()
	if err != nil {
		return a, err
	}
	if r, ok := t.certify(uses); ok && t.fault == nil {
		a.Recipes = []Recipe{*r}
		return a, t.price(&a.Recipes[0])
	}
	a.Reduced = nil
	if a.Proved {
		if a.Conflict, err = t.conflict(); err != nil {
			return a, err
		}
	}
	if uses != nil {
		a.Nearest = t.measure(uses)
		return a, t.fault
	}
	a.Nearest, err = t.nearest()
	return a, err
}

func lotsOf(uses []Use) []int {
	var lots []int
	for _, u := range uses {
		lots = append(lots, u.Lot)
	}
	return lots
}

// found is the outcome of one search for a recipe.
type found struct {
	best   *Recipe
	bound  float64 // [cost]
	proved bool
}

const (
	fewLots   = 60   // so many lots are searched at once
	poolStart = 40   // lots in the first, small tree
	promising = 1000 // lots looked at where not all can be
)

// findAnchored is find, again at the anchor of what it found as long as that helps.
func (t *task) findAnchored(root *relaxation, avoid [][]int) (found, *relaxation, error) {
	f, err := t.find(root, avoid)
	for range anchorTrees - 1 {
		if err != nil || f.best == nil || !t.p.anchored() {
			break
		}
		t.anchorAt(f.best.Uses)
		if t.fault != nil {
			return f, root, t.fault
		}
		next, err := t.relax()
		if err != nil || next.empty {
			return f, root, err
		}
		next.bound, root = root.bound, next
		before := f.best.Cost
		if f, err = t.find(root, avoid); err != nil || f.best.Cost > before-1e-4*math.Abs(before) {
			return f, root, err
		}
	}
	return f, root, err
}

// find searches for the best recipe that uses none of the avoided sets whole.
func (t *task) find(root *relaxation, avoid [][]int) (found, error) {
	if root.empty {
		return found{bound: math.Inf(1), proved: root.sure}, nil
	}
	best := t.known(avoid)
	if most := t.p.Most; best == nil && most > 0 && most < len(root.lots) && len(root.lots) > fewLots {
		var err error
		if best, err = t.exchanged(root, avoid, best); err != nil {
			return found{}, err
		}
	}
	if len(root.lots) > fewLots && best == nil {
		for size := poolStart; size < len(root.lots)/2; size *= 4 {
			s, err := t.tree(root.pool(size), avoid, best, max(1, t.o.Nodes/4))
			if err != nil {
				return found{}, err
			}
			if best = s.best; best != nil {
				break
			}
		}
	}
	lots, others := root.worthwhile(best, t.o)
	if len(lots) > promising && !t.convex() {
		lots = root.pool(promising) // nothing is proved of the others anyway
	}
	s, err := t.tree(lots, avoid, best, t.o.Nodes)
	if err != nil {
		return found{}, err
	}
	f := found{best: s.best, bound: root.bound}
	if t.convex() {
		f.bound = max(root.bound, min(s.bound(), others)*s.m.unit)
		f.proved = s.done() || s.bound() >= s.cutoff()
	} else if f.best != nil {
		f.proved = f.best.Cost-f.bound <= t.o.slip(f.best.Cost)
	}
	if f.best != nil {
		f.bound = min(f.bound, f.best.Cost) // else above it by rounding
	}
	return f, nil
}

// tree runs one search over some lots.
func (t *task) tree(lots []int, avoid [][]int, best *Recipe, nodes int) (*search, error) {
	s, err := t.newSearch(newModel(t.p, lots, tight), avoid, nodes)
	if err != nil {
		return nil, err
	}
	s.start(best)
	return s, s.run()
}

// convex reports whether every cut made holds everywhere.
func (t *task) convex() bool {
	for _, c := range t.p.Curves {
		if !c.Convex {
			return false
		}
	}
	return true
}

const keptRecipes = 40

// remember keeps good recipes for the searches to come.
func (t *task) remember(r *Recipe) {
	at, _ := slices.BinarySearchFunc(t.seen, r, func(a, b *Recipe) int {
		if a.Cost <= b.Cost {
			return -1
		}
		return 1
	})
	t.seen = slices.Insert(t.seen, at, r)
	t.seen = t.seen[:min(len(t.seen), keptRecipes)]
}

// known is the best recipe met so far that uses no avoided set whole.
func (t *task) known(avoid [][]int) *Recipe {
	for _, r := range t.seen {
		if !usesWhole(lotsOf(r.Uses), avoid) {
			return r
		}
	}
	return nil
}

// usesWhole reports whether all lots of one of the sets are among lots, both in order.
func usesWhole(lots []int, sets [][]int) bool {
	for _, set := range sets {
		left := len(set)
		for _, i := range set {
			if _, ok := slices.BinarySearch(lots, i); ok {
				left--
			}
		}
		if left == 0 {
			return true
		}
	}
	return false
}
