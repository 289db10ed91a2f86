package estimate

import (
	"math"

	"hopperful/process/breakage"
)

// Quantity is what a reading was taken of.
type Quantity int

// The quantities.
const (
	OfProduct Quantity = iota // through the screen [kg]
	OfLeft                    // in the mill at the end [kg]
	OfWall                    // wall at the end [K]
	OfCharge                  // charge at the end [K]
	OfCooling                 // wall after a rest [K]
	OfEnergy                  // from the socket [J]
	OfSieve                   // of what passed the next sieve, the share that passes this one [log odds]
	quantities
)

// How well a shop reads. Judgement where no source is named; a kind of reading
// that turns out worse than this is trusted less, see [Fit].
const (
	handling  = 0.02  // of a mass, in pouring and tapping
	leastMass = 0.25  // of what went in: masses below err as much as this one
	clock     = 2.0   // s, of a run's start and stop
	degrees   = 1.0   // K, of a thermometer on one spot, within minutes, read to a whole degree
	restRead  = 1.5   // K, of it at either end of a rest
	sameSpot  = 0.5   // of that at the start, for it is the same thermometer on the same spot
	stirred   = 2.5   // K, of a charge: hot and cool grains lie side by side
	guessed   = 3.0   // K, of a temperature that nobody read
	meter     = 0.03  // of an energy
	meterStep = 1800. // J, half a watt-hour: the last digit of a plug-in meter
	sieving   = 0.15  // log odds of a share on a sieve
	crumbs    = 0.004 // of a sample, lost between the sieves
	steepness = 2.0   // log odds of a share on a sieve, for all sizes e times as large
)

// reading is one measured number of a run.
type reading struct {
	of    Quantity
	value float64 // in the quantity's unit
	sieve int     // index of the opening
}

// readings lists what a run says.
func (r *Run) readings() []reading {
	var all []reading
	add := func(of Quantity, v *float64) {
		if v != nil {
			all = append(all, reading{of: of, value: *v})
		}
	}
	if r.WallStopped != nil && r.Rest != nil && *r.Rest > 0 {
		add(OfCooling, r.WallBefore)
	}
	if !r.grindable() {
		return all
	}
	add(OfProduct, r.Product)
	add(OfLeft, r.Left)
	if _, _, ok := r.startOf(0); ok {
		add(OfWall, r.WallAfter)
		add(OfCharge, r.ChargeAfter)
	}
	add(OfEnergy, r.Energy)
	if r.Sieved != nil {
		for i := range r.Sieved.Openings {
			all = append(all, reading{of: OfSieve, value: r.Sieved.odds(r.Sieved.Passing, i), sieve: i})
		}
	}
	return all
}

// odds are the log odds that what passes sieve i+1 also passes sieve i. These
// of all sieves together say the whole distribution, and unlike the cumulative
// shares they err independently of each other.
func (s *Sieved) odds(passing []float64, i int) float64 {
	above := 1.0
	if i+1 < len(passing) {
		above = passing[i+1]
	}
	share := 0.5 // nothing reaches this sieve, so it says nothing
	if above > 2*crumbs {
		share = passing[i] / above
	}
	share = math.Min(math.Max(share, crumbs/2), 1-crumbs/2)
	return math.Log(share / (1 - share))
}

// spread is the standard deviation of a reading's error when nothing goes
// wrong, in the quantity's unit.
func (r *Run) spread(q reading, residue float64) float64 {
	slip := 0.0 // of the start temperature
	switch {
	case r.WallBefore != nil:
		slip = sameSpot * degrees
	default:
		slip = guessed
	}
	switch q.of {
	case OfProduct, OfLeft:
		mass := math.Max(math.Min(q.value, r.in(residue)), leastMass*r.in(residue))
		return math.Hypot(r.Resolution, handling*mass)
	case OfWall:
		return math.Hypot(degrees, slip)
	case OfCharge:
		return math.Hypot(stirred, slip/2)
	case OfCooling:
		spread := math.Hypot(restRead, restRead)
		if r.RoomGuessed {
			spread = math.Hypot(spread, guessed/2)
		}
		return spread
	case OfEnergy:
		return math.Hypot(meter*q.value, meterStep)
	}
	return r.Sieved.spread(q.sieve)
}

// spread is the standard deviation of the log odds at a sieve. Close to the
// hole the model knows only whole classes, so it is held to little there.
func (s *Sieved) spread(i int) float64 {
	above := 1.0
	if i+1 < len(s.Passing) {
		above = s.Passing[i+1]
	}
	v := sieving
	if above <= 2*crumbs {
		return 10
	}
	p := math.Min(math.Max(s.Passing[i]/above, crumbs), 1-crumbs)
	return math.Hypot(math.Hypot(v, steepness*s.Spread), crumbs/above/(p*(1-p)))
}

// forecast is what the models say a run's readings should be.
type forecast struct {
	*ground
	warmed
	values []float64 // one a reading
}

// clockSlope is how the readings change when the run was longer than written
// down by the clock's usual slip: all of them at once, which is why the slip is
// no part of their own spreads.
func (r *Run) clockSlope(all []reading, row []float64, g *ground) []float64 {
	out := make([]float64, len(all))
	slip := math.Min(clock, r.Time/2)
	for k, q := range all {
		switch q.of {
		case OfProduct:
			out[k] = slip * g.flow() * (1 - row[Dust])
		case OfLeft:
			out[k] = -slip * g.flow()
		case OfEnergy:
			out[k] = slip * (Idle(row, r.Load) + g.power())
		}
	}
	return out
}

// foresee fills in what each reading should be, with the residue, the slip of the
// clock and the models' error of an outlook; g is nil where only cooling was read.
func (r *Run) foresee(all []reading, row []float64, area float64, o *outlook, grid breakage.Grid, g *ground) (forecast, error) {
	f := forecast{ground: g, values: make([]float64, len(all))}
	if g != nil {
		if wall, charge, ok := r.startOf(o.residue); ok {
			f.warmed = warmRun(row, area, r, g, wall, charge).erring(wall, charge, &o.errs)
			if o.ahead {
				f.warmed.wall += r.unread(f.warmed.wall-wall) * math.Expm1(o.errs[errorOfHeat])
			}
		}
	}
	var passing []float64
	for k, q := range all {
		switch q.of {
		case OfProduct:
			f.values[k] = end(g.passed) * (1 - row[Dust]) * g.misses(o.errs[errorOfProduct])
		case OfLeft:
			f.values[k] = end(g.held) * math.Exp(o.errs[errorOfLeft])
		case OfWall:
			f.values[k] = f.wall
		case OfCharge:
			f.values[k] = f.charge
		case OfCooling:
			f.values[k] = cooled(row, r)
		case OfEnergy:
			f.values[k] = drawn(row, r, g) * math.Exp(o.errs[errorOfEnergy])
		case OfSieve:
			if passing == nil {
				var err error
				if passing, err = r.Sieved.expected(grid, g, o.errs[errorOfSizes]); err != nil {
					return f, err
				}
			}
			f.values[k] = r.Sieved.odds(passing, q.sieve)
		}
	}
	if g != nil && o.slip != 0 {
		for k, by := range r.clockSlope(all, row, g) {
			f.values[k] += o.slip * by
		}
	}
	return f, nil
}

// expected are the shares that pass a stack when all grains are larger than the
// models say by a factor exp(err).
func (s *Sieved) expected(grid breakage.Grid, g *ground, err float64) ([]float64, error) {
	at := make([]float64, len(s.Openings))
	for i, size := range s.Openings {
		at[i] = size * math.Exp(-err)
	}
	passing := make([]float64, len(at))
	return passing, grid.Passing(g.passedClasses, at, passing)
}
