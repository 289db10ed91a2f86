package recipe

// Why there is no recipe: conditions are left out one by one, for good where
// there still is none; those that remain contradict each other.

import (
	"math"
	"slices"
)

// condition is one thing that can be left out of a problem.
type condition struct {
	there bool              // the problem has it at all
	leave func(q *Problem)  // takes it out
	name  func(c *Conflict) // puts it into the set
}

const conflictNodes = 300 // search nodes a question

// conflict finds a smallest set of conditions without a recipe.
func (t *task) conflict() (*Conflict, error) {
	q := t.p.free()
	c := &Conflict{Least: true}
	for _, k := range t.p.conditions() {
		if !k.there {
			continue
		}
		less := q.copy()
		k.leave(&less)
		possible, sure, err := t.possible(&less)
		if err != nil {
			return nil, err
		}
		if !possible && sure {
			q = less
			continue
		}
		c.Least = c.Least && sure
		k.name(c)
	}
	return c, nil
}

// possible asks whether a problem has any recipe.
func (t *task) possible(q *Problem) (possible, sure bool, err error) {
	sub := newTask(t.ctx, q, Options{Recipes: 1, Nodes: conflictNodes, Gap: t.o.Gap})
	defer func() { t.nodes += sub.nodes; t.pivots += sub.pivots }()
	root, err := sub.relax()
	if err != nil {
		return false, false, err
	}
	if root.empty {
		return false, root.sure, nil
	}
	s, err := sub.newSearch(newModel(q, root.lots, tight), nil, conflictNodes)
	if err != nil {
		return false, false, err
	}
	s.once = true
	if err := s.run(); err != nil {
		return false, false, err
	}
	if s.best != nil {
		return true, true, nil
	}
	return false, s.done() && sub.convex(), nil
}

// conditions lists what can be left out, the hardest to grasp first, so that
// the set that remains speaks of stocks and limits where it can.
func (p *Problem) conditions() []condition {
	steps, small, must := false, false, false
	for _, l := range p.Lots {
		steps, small, must = steps || l.Step > 0, small || l.Least > 0, must || l.Must > 0
	}
	var all []condition
	for k, l := range p.Curves {
		all = append(all, condition{!math.IsInf(l.Limit, 1), func(q *Problem) { q.Curves[k].Limit = math.Inf(1) }, func(c *Conflict) { c.Curve = append(c.Curve, k) }})
	}
	all = append(all,
		condition{steps, eachLot(func(l *Lot) { l.Step = 0 }), func(c *Conflict) { c.Steps = true }},
		condition{small, eachLot(func(l *Lot) { l.Least = 0 }), func(c *Conflict) { c.Small = true }},
		condition{p.Most > 0, func(q *Problem) { q.Most = 0 }, func(c *Conflict) { c.Most = true }},
		condition{must, eachLot(func(l *Lot) { l.Must = 0 }), func(c *Conflict) { c.Must = true }},
	)
	for k, l := range p.Limits {
		all = append(all,
			condition{!math.IsInf(l.Lo, -1), func(q *Problem) { q.Limits[k].Lo = math.Inf(-1) }, func(c *Conflict) { c.Low = append(c.Low, k) }},
			condition{!math.IsInf(l.Hi, 1), func(q *Problem) { q.Limits[k].Hi = math.Inf(1) }, func(c *Conflict) { c.High = append(c.High, k) }},
		)
	}
	enough := p.Mass + p.Slack
	return append(all, condition{true, eachLot(func(l *Lot) { l.Stock = max(l.Stock, enough+l.Least+l.Step) }), func(c *Conflict) { c.Stock = true }})
}

func eachLot(f func(l *Lot)) func(q *Problem) {
	return func(q *Problem) {
		for i := range q.Lots {
			f(&q.Lots[i])
		}
	}
}

// free is the problem without costs: any recipe is as good as another.
func (p *Problem) free() Problem {
	q := p.copy()
	eachLot(func(l *Lot) { l.Cost = 0 })(&q)
	for k := range q.Curves {
		q.Curves[k].Weight = 0
	}
	return q
}

// copy is a problem that can be changed; the properties stay shared.
func (p *Problem) copy() Problem {
	q := *p
	q.Lots, q.Limits, q.Curves = slices.Clone(p.Lots), slices.Clone(p.Limits), slices.Clone(p.Curves)
	return q
}
