package heat

// A run along its course, a rest, and a charge filled in.

import (
	"math"

	"hopperful/process"
)

// Course is a run as the grinding model tells it, and what it does to the
// temperatures. All slices have the same length; Charge and Wall are filled by
// Follow and may be nil.
type Course struct {
	Time   []float64 // since the start of the run [s], ascending, above 0
	Held   []float64 // mass in the mill then [kg], never rising
	Energy []float64 // energy put in since the start of the run [J], never falling

	Charge []float64 // temperature of the charge then [K]
	Wall   []float64 // temperature of the wall then [K]
}

// Follow moves the state on along a course that starts with mass held [kg] in
// a room [K], and books the heat; power is even between two times. It returns the highest charge
// temperature seen at any of them, the start among them [K]. It answers a
// RangeError as Step does, and for lengths that do not fit; the state is then as
// far as it came.
func (p *Pot) Follow(s *State, a *Account, held, room float64, c *Course) (float64, error) {
	if err := p.Check(); err != nil {
		return 0, err
	}
	if err := s.check(); err != nil {
		return 0, err
	}
	for k, row := range [...][]float64{c.Held, c.Energy, c.Charge, c.Wall} {
		if needed := k < 2; (row != nil || needed) && len(row) != len(c.Time) {
			n := float64(len(c.Time))
			return 0, process.Within("places in the course", float64(len(row)), n, n, "", "own derivation")
		}
	}
	hottest := s.Charge
	at := place{held: held}
	for k, t := range c.Time {
		next := place{t, c.Held[k], c.Energy[k]}
		if err := p.between(s, a, at, next, room); err != nil {
			return hottest, err
		}
		at = next
		hottest = max(hottest, s.Charge)
		if c.Charge != nil {
			c.Charge[k] = s.Charge
		}
		if c.Wall != nil {
			c.Wall[k] = s.Wall
		}
	}
	return hottest, nil
}

// place is one place of a course.
type place struct {
	time   float64 // since the start of the run [s]
	held   float64 // mass in the mill then [kg]
	energy float64 // energy put in since the start of the run [J]
}

// between steps from one place of a course to the next.
func (p *Pot) between(s *State, a *Account, from, to place, room float64) error {
	if !(to.time > from.time) {
		return process.Above("course time", to.time, from.time, "s", "own derivation")
	}
	// A last digit of rounding in the hold-up is no fresh feed.
	if !(to.held <= from.held*(1+1e-9)) {
		return process.Within("charge mass in the course", to.held, 0, from.held, "kg", "own derivation")
	}
	time := to.time - from.time
	span := Span{Time: time, Power: (to.energy - from.energy) / time, From: from.held, To: min(to.held, from.held), Room: room}
	if err := span.check(); err != nil {
		return err
	}
	return p.step(s, a, span)
}

// Rest moves the state on while the mill stands for time [s], holding mass [kg],
// 0 when it was emptied, in a room [K]. An open lid multiplies UA by lid, 1 to 20;
// 1 is closed. It answers a RangeError as Step does.
func (p *Pot) Rest(s *State, a *Account, time, mass, room, lid float64) error {
	if !(lid >= 1 && lid <= 20) {
		return process.Within("factor of the open lid", lid, 1, 20, "", "judgement")
	}
	open := *p
	open.Loss *= lid
	return open.Step(s, a, Span{Time: time, From: mass, To: mass, Room: room})
}

// RestUntil returns how long the empty pot has to stand until its wall has
// cooled to a temperature [s]: 0 when it is there already.
//
//	p       the pot, see its fields
//	wall    temperature of the wall [K], 233 to 673
//	target  temperature to cool to [K], above room
//	room    temperature of the room [K], 233 to 673
//	lid     factor of the open lid on UA [–], 1 to 20
//
// Equation: t = C_w/(UA·lid) · ln((T_w − T_room)/(T_target − T_room)).
// Holds for: an emptied pot in still air at constant UA; UA itself falls a little as the wall cools, so it reads short.
// Source: own derivation.
// Errors: RangeError for a target at or below the room, no loss, or arguments out of range.
// Checks: RestUntil rows of checks.csv (3 own derivation, 1 refusal).
func RestUntil(p Pot, wall, target, room, lid float64) (float64, error) {
	if err := p.Check(); err != nil {
		return 0, err
	}
	if err := (State{wall, wall}).check(); err != nil {
		return 0, err
	}
	if !(room >= coldest && room <= hottest) {
		return 0, process.Within("room temperature", room, coldest, hottest, "K", "judgement")
	}
	if !(lid >= 1 && lid <= 20) {
		return 0, process.Within("factor of the open lid", lid, 1, 20, "", "judgement")
	}
	if target >= wall {
		return 0, nil
	}
	if !(target > room) {
		return 0, process.Above("temperature to cool to", target, room, "K", "own derivation")
	}
	if !(p.Loss > 0) {
		return 0, process.Above("conductance to the room", p.Loss, 0, "W/K", "own derivation")
	}
	return p.Wall / (p.Loss * lid) * math.Log((wall-room)/(target-room)), nil
}

// MixTemperature returns the temperature of two masses of one polymer put
// together [K].
//
//	m1, m2  masses [kg], not both 0
//	t1, t2  their temperatures [K], above 0
//
// Equation: T = (m1 T1 + m2 T2)/(m1 + m2).
// Holds for: one polymer without melting.
// Source: own derivation.
// Errors: RangeError for masses below 0 or both 0, temperatures not above 0.
// Checks: MixTemperature row of checks.csv (1 own derivation).
func MixTemperature(m1, t1, m2, t2 float64) (float64, error) {
	for _, v := range [...]float64{m1, m2} {
		if !(v >= 0 && v <= 1e4) {
			return 0, process.Within("mass", v, 0, 1e4, "kg", "judgement")
		}
	}
	for _, v := range [...]float64{m1 + m2, t1, t2} {
		if !(v > 0 && v <= 1e5) {
			return 0, process.Above("mass together or temperature", v, 0, "", "own derivation")
		}
	}
	return (m1*t1 + m2*t2) / (m1 + m2), nil
}
