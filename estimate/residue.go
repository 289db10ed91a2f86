package estimate

import (
	"math"

	"hopperful/process/breakage"
)

// What lies in the mill when a run begins. Weighed it is a fact; else it is a
// mass between nothing and what the chamber can hold, told by the masses in and
// out and by the models together, and its spread goes into every reading of the
// run.

// How well an unweighed residue is told. Judgement: the balance errs by both
// weighings and by what was spilled, the models by dead corners they do not know.
const (
	spilled       = 0.01  // of what went in, never seen again
	sticking      = 0.003 // kg, in corners, the lid and the jar
	balanceSpread = 0.004 // kg
	balanceShare  = 0.03  // of the charge
	residueModel  = 0.4   // of the models' residue
	residueLeast  = 0.002 // kg, the models' residue errs by at the least
	residueApart  = 0.7   // of what they are off the balance
	kept          = 0.9   // chance that an unemptied residue is still there after a long break
)

// remains says what run r left in the mill, from what the models say of it: mean
// and standard deviation [kg]. before is what lay in it at its start.
func (r *Run) remains(before float64, held *float64, most float64) (mean, spread float64) {
	in := r.in(before)
	most = math.Min(most, in)
	if r.Left != nil {
		return math.Min(math.Max(*r.Left, 0), in), 0
	}
	weight, sum := 0.0, 0.0
	add := func(value, sd float64) { weight, sum = weight+1/(sd*sd), sum+value/(sd*sd) }
	apart := 0.0
	if r.Product != nil {
		balance := in - *r.Product - spilled*in - sticking
		if held != nil {
			apart = math.Abs(balance - *held)
		}
		add(balance, balanceSpread+balanceShare*r.Charge)
	}
	if held != nil { // models that are off what was weighed are worth less
		add(*held, math.Hypot(residueModel**held+residueLeast, residueApart*apart))
	}
	if weight == 0 {
		return most / 2, most / math.Sqrt(12)
	}
	mean, spread = sum/weight, 1/math.Sqrt(weight)
	if mean <= 0 { // the balance says less than nothing: a little at most
		return 0, math.Min(spread, most) / 2
	}
	return math.Min(mean, most), math.Min(spread, most/2)
}

// Remains is what a run left in the mill, from what was weighed and what the models
// say is held, nil for nothing: mean and standard deviation [kg]. before is what lay in
// it at its start, most what the chamber takes.
func (r *Run) Remains(before float64, held *float64, most float64) (mean, spread float64) {
	return r.remains(before, held, most)
}

// inherit sets what the run before left in the mill, of the sizes the models give
// it.
func (o *outlook) inherit(f *fit, r, last *Run, before *outlook) error {
	var held *float64
	if before.ground != nil {
		v := end(before.held) * math.Exp(before.errs[errorOfLeft])
		held = &v
	}
	o.residue, o.residueSpread = last.remains(before.residue, held, f.setup.chamber()*o.row[GrainBulk])
	var like []float64
	if before.ground != nil && end(before.held) > 1e-9 {
		like = before.heldClasses
	}
	return o.inherited(f, r, last, like)
}

// inherited sizes what was left, and reckons with the mill having been emptied.
func (o *outlook) inherited(f *fit, r, scrap *Run, like []float64) error {
	if r.LongAfter && o.residue > 0 {
		mean := kept * o.residue
		o.residueSpread = math.Hypot(math.Sqrt(kept)*o.residueSpread, math.Sqrt(kept*(1-kept))*o.residue)
		o.residue = mean
	}
	if o.residue < 1e-6 {
		o.residue, o.residueSpread = 0, 0
		return nil
	}
	return o.sizeResidue(f.grid, scrap, like)
}

// sizeResidue spreads the residue over the size classes: like masses that are
// known, or like the scrap of a run.
func (o *outlook) sizeResidue(grid breakage.Grid, scrap *Run, like []float64) error {
	o.residueClasses = make([]float64, grid.Classes())
	total := 0.0
	for _, m := range like {
		total += m
	}
	if total > 0 {
		for c, m := range like {
			o.residueClasses[c] = m * o.residue / total
		}
		return nil
	}
	return breakage.AddFeed(grid, o.residueClasses, o.residue, scrap.Largest, TypicalPiece(o.row, scrap.Largest, scrap.Thickness), scrap.Thickness)
}
