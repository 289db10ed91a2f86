package recipe

// Why not? The same problem again with one thing changed.

import (
	"context"
	"fmt"
	"math"

	"hopperful/process"
)

// Change is what one changed condition does to the best recipe.
type Change struct {
	Before Answer  // the problem as it stands, one recipe
	After  Answer  // with the change, one recipe
	Cost   float64 // what it adds to the cost [cost], below 0 where it saves; +Inf where no recipe is left, −Inf where there was none before, 0 where neither
}

// WhyNot returns what it would take to put a lot into the blend.
//
//	ctx   ends the search early
//	p     the blend wanted, see the fields of Problem
//	o     how much work, see the fields of Options; one recipe is sought
//	lot   index into p.Lots
//	mass  at least so much of it [kg], 0 to its stock; 0 stands for the smallest amount it can be used in
//
// Equation: cost of the best recipe with x_lot ≥ mass, minus that without.
// Holds for: as Solve. Where no recipe is left, After.Conflict says what stands against the lot.
// Source: own derivation.
// Errors: as Solve; RangeError for mass beyond the stock; an error that names a lot that is not there.
// Checks: WhyNot rows of checks.csv.
func WhyNot(ctx context.Context, p Problem, o Options, lot int, mass float64) (Change, error) {
	if lot < 0 || lot >= len(p.Lots) {
		return Change{}, fmt.Errorf("blend: there is no lot %d to use, of %d", lot, len(p.Lots))
	}
	l := p.Lots[lot]
	if err := process.Within("amount to use", mass, 0, l.Stock, "kg", "own derivation"); err != nil {
		return Change{}, err
	}
	if mass == 0 {
		mass = min(max(l.smallest(), 1e-3*p.Mass), l.Stock)
	}
	q := p.copy()
	q.Lots[lot].Must = max(l.Must, mass)
	return compare(ctx, p, q, o)
}

func compare(ctx context.Context, p, q Problem, o Options) (Change, error) {
	o.Recipes = 1
	before, err := Solve(ctx, p, o)
	if err != nil {
		return Change{}, err
	}
	after, err := Solve(ctx, q, o)
	if err != nil {
		return Change{}, err
	}
	c := Change{Before: before, After: after}
	switch had, has := len(before.Recipes) > 0, len(after.Recipes) > 0; {
	case had && has:
		c.Cost = after.Recipes[0].Cost - before.Recipes[0].Cost
	case had:
		c.Cost = math.Inf(1)
	case has:
		c.Cost = math.Inf(-1)
	}
	return c, nil
}
