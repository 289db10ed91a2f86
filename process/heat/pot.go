package heat

// Charge, wall and room.

import (
	"math"

	"hopperful/process"
)

// Coldest and hottest bound every temperature here [K]: −40 to 400 °C.
const (
	coldest = 233.15
	hottest = 673.15
)

// Pot is what heats and cools in a mill.
type Pot struct {
	Wall         float64 // C_w, heat capacity of pot, plate and lid [J/K], above 0 to 1e6
	Exchange     float64 // K, conductance between charge and a wall that it covers [W/K], 0 to 1e5
	Loss         float64 // UA, conductance between wall and room [W/K], 0 to 1e4
	ToCharge     float64 // η, share of the power that heats the charge first [–], 0 to 1
	SpecificHeat float64 // c_p of the charge [J/(kg K)], 100 to 10000
	Layer        float64 // M, mass of one layer of grains all over the wall [kg], 0 to 100; 0: any mass covers it
}

// State is how warm a pot is.
type State struct {
	Charge float64 // mean temperature of the charge [K], 233.15 to 673.15
	Wall   float64 // temperature of the wall, what a hand thermometer reads [K], 233.15 to 673.15
}

// Account is where the heat went since it was last zeroed, all against the
// temperature of the room.
type Account struct {
	In         float64 // mechanical power turned to heat [J]
	Lost       float64 // from the wall to the room [J]
	CarriedOut float64 // with product that left [J]
}

// Check refuses a pot outside the ranges of its fields with a RangeError.
func (p *Pot) Check() error {
	for _, f := range [...]struct {
		name          string
		value, lo, hi float64
		unit          string
	}{
		{"heat capacity of the wall", p.Wall, 1e-3, 1e6, "J/K"}, {"conductance to the wall", p.Exchange, 0, 1e5, "W/K"}, {"layer on the wall", p.Layer, 0, 100, "kg"},
		{"conductance to the room", p.Loss, 0, 1e4, "W/K"}, {"share of the power to the charge", p.ToCharge, 0, 1, ""},
		{"specific heat", p.SpecificHeat, 100, 1e4, "J/(kg K)"},
	} {
		if !(f.value >= f.lo && f.value <= f.hi) {
			return process.Within(f.name, f.value, f.lo, f.hi, f.unit, "judgement")
		}
	}
	return nil
}

// Span is a stretch of time over which power is constant and mass changes
// evenly.
type Span struct {
	Time  float64 // its length [s], 0 to a day
	Power float64 // mechanical power turned to heat [W], 0 to 1e5
	From  float64 // charge mass at its start [kg], 0 to 1e4
	To    float64 // charge mass at its end [kg], 0 to From
	Room  float64 // temperature of the room [K], 233.15 to 673.15
}

func (s Span) check() error {
	switch {
	case !(s.Time >= 0 && s.Time <= 86400):
		return process.Within("time", s.Time, 0, 86400, "s", "judgement")
	case !(s.Power >= 0 && s.Power <= 1e5):
		return process.Within("power", s.Power, 0, 1e5, "W", "judgement")
	case !(s.From >= 0 && s.From <= 1e4):
		return process.Within("charge mass", s.From, 0, 1e4, "kg", "judgement")
	case !(s.To >= 0 && s.To <= s.From):
		return process.Within("charge mass at the end", s.To, 0, s.From, "kg", "own derivation")
	case !(s.Room >= coldest && s.Room <= hottest):
		return process.Within("room temperature", s.Room, coldest, hottest, "K", "judgement")
	}
	return nil
}

// Step moves the state on over a span and books the heat. Constant coefficients
// are solved exactly; half of the mass that leaves does so at the start of the
// span, half at its end, which is of second order in the span. Product leaves as
// warm as the charge. All power heats the wall when the pot is empty. It answers
// a RangeError and leaves everything as it was for a pot, state or span out of
// range, and an error when the state would leave −40 to 400 °C.
func (p *Pot) Step(s *State, a *Account, span Span) error {
	if err := p.Check(); err != nil {
		return err
	}
	if err := s.check(); err != nil {
		return err
	}
	if err := span.check(); err != nil {
		return err
	}
	return p.step(s, a, span)
}

func (s State) check() error {
	if !(s.Charge >= coldest && s.Charge <= hottest) {
		return process.Within("charge temperature", s.Charge, coldest, hottest, "K", "judgement")
	}
	if !(s.Wall >= coldest && s.Wall <= hottest) {
		return process.Within("wall temperature", s.Wall, coldest, hottest, "K", "judgement")
	}
	return nil
}

func (p *Pot) step(s *State, a *Account, span Span) error {
	mass := (span.From + span.To) / 2
	above := State{s.Charge - span.Room, s.Wall - span.Room}
	out := p.SpecificHeat * (span.From - mass) * above.Charge
	var lost float64
	// A charge too light to have a temperature of its own counts to the wall.
	if c := mass * p.SpecificHeat; c > 1e-9*p.Wall {
		above, lost = p.both(above, c, span.Time, span.Power)
	} else {
		above.Wall = (p.Wall*above.Wall + c*above.Charge) / (p.Wall + c)
		above.Wall, lost = p.alone(above.Wall, p.Wall+c, span.Time, span.Power)
		above.Charge = above.Wall
	}
	out += p.SpecificHeat * (mass - span.To) * above.Charge
	next := State{above.Charge + span.Room, above.Wall + span.Room}
	if err := next.check(); err != nil {
		return err
	}
	*s = next
	a.In += span.Power * span.Time
	a.Lost += lost
	a.CarriedOut += out
	return nil
}

// exchange is the conductance between so much of a charge and the wall. Grains
// thrown at random cover a spot of it or not, each on its own (Poisson): the less
// is held, the less of the wall takes its heat.
func (p *Pot) exchange(mass float64) float64 {
	if p.Layer <= 0 {
		return p.Exchange
	}
	return p.Exchange * -math.Expm1(-mass/p.Layer)
}

// alone solves the wall as one body of a heat capacity; it returns its
// temperature above the room and the heat lost.
func (p *Pot) alone(above, capacity, time, power float64) (float64, float64) {
	z := -p.Loss / capacity * time
	warm := above*math.Exp(z) + power/capacity*time*phi1(z)
	mean := above*phi1(z) + power/capacity*time*phi2(z)
	return warm, p.Loss * time * mean
}

// both solves charge (heat capacity c) and wall together.
//
// θ' = M θ + s. With the eigenvalues λ1 > λ2 of M and a function f,
// f(Mt) = f(λ1 t) + f[λ1 t, λ2 t] (M − λ1) t, the bracket a divided difference;
// then θ(t) = e^(Mt) θ0 + t φ1(Mt) s and ∫θ = t φ1(Mt) θ0 + t² φ2(Mt) s.
func (p *Pot) both(above State, c, time, power float64) (State, float64) {
	exchange := p.exchange(c / p.SpecificHeat)
	m11, m12 := -exchange/c*time, exchange/c*time
	m21, m22 := exchange/p.Wall*time, -(exchange+p.Loss)/p.Wall*time
	half := math.Sqrt((m11-m22)*(m11-m22)/4 + m12*m21)
	z2 := (m11+m22)/2 - half
	z1 := 0.0
	if z2 != 0 {
		// The product of the eigenvalues is the determinant; no cancellation.
		z1 = exchange / c * time * p.Loss / p.Wall * time / z2
	}
	apply := func(f1, f2 float64, v State) State {
		slope := 0.0
		if z1 != z2 {
			slope = (f1 - f2) / (z1 - z2)
		}
		return State{
			Charge: f1*v.Charge + slope*((m11-z1)*v.Charge+m12*v.Wall),
			Wall:   f1*v.Wall + slope*(m21*v.Charge+(m22-z1)*v.Wall),
		}
	}
	src := State{p.ToCharge * power / c * time, (1 - p.ToCharge) * power / p.Wall * time}
	p1, p2 := phi1(z1), phi1(z2)
	free := apply(math.Exp(z1), math.Exp(z2), above)
	forced := apply(p1, p2, src)
	mean := apply(p1, p2, above)
	meanForced := apply(phi2(z1), phi2(z2), src)
	lost := p.Loss * time * (mean.Wall + meanForced.Wall)
	return State{free.Charge + forced.Charge, free.Wall + forced.Wall}, lost
}

// phi1 is (e^z − 1)/z.
func phi1(z float64) float64 {
	if z == 0 {
		return 1
	}
	return math.Expm1(z) / z
}

// phi2 is (e^z − 1 − z)/z², by its series where that cancels.
func phi2(z float64) float64 {
	if math.Abs(z) > 0.5 {
		return (phi1(z) - 1) / z
	}
	term, total := 0.5, 0.0
	for k := 3.0; math.Abs(term) > 1e-18; k++ {
		total += term
		term *= z / k
	}
	return total
}
