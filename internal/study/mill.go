package study

import (
	"math"
	"math/rand/v2"

	"hopperful/estimate"
	"hopperful/source"
)

// The invented bench mill's description: what its owner would know of it.
const (
	room      = 293.15 // [K]
	area      = 0.05   // [m²] of inner wall
	polymer   = "PLA"
	scale     = 0.001 // [kg] a digit
	thickness = 0.0016
	largest   = 0.035
)

// levels are what the mill draws at the three levels used, as guessed from its
// label.
var levels = []estimate.Load{{Watts: 350, Spread: 1.35, Level: 1}, {Watts: 550, Spread: 1.35, Level: 2}, {Watts: 800, Spread: 1.35, Level: 3}}

// described are the books' ranges for a mill whose owner knows its sheet and
// the mass of its pot.
func described() estimate.Beliefs {
	b := estimate.Prior()
	invented := source.Ref{Key: "invented"}
	b.Known(estimate.Hole, 0.003, 0, invented)
	b.Known(estimate.OpenShare, 0.3, 0, invented)
	around(&b[estimate.WallCapacity], 1500, 1.2)
	around(&b[estimate.WallLoss], 0.6, 1.7)
	around(&b[estimate.Toughness], 1, math.Sqrt2)
	around(&b[estimate.SpecificHeat], 1300, 1.12)
	return b
}

func around(b *estimate.Belief, median, factor float64) {
	b.Median, b.Low, b.High = median, median/factor, median*factor
}

// mill is an invented mill: the truth, and a clerk with a pencil.
type mill struct {
	truth  []float64 // its parameters
	priors estimate.Beliefs
	chance *rand.Rand
}

// invent draws a mill from the books' ranges.
func invent(seed uint64) (*mill, error) {
	m := &mill{priors: described(), chance: rand.New(rand.NewPCG(seed, 1))}
	none, err := estimate.Fit(estimate.Setup{Area: area, Priors: map[string]estimate.Beliefs{polymer: m.priors}}, nil)
	if err != nil {
		return nil, err
	}
	rows, err := none.Draws(m.priors, estimate.Target{Polymer: polymer, Screen: "3 mm", Levels: levels}, 1, m.chance)
	if err != nil {
		return nil, err
	}
	m.truth = rows[0]
	return m, nil
}

// task is a charge somebody might grind: mass, level and time at random.
func (m *mill) task() estimate.Run {
	return estimate.Run{
		Polymer: polymer, Screen: "3 mm", Charge: 0.08 + 0.14*m.chance.Float64(), Time: 30 + 90*m.chance.Float64(),
		Load: levels[m.chance.IntN(len(levels))], Largest: largest, Thickness: thickness, Room: room, Resolution: scale,
		WallBefore: known(room + 12*m.chance.Float64()),
	}
}

// outcome is what truly comes of a run.
func (m *mill) outcome(r estimate.Run) (estimate.Outcome, error) {
	return estimate.Reckon(m.truth, area, r)
}

// How the clerk errs, beyond what the fit is told of each reading: one entry in
// slips is mistyped. His thermometer errs by 1.5 K, most of it at both ends of a run
// alike, for it is held to the same spot.
const (
	slips    = 60
	bothEnds = 1.27 // K, at both ends alike
	oneEnd   = 0.8  // K, at one
)

// record runs a task and writes down what a shop would.
func (m *mill) record(id int64) (estimate.Run, error) {
	r := m.task()
	r.Record = id
	done := r
	done.Time += 2 * m.chance.NormFloat64()
	out, err := m.outcome(done)
	if err != nil {
		return r, err
	}
	alike := bothEnds * m.chance.NormFloat64()
	r.WallBefore = known(*r.WallBefore + alike + oneEnd*m.chance.NormFloat64())
	r.Product = m.weigh(out.Product, r.Charge)
	if m.chance.Float64() < 0.5 {
		r.Left = m.weigh(out.Left, r.Charge)
	}
	if m.chance.Float64() < 0.7 {
		r.WallAfter = known(out.Wall + alike + oneEnd*m.chance.NormFloat64())
	}
	if m.chance.Float64() < 0.3 {
		r.ChargeAfter = known(out.Charge + 1.5*m.chance.NormFloat64())
	}
	if m.chance.Float64() < 0.4 {
		r.Energy = known(math.Max(0, out.Energy*(1+0.03*m.chance.NormFloat64())+1800*m.chance.NormFloat64()))
	}
	return r, nil
}

// weigh reads a mass off the scale, now and then with a digit lost.
func (m *mill) weigh(kg, charge float64) *float64 {
	v := kg + 0.02*math.Max(kg, 0.25*charge)*m.chance.NormFloat64() + scale*m.chance.NormFloat64()
	if m.chance.IntN(slips) == 0 {
		v /= 10
	}
	return known(math.Max(0, math.Round(v/scale)*scale))
}
