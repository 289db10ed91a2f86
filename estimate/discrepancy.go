package estimate

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
)

// The models' error at a setting, in the draws of a plan.

// Discrepancy tells how far the models are off at any setting, draw by draw. One
// setting always has the same factors, and settings near each other have like
// ones, so that a search over settings compares like with like.
type Discrepancy struct {
	fit   *fit
	first bool // the sheet and blade are those of the first run
	yield pencil
	scale [errorKinds]float64
	coefs [][]float64 // a draw: the coefficients of all kinds
	own   [][]float64 // a draw: the day's and the charge's score of each kind
	grown []regrown   // a draw: how its grains differ from what its parameters say; nil: not at all
}

// Factors are what the models' forecasts are multiplied by, one a draw; cut masses
// to what is in the mill afterwards.
type Factors struct {
	Product []float64 // mass through the screen
	Left    []float64 // mass in the mill at the end
	Heat    []float64 // rise of the wall over its start
	Charge  []float64 // rise of the charge over its start
	Energy  []float64 // from the socket
	Sizes   []float64 // grain sizes of the product: of the middle one, see [Factors.Modelled]

	Distance   float64 // to the nearest record without a stall, in steps; +Inf without one
	Near       []int64 // records within a step, the nearest first
	ModelShare float64 // of the product's forecast that the models have, the yield so far the rest [1]

	grown []regrown // how other sizes than the middle one differ, a draw; nil: as that does
}

// Modelled is the size the models have for grains that are so large in draw i [m].
func (f *Factors) Modelled(i int, size float64) float64 {
	size /= f.Sizes[i]
	if f.grown == nil {
		return size
	}
	g := &f.grown[i]
	return math.Exp(g.middle + stretched(math.Log(size)-g.middle, 1/g.stretch))
}

// Grain is how large grains are in draw i that the models have so large [m].
func (f *Factors) Grain(i int, modelled float64) float64 {
	if f.grown == nil {
		return modelled * f.Sizes[i]
	}
	g := &f.grown[i]
	return f.Sizes[i] * math.Exp(g.middle+stretched(math.Log(modelled)-g.middle, g.stretch))
}

// stretched is how far from the middle, as a logarithm, a size lies whose distance
// the models have so: finer ones farther by a factor.
func stretched(away, by float64) float64 {
	if away < 0 {
		away *= by
	}
	return away
}

// Discrepancy looks at the models' error for a target, in the joint draws that
// [Fitted.Draws] returned for it. With no records the error is what is believed
// beforehand. Chance is that of one day and one charge.
func (f *Fitted) Discrepancy(t Target, rows [][]float64, rng *rand.Rand) (*Discrepancy, error) {
	d := &Discrepancy{fit: f.fit, first: f.fit.ledger.isFirst(t.Screen, t.Chapter), yield: f.pencil(t), scale: f.widening()}
	for i, row := range rows {
		if len(row) < Params+Terms {
			return nil, fmt.Errorf("draw %d holds %d numbers and no coefficients of the models' error; it is none of Fitted.Draws", i, len(row))
		}
		d.coefs = append(d.coefs, row[Params:Params+Terms])
	}
	if len(rows) == 0 {
		return nil, fmt.Errorf("a discrepancy needs at least one draw")
	}
	d.own = stratified(len(rows), 2*int(errorKinds), rng)
	var err error
	if d.grown, err = f.unsieved(t, rows); err != nil {
		return nil, err
	}
	return d, nil
}

// SizesByBooks tells that nobody's stack has taught how large grains are, see [Fitted.unsieved].
func (d *Discrepancy) SizesByBooks() bool { return d.grown != nil }

// First is the same in the first n draws alone.
func (d *Discrepancy) First(n int) *Discrepancy {
	few := *d
	if few.grown != nil {
		few.grown = d.grown[:min(n, len(d.grown))]
	}
	few.coefs, few.own = d.coefs[:min(n, len(d.coefs))], d.own[:min(n, len(d.own))]
	return &few
}

// At is the models' error at a setting.
func (d *Discrepancy) At(s Setting) Factors {
	x := s.along(d.fit.setup.chamber())
	out := Factors{grown: d.grown}
	for k, to := range [errorKinds]*[]float64{&out.Product, &out.Left, &out.Heat, &out.Charge, &out.Energy, &out.Sizes} {
		*to = d.of(errorKind(k), x, s.Charges)
	}
	out.Distance, out.Near = d.fit.near(s)
	away := d.fit.straying(s)
	if len(s.Products) == len(out.Product) {
		for i, kg := range s.Products {
			out.Product[i] = math.Pow(out.Product[i], bite(kg/s.Charge))
		}
		d.yield.stack(s.Charge, away, s.Products, out.Product)
	}
	out.ModelShare = d.yield.shareAt(away)
	return out
}

// of are the factors of a kind.
func (d *Discrepancy) of(k errorKind, x [axes]float64, charges int) []float64 {
	out := make([]float64, len(d.coefs))
	for i := range out {
		out[i] = math.Exp(d.log(i, k, k.basis(x, d.first), charges))
	}
	return out
}

// log is the logarithm of a kind's factor in draw i.
func (d *Discrepancy) log(i int, k errorKind, basis [errorTerms]float64, charges int) float64 {
	p := &errorPriors[k]
	sum := p.day*d.own[i][2*k] + p.charge/math.Sqrt(float64(max(charges, 1)))*d.own[i][2*k+1]
	sum *= d.scale[k]
	for m, b := range basis {
		sum += scaleOf(&d.scale, k, isSlope(m)) * b * d.coefs[i][int(k)*errorTerms+m]
	}
	if k == errorOfSizes && d.grown != nil {
		sum += d.grown[i].larger
	}
	return math.Min(math.Max(sum, -farthest), farthest)
}

// logs are the logarithms of all kinds' factors at a setting, a draw each.
func (d *Discrepancy) logs(s Setting) [][errorKinds]float64 {
	x := s.along(d.fit.setup.chamber())
	all := make([][errorKinds]float64, len(d.coefs))
	for k := range errorKinds {
		basis := k.basis(x, d.first)
		for i := range all {
			all[i][k] = d.log(i, k, basis, s.Charges)
		}
	}
	return all
}

// One step away: how far charge, level and time may differ, as factors, before a
// forecast is like nothing on record. Judgement, from mills outside the models:
// errors within a step were a third of those beyond.
const (
	chargeStep = 1.4
	levelStep  = 1.4
	timeStep   = 2.5
)

// apart is how far two settings lie from each other, in steps.
func apart(s, o Setting) float64 {
	d := math.Max(math.Abs(math.Log(s.Charge/o.Charge))/math.Log(chargeStep), math.Abs(math.Log(s.Time/o.Time))/math.Log(timeStep))
	if s.LevelShare > 0 && o.LevelShare > 0 {
		d = math.Max(d, math.Abs(math.Log(s.LevelShare/o.LevelShare))/math.Log(levelStep))
	}
	return d
}

// near finds the runs within a step of a setting, and how far the nearest is.
func (f *fit) near(s Setting) (distance float64, records []int64) {
	type found struct {
		record int64
		d      float64
	}
	distance = math.Inf(1)
	var all []found
	for i := range f.runs {
		r := &f.runs[i]
		if !r.grindable() {
			continue
		}
		d := apart(s, r.setting())
		distance = math.Min(distance, d)
		if d <= 1 {
			all = append(all, found{r.Record, d})
		}
	}
	slices.SortStableFunc(all, func(a, b found) int { return cmp.Compare(a.d, b.d) })
	for _, one := range all {
		records = append(records, one.record)
	}
	return distance, records
}
