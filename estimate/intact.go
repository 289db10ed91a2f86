package estimate

import (
	"cmp"
	"math"
	"slices"
)

// A charge that came out of the mill as grains did not melt there. Where nobody
// read its temperature, that is what a run says of it: draws in which such runs
// would have stuck are taken as seldom as they are likely.

// Judgement: a charge whose mean is stickAt below softening sticks in half of the
// cases, for its hottest grains are warmer; and a run that stuck would have been
// noted as a stall, or given little.
const (
	stickAt     = 5.0  // K
	stickSpread = 3.0  // K
	mostTelling = 4    // of the hardest settings are looked at
	mostTimesOf = 4    // runs at one count: they share the models' error
	usualTimes  = 2    // runs that the common way to run such mills counts as
	alikeBy     = 0.1  // of charge and time within which settings are one
	leastWeight = 0.02 // mean weight below which draws are left as they are: the models know of no such run
)

// intact is a setting that was run without trouble, and how often.
type intact struct{ run, times int }

// telling are the hardest settings whose charge came out as grains.
func (f *fit) telling() []intact {
	var all []intact
	for i := range f.runs {
		r := &f.runs[i]
		if !r.Intact || !r.grindable() {
			continue
		}
		like := func(one intact) bool {
			o := &f.runs[one.run]
			return o.Polymer == r.Polymer && o.Load.Level == r.Load.Level &&
				math.Abs(o.Time-r.Time) < alikeBy*r.Time && math.Abs(o.Charge-r.Charge) < alikeBy*r.Charge
		}
		if k := slices.IndexFunc(all, like); k >= 0 {
			all[k].times++
			continue
		}
		all = append(all, intact{i, 1})
	}
	hardness := func(one intact) float64 {
		r := &f.runs[one.run]
		return r.Load.Watts * r.Time / math.Sqrt(r.Charge)
	}
	slices.SortStableFunc(all, func(a, b intact) int { return cmp.Compare(hardness(b), hardness(a)) })
	return all[:min(len(all), mostTelling)]
}

// untried reports whether nobody has ground anything in the mill yet: then it is how
// such mills are commonly run that did not melt.
func (f *fit) untried() bool {
	return !slices.ContainsFunc(f.runs, func(r Run) bool { return r.grindable() })
}

// grainsAt is how likely all those runs came out as grains at some variables.
func (w *worker) grainsAt(f *fit, all []intact, v []float64) (float64, error) {
	weight := 1.0
	for _, one := range all {
		r := &f.runs[one.run]
		errs := f.errorsAt(one.run, v)
		grains, err := w.grains(f, r, row(&w.last, f.priors(one.run), f.links[one.run], v), &errs)
		if err != nil {
			return 0, err
		}
		weight *= math.Pow(grains, float64(min(one.times, mostTimesOf)))
	}
	return weight, nil
}

// grains is how likely a run gives grains with such parameters.
func (w *worker) grains(f *fit, r *Run, parameters []float64, errs *[errorKinds]float64) (float64, error) {
	g, err := grindRun(w.mill, w.grid, parameters, r, nil)
	if err != nil {
		return 0, err
	}
	wall := r.Room // unread it was no colder
	if r.WallBefore != nil {
		wall = math.Max(wall, *r.WallBefore)
	}
	warm := warmRun(parameters, f.setup.Area, r, g, wall, r.Room).erring(wall, r.Room, errs)
	over := (warm.hottest - parameters[Softening] + stickAt) / stickSpread
	return 1 / (1 + math.Exp(over)), nil
}

// usualAt is how likely the common way to run such a mill gives grains in a draw.
func (w *worker) usualAt(f *fit, r *Run, drawn []float64) (float64, error) {
	x := r.setting().along(f.setup.chamber())
	var errs [errorKinds]float64
	for k := range errorKinds {
		for m, by := range k.basis(x, true) {
			errs[k] += scaleOf(&f.errorScale, k, isSlope(m)) * by * drawn[Params+int(k)*errorTerms+m]
		}
	}
	grains, err := w.grains(f, r, drawn, &errs)
	return math.Pow(grains, usualTimes), err
}

// resampled takes every row as often as its weight asks for, as evenly as can be.
func resampled(rows [][]float64, weights []float64) [][]float64 {
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	if !(sum > leastWeight*float64(len(rows))) {
		return rows
	}
	out := make([][]float64, 0, len(rows))
	step := sum / float64(len(rows))
	next, at := step/2, 0.0
	for i, w := range weights {
		for at += w; next < at && len(out) < len(rows); next += step {
			out = append(out, rows[i])
		}
	}
	for len(out) < len(rows) { // the last digit of a sum
		out = append(out, rows[len(rows)-1])
	}
	return out
}
