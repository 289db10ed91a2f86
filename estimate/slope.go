package estimate

import "math"

// How a run's forecasts change with its parameters, by finite differences.

// nudge is the step of a difference, in standard deviations of the prior. Small
// against a prior, large against the solver's tolerance.
const nudge = 0.05

// grinds are the parameters a difference has to grind again for. Toughness and
// open share follow from two of them.
var grinds = []Param{BreakRate, Discharge, SizeExponent, FineShare, FineSlope, CoarseSlope, RotorReach, RotorSharpness,
	Hole, HoldMass, PowerScale, IdleShare, PieceShare, Hindrance}

// warms are those that touch only temperatures.
var warms = []Param{HeatShare, Film, WallCapacity, WallLoss, LidFactor, SpecificHeat}

// logSlope is how the logarithm of a log-normal or logit parameter changes with
// its score.
func logSlope(b *Belief, z float64) float64 {
	s := b.slope(z)
	if b.Family == Logit {
		return s * (1 - b.at(z))
	}
	return s
}

// slopes are the derivatives of a run's readings: one row a parameter, of the
// score, and for the two rates of the logarithm as well.
type slopes struct {
	byScore    [paramCount][]float64 // nil: no change
	byLogBreak []float64
	byLogLeave []float64
	byError    [errorKinds][]float64 // of the logarithm of the models' error
	byClock    []float64             // of the clock's usual slip
	byResidue  []float64             // of what lay in the mill, by its spread; nil where that is known
}

// differ works a run's slopes out at a row whose scores are given. want leaves
// out parameters that no record has anything to say about.
func (w *worker) differ(f *fit, i int, want *[paramCount]bool) (*slopes, error) {
	r, at := &f.runs[i], &f.now[i]
	s := &slopes{}
	if at.ground != nil {
		if err := w.differGrinding(f, i, want, s); err != nil {
			return nil, err
		}
		s.byClock = r.clockSlope(f.readings[i], at.row, at.ground)
		if err := w.differError(f, i, s); err != nil {
			return nil, err
		}
		if want[Dust] {
			s.byScore[Dust] = f.dustSlope(i)
		}
	}
	for _, p := range warms {
		b := &f.priors(i)[p]
		if !want[p] || b.known() {
			continue
		}
		moved := at.moved(p, b.at(at.score[p]+nudge))
		to, err := r.foresee(f.readings[i], moved, f.setup.Area, at, f.grid, at.ground)
		if err != nil {
			return nil, err
		}
		s.byScore[p] = difference(to.values, at.values, nudge)
	}
	return s, nil
}

// differGrinding runs the mill once more for every parameter of the grinding.
func (w *worker) differGrinding(f *fit, i int, want *[paramCount]bool, s *slopes) error {
	r, at, priors := &f.runs[i], &f.now[i], f.priors(i)
	for _, p := range grinds {
		rate := p == BreakRate || p == Discharge
		b := &priors[p]
		if !rate && (!want[p] || b.known() || p == IdleShare && r.Load.IdleShare > 0) {
			continue
		}
		step := nudge
		value := b.at(at.score[p] + nudge)
		if rate {
			value = at.row[p] * math.Exp(nudge)
		}
		moved := at.moved(p, value)
		g, err := grindRun(w.mill, f.grid, moved, r, at.residueClasses)
		if err != nil {
			return err
		}
		to, err := r.foresee(f.readings[i], moved, f.setup.Area, at, f.grid, g)
		if err != nil {
			return err
		}
		change := difference(to.values, at.values, step)
		switch p {
		case BreakRate:
			s.byLogBreak = change
			s.byScore[p] = scaled(change, logSlope(b, at.score[p]))
			t := &priors[Toughness]
			s.byScore[Toughness] = scaled(change, -logSlope(t, at.score[Toughness]))
		case Discharge:
			s.byLogLeave = change
			s.byScore[p] = scaled(change, logSlope(b, at.score[p]))
			s.byScore[OpenShare] = scaled(change, logSlope(&priors[OpenShare], at.score[OpenShare]))
		default:
			s.byScore[p] = change
		}
	}
	return nil
}

// leastRise is the rise that the models' error of heat is in proportion to at the
// least [K]: a thermometer's place and a draught are never less. Judgement.
const leastRise = 2.0

// differError works out how the readings change with the models' error, and with
// what lay in the mill before.
func (w *worker) differError(f *fit, i int, s *slopes) error {
	r, at := &f.runs[i], &f.now[i]
	all := f.readings[i]
	wall, charge, _ := r.startOf(at.residue)
	for k := range s.byError {
		s.byError[k] = make([]float64, len(all))
	}
	var coarser []float64
	for k, q := range all {
		switch q.of {
		case OfProduct:
			s.byError[errorOfProduct][k] = at.values[k] * at.bite()
		case OfLeft:
			s.byError[errorOfLeft][k] = at.values[k]
		case OfWall:
			s.byError[errorOfHeat][k] = math.Max(at.values[k]-wall, leastRise)
		case OfCharge:
			s.byError[errorOfCharge][k] = math.Max(at.values[k]-charge, leastRise)
		case OfEnergy:
			s.byError[errorOfEnergy][k] = at.values[k]
		case OfSieve:
			if coarser == nil {
				var err error
				if coarser, err = r.Sieved.expected(f.grid, at.ground, at.errs[errorOfSizes]+nudge); err != nil {
					return err
				}
			}
			s.byError[errorOfSizes][k] = (r.Sieved.odds(coarser, q.sieve) - at.values[k]) / nudge
		}
	}
	if at.residueSpread == 0 {
		return nil
	}
	more := *at
	more.residue, more.residueClasses = at.residue+0.5*at.residueSpread, nil
	if err := more.sizeResidue(f.grid, r, at.residueClasses); err != nil {
		return err
	}
	g, err := grindRun(w.mill, f.grid, at.row, r, more.residueClasses)
	if err != nil {
		return err
	}
	to, err := r.foresee(all, at.row, f.setup.Area, &more, f.grid, g)
	if err != nil {
		return err
	}
	s.byResidue = difference(to.values, at.values, 0.5)
	return nil
}

// dustSlope is how dust changes the product.
func (f *fit) dustSlope(i int) []float64 {
	at, b := &f.now[i], &f.priors(i)[Dust]
	out := make([]float64, len(f.readings[i]))
	lost := b.at(at.score[Dust]+nudge) - at.row[Dust]
	for k, q := range f.readings[i] {
		if q.of == OfProduct {
			out[k] = -end(at.ground.passed) * lost / nudge * at.misses(at.errs[errorOfProduct])
		}
	}
	return out
}

func difference(to, from []float64, step float64) []float64 {
	out := make([]float64, len(to))
	for k := range to {
		out[k] = (to[k] - from[k]) / step
	}
	return out
}

func scaled(v []float64, by float64) []float64 {
	out := make([]float64, len(v))
	for k := range v {
		out[k] = by * v[k]
	}
	return out
}
