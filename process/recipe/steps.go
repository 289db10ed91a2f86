package recipe

// Whole steps: what a lot can weigh, and whether steps can make up the mass.

import (
	"fmt"
	"math"
)

// almost is how near to a whole number of steps counts as whole: it swallows
// the rounding of decimal masses, which is 1e-16 of them.
const almost = 1e-9

// up and down round a mass to whole steps.
func up(mass, step float64) float64 {
	if step == 0 {
		return mass
	}
	return math.Ceil(mass/step-almost) * step
}

func down(mass, step float64) float64 {
	if step == 0 || math.IsInf(mass, 1) {
		return mass
	}
	return math.Floor(mass/step+almost) * step
}

// smallest is the least mass of the lot when it is used at all.
func (l Lot) smallest() float64 { return up(max(l.Least, l.Step), l.Step) }

// from is the least mass of the lot in any recipe.
func (l Lot) from() float64 {
	if l.Must == 0 {
		return 0
	}
	return max(up(l.Must, l.Step), l.smallest())
}

// upTo is the greatest mass of the lot in a blend of a mass, 0 where it cannot be used.
func (l Lot) upTo(mass float64) float64 {
	hi := down(min(l.Stock, mass), l.Step)
	if hi < l.smallest()*(1-almost) {
		return 0
	}
	return hi
}

// checkSteps refuses a mass that whole steps cannot make, where every lot has
// the same step: no search would find out sooner.
func (p Problem) checkSteps() error {
	step, same := p.commonStep()
	if !same {
		return nil
	}
	lo, hi := up(p.Mass-p.Slack, step), down(p.Mass+p.Slack, step)
	if lo <= hi {
		return nil
	}
	return fmt.Errorf("blend: whole steps of %g kg cannot make %.9g kg; ask for %.9g or %.9g kg, or give slack",
		step, p.Mass, down(p.Mass, step), up(p.Mass, step))
}

// commonStep is the step of all lots, when they have one and the same.
func (p Problem) commonStep() (step float64, same bool) {
	for _, l := range p.Lots {
		if l.Step == 0 || step != 0 && l.Step != step {
			return 0, false
		}
		step = l.Step
	}
	return step, true
}
