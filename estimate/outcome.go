package estimate

import (
	"math"
	"math/rand/v2"
)

// Outcome is what the models say comes of a run, for one draw.
type Outcome struct {
	Product float64 // through the screen, less dust [kg]
	Left    float64 // in the mill at the end [kg]
	Energy  float64 // from the socket [J]
	Wall    float64 // at the end [K]; NaN where its start is not known
	Charge  float64 // at the end [K]; NaN where its start is not known
	Cooling float64 // wall after the rest before the run [K]; NaN where not asked
	Stall   float64 // chance of a stall [1]; NaN where not asked

	in       float64 // was in the mill [kg]
	readings []float64
	spreads  []float64
}

// Outcomes draws what a run later than all the fitted ones will come to. Where
// it follows the last of them, it starts on what that one left.
func (f *Fitted) Outcomes(r Run, n int, rng *rand.Rand) ([]Outcome, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	priors := f.fit.setup.Priors[r.Polymer]
	priors.sheet(&r)
	target := Target{r.Polymer, r.Screen, r.Chapter, r.Since, r.Load.only()}
	rows, err := f.Draws(priors, target, n, rng)
	if err != nil {
		return nil, err
	}
	d, err := f.Discrepancy(target, rows, rng)
	if err != nil {
		return nil, err
	}
	errs := d.logs(r.setting())
	largest := r.Largest
	last := len(f.fit.runs) - 1
	follows := r.Follows && last >= 0 && f.fit.runs[last].Polymer == r.Polymer
	if follows { // the residue comes in the size classes of the fit
		largest = math.Max(largest, 0.99*f.fit.grid.Upper(0))
	}
	grid, workers, err := workshop(largest, drawTolerance)
	if err != nil {
		return nil, err
	}
	slips, rests := stratified(n, 1, rng), stratified(n, 1, rng)
	all := make([]Outcome, n)
	err = each(workers, n, func(w *worker, i int) error {
		o := outlook{row: rows[i], slip: slips[i][0], errs: errs[i], ahead: true}
		if follows && grid.Classes() == f.fit.grid.Classes() {
			if err := o.inherit(f.fit, &r, &f.fit.runs[last], &f.fit.now[last]); err != nil {
				return err
			}
			if o.residueSpread > 0 {
				like := o.residueClasses
				o.residue = math.Max(o.residue+o.residueSpread*rests[i][0], 1e-6)
				if err := o.sizeResidue(grid, &r, like); err != nil {
					return err
				}
			}
		}
		one, err := w.outcome(&r, &o, f.fit.setup.Area)
		all[i] = one
		return err
	})
	if err == nil && r.Load.Watts > 0 {
		d.yield.restack(&r, f.fit.straying(r.setting()), all)
	}
	return all, err
}

// Reckon says what comes of a run in an empty mill whose parameters are known:
// one row of a draw. Area is the inner wall a charge touches [m²].
func Reckon(row []float64, area float64, r Run) (Outcome, error) {
	if err := r.check(); err != nil {
		return Outcome{}, err
	}
	_, workers, err := workshop(r.Largest, fitTolerance)
	if err != nil {
		return Outcome{}, err
	}
	return workers[0].outcome(&r, &outlook{row: row}, area)
}

// outcome runs one draw.
func (w *worker) outcome(r *Run, o *outlook, area float64) (Outcome, error) {
	grid := w.grid
	out := Outcome{Wall: math.NaN(), Charge: math.NaN(), Cooling: math.NaN(), Stall: math.NaN()}
	var g *ground
	var err error
	if r.Load.Watts > 0 {
		if g, err = grindRun(w.mill, grid, o.row, r, o.residueClasses); err != nil {
			return out, err
		}
		out.in = r.in(o.residue)
		out.Product = math.Min(end(g.passed)*(1-o.row[Dust])*g.misses(o.errs[errorOfProduct]), out.in)
		out.Left = math.Min(end(g.held)*math.Exp(o.errs[errorOfLeft]), out.in)
		out.Energy = drawn(o.row, r, g) * math.Exp(o.errs[errorOfEnergy])
	}
	all := r.readings()
	seen, err := r.foresee(all, o.row, area, o, grid, g)
	if err != nil {
		return out, err
	}
	if _, _, ok := r.startOf(o.residue); ok && g != nil {
		out.Wall, out.Charge = seen.wall, seen.charge
	}
	if r.WallStopped != nil && r.Rest != nil {
		out.Cooling = cooled(o.row, r)
	}
	if r.StallOdds != nil {
		out.Stall = 1 / (1 + math.Exp(-*r.StallOdds-StallSpread*o.row[StallShift]))
	}
	out.readings = seen.values
	for _, q := range all {
		out.spreads = append(out.spreads, r.spread(q, o.residue))
	}
	return out, nil
}

// Expected is a reading with the draws of what it should have been, its own
// error included.
type Expected struct {
	Of    Quantity
	Value float64 // as read: kg, K, J or log odds
	Draws []float64
}

// Expect draws what the readings of a run should be, without knowing them.
func (f *Fitted) Expect(r Run, n int, rng *rand.Rand) ([]Expected, error) {
	outcomes, err := f.Outcomes(r, n, rng)
	if err != nil {
		return nil, err
	}
	all := r.readings()
	out := make([]Expected, len(all))
	for k, q := range all {
		out[k] = Expected{Of: q.of, Value: q.value, Draws: make([]float64, n)}
		for i := range outcomes {
			out[k].Draws[i] = outcomes[i].readings[k] + outcomes[i].spreads[k]*rng.NormFloat64()
		}
		if by := shoulder[q.of]; by > 0 && len(f.fit.runs) > 0 {
			shouldered(out[k].Draws, by)
		}
	}
	return out, nil
}

// sheet puts what is known of the sheet in use into the beliefs.
func (b *Beliefs) sheet(r *Run) {
	for _, own := range [...]struct {
		p Param
		v *float64
	}{{Hole, r.Hole}, {OpenShare, r.OpenShare}} {
		if own.v != nil {
			one := &b[own.p]
			one.Median, one.Low, one.High, one.Family = *own.v, *own.v, *own.v, Exact
		}
	}
}
