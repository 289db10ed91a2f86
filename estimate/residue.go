package estimate

import (
	"math"
	"slices"

	"hopperful/process/breakage"
)

// What lies in the mill when a run begins. Weighed it is a fact; else it is a
// mass between nothing and what the chamber can hold, told by the masses in and
// out and by the models together, and its spread goes into every reading of the
// run.

// How well an unweighed residue is told. Judgement: the balance errs by both
// weighings and by what was spilled, more with each charge, the models by dead corners
// they do not know. Dust and spill are a share of what came out, as believed; what sticks in
// corners and under the lid is still in the mill.
const (
	balanceSpread = 0.002 // kg, a charge
	balanceShare  = 0.02  // of a charge
	dustSpread    = 0.01  // of what came out, with each charge the same way: half the books' range of dust
	residueModel  = 0.4   // of the models' residue
	residueLeast  = 0.002 // kg, the models' residue errs by at the least
	residueApart  = 0.7   // of what they are off the balance
	kept          = 0.9   // chance that an unemptied residue is still there after a long break
)

// remains says what run r left in the mill, from what the models say of it: mean
// and standard deviation [kg]. before is what lay in it at its start, and that mass's
// standard deviation, dust the share of what came out that is lost.
func (r *Run) remains(before remainder, dust float64, held *float64, most float64) (mean, spread float64) {
	in := r.in(before.mean)
	most = math.Min(most, in)
	if r.Left != nil {
		return math.Min(math.Max(*r.Left, 0), in), 0
	}
	weight, sum := 0.0, 0.0
	add := func(value, sd float64) { weight, sum = weight+1/(sd*sd), sum+value/(sd*sd) }
	apart := 0.0
	if r.Product != nil {
		balance := in - (1+dust)**r.Product
		if held != nil {
			apart = math.Abs(balance - *held)
		}
		add(balance, math.Hypot(before.spread+dustSpread**r.Product, balanceSpread+balanceShare*r.Charge))
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
// it at its start, dust the share of what came out that is lost, most what the chamber
// takes.
func (r *Run) Remains(before, dust float64, held *float64, most float64) (mean, spread float64) {
	return r.remains(remainder{mean: before}, dust, held, most)
}

// inherit sets what the run before left in the mill, of the sizes the models give
// it.
func (o *outlook) inherit(f *fit, r, last *Run, before *outlook) error {
	o.residue, o.residueSpread = before.leaves(f, last)
	var like []float64
	if before.ground != nil && end(before.held) > 1e-9 {
		like = before.heldClasses
	}
	return o.inherited(f, r, last, like)
}

// leaves is what a run left in the mill, by its masses and by the models.
func (o *outlook) leaves(f *fit, r *Run) (mean, spread float64) {
	var held *float64
	if o.ground != nil {
		v := end(o.held) * math.Exp(o.errs[errorOfLeft])
		held = &v
	}
	return r.remains(remainder{o.residue, o.residueSpread}, o.row[Dust], held, f.setup.chamber()*o.row[GrainBulk])
}

// Met is what lay in the mill when the run of a record began, by the masses and the models
// together: mean and standard deviation [kg]; 0 where nothing was learned from it.
func (f *Fitted) Met(record int64) (mean, spread float64) {
	if i := f.at(record); i >= 0 {
		return f.fit.now[i].residue, f.fit.now[i].residueSpread
	}
	return 0, 0
}

// Left is what the run of a record left in the mill, likewise.
func (f *Fitted) Left(record int64) (mean, spread float64) {
	if i := f.at(record); i >= 0 {
		return f.fit.now[i].leaves(f.fit, &f.fit.runs[i])
	}
	return 0, 0
}

// at is the place of a record's run among those learned from, -1 for none.
func (f *Fitted) at(record int64) int {
	return slices.IndexFunc(f.fit.runs[:min(len(f.fit.runs), len(f.fit.now))], func(r Run) bool { return r.Record == record })
}

// inherited sizes what was left, and reckons with the mill having been emptied.
func (o *outlook) inherited(f *fit, r, scrap *Run, like []float64) error {
	lay := r.afterBreak(remainder{o.residue, o.residueSpread})
	o.residue, o.residueSpread = lay.mean, lay.spread
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
