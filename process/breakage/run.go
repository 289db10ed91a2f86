package breakage

// A run: steps as long as the tolerance allows.

import (
	"errors"
	"math"

	"hopperful/process"
)

// ErrSteps says that a run needed more steps than any sound mill does.
var ErrSteps = errors.New("grinding run: over 200000 steps; lower the breakage rate, the net power or the duration, or allow a larger tolerance")

const mostSteps = 200000

// longestRun bounds a run [s]: a day.
const longestRun = 86400

// Run grinds the charge for duration [s], 0 to a day, and writes the course if
// it is not nil. Mass is kept to rounding; a class mass is right to about the
// tolerance times the charge. It answers a RangeError for masses, times or lengths out
// of range and [ErrSteps]; the charge is then as far as it came.
func (m *Mill) Run(c *Charge, duration float64, course *Course) error {
	if err := m.ready(c, duration); err != nil {
		return err
	}
	s := m.begin(c)
	if course == nil {
		return m.advance(c, &s, duration)
	}
	if err := course.check(duration, m.grid.Classes()); err != nil {
		return err
	}
	if course.HeldClasses == nil && course.PassedClasses == nil {
		return m.watch(c, &s, duration, course)
	}
	for k, t := range course.Time {
		if err := m.advance(c, &s, t); err != nil {
			return err
		}
		course.note(k, c, m.PowerAt(c.HeldMass()))
	}
	return m.advance(c, &s, duration)
}

// watch runs up to the end with steps as long as they may be, and sees the masses in
// between on the way: no step need end at a look.
func (m *Mill) watch(c *Charge, s *stepper, end float64, course *Course) error {
	k, whole := 0, c.HeldMass()+c.PassedMass()
	at := m.knot(c, s, whole)
	for ; k < len(course.Time) && (course.Time[k] <= 0 || s.floor == 0); k++ {
		course.see(k, at, m)
	}
	if s.floor == 0 { // nothing to grind
		return m.advance(c, s, end)
	}
	for s.time < end {
		h, err := m.try(c, s, end)
		if err != nil {
			return err
		}
		m.accept(c, s, h, end)
		if k == len(course.Time) {
			continue
		}
		next := m.knot(c, s, whole)
		for ; k < len(course.Time) && course.Time[k] < s.time; k++ {
			course.see(k, seenAt(at, next, course.Time[k]), m)
		}
		for ; k < len(course.Time) && course.Time[k] == s.time; k++ {
			course.see(k, next, m)
		}
		at = next
	}
	return nil
}

// RunToShare grinds until share of all the charge's mass has passed the
// screen, at most for longest [s]. It returns the time it took and whether the
// share was reached. It answers the errors of Run, and a RangeError for a share outside 0 to 1.
func (m *Mill) RunToShare(c *Charge, share, longest float64) (time float64, reached bool, err error) {
	if err := process.Within("share to pass", share, 0, 1, "", "own derivation"); err != nil {
		return 0, false, err
	}
	if err := m.ready(c, longest); err != nil {
		return 0, false, err
	}
	passed := c.PassedMass()
	want := share*(passed+c.HeldMass()) - passed // still to pass in this run
	if want <= 0 {
		return 0, true, nil
	}
	s := m.begin(c)
	for s.time < longest {
		held := c.HeldMass()
		before := c.PassedMass() - passed
		h, err := m.try(c, &s, longest)
		if err != nil {
			return s.time, false, err
		}
		if over := before + m.gain(held) - want; over >= 0 {
			return m.stopAt(c, &s, held, h, before-want, over), true, nil
		}
		m.accept(c, &s, h, longest)
	}
	return s.time, false, nil
}

// gain is the mass that passed in the last trial [kg].
func (m *Mill) gain(held float64) float64 { return held - sum(m.stage[stages-1][:m.pan+1]) }

// stopAt shortens the last trial, h long, until just the wanted mass has
// passed: short is what is missing at its start (negative), over the excess at its end.
func (m *Mill) stopAt(c *Charge, s *stepper, held, h, short, over float64) float64 {
	lo, hi := 0.0, h
	atLo, atHi := short, over
	for range 40 {
		// False position, the stale end halved (Illinois).
		mid := lo + (hi-lo)*atLo/(atLo-atHi)
		s.energy, s.then, _ = m.trial(c.Held, s.floor, s.first, mid, s.now.perMass, s.now.slope*mid/4)
		miss := short + m.gain(held)
		h = mid
		if math.Abs(miss) <= 1e-10*held || hi-lo <= 1e-12*(s.time+hi) {
			break
		}
		if miss < 0 {
			lo, atLo, atHi = mid, miss, atHi/2
		} else {
			hi, atHi, atLo = mid, miss, atLo/2
		}
	}
	m.accept(c, s, h, math.Inf(1))
	return s.time
}

// nothing is the share of the floor below which a class counts as empty: rounding adds up to
// as much.
const nothing = 1e-12

// stepper is where a run stands.
type stepper struct {
	time   float64 // since the start [s]
	step   float64 // length the next step may have [s]
	now    power   // specific power now
	then   power   // specific power at the end of the last trial
	energy float64 // energy of the last trial [J]
	grow   float64 // factor for the step after the last trial
	floor  float64 // mass that errors are weighed against: a tenth of the charge [kg]
	first  int     // coarsest class with mass
	count  int     // trials so far
}

func (m *Mill) ready(c *Charge, duration float64) error {
	if err := c.check(m.grid.Classes()); err != nil {
		return err
	}
	return process.Within("duration", duration, 0, longestRun, "s", "judgement")
}

// begin sets a stepper at the start of a run, its first step a share of the
// fastest change.
func (m *Mill) begin(c *Charge) stepper {
	held := c.HeldMass()
	s := stepper{floor: held / 10, now: power{perMass: m.power.perMass(held)}}
	for s.first < m.pan && c.Held[s.first] == 0 {
		s.first++
	}
	var fastest float64
	for i := s.first; i <= m.pan; i++ {
		if c.Held[i] > 0 {
			fastest = max(fastest, s.now.perMass*m.specific[i]+m.leave[i])
		}
	}
	s.step = math.Sqrt(math.Sqrt(m.tolerance)) / max(fastest, 1e-9)
	return s
}

// advance runs up to time end.
func (m *Mill) advance(c *Charge, s *stepper, end float64) error {
	if s.floor == 0 { // nothing to grind
		s.time = end
	}
	for s.time < end {
		h, err := m.try(c, s, end)
		if err != nil {
			return err
		}
		m.accept(c, s, h, end)
	}
	return nil
}

// try finds a step that keeps the tolerance, not beyond end, and returns its
// length; the trial is in stage and in s.
func (m *Mill) try(c *Charge, s *stepper, end float64) (float64, error) {
	for ; s.count < mostSteps; s.count++ {
		h := s.step
		if left := end - s.time; h > left {
			h = left
		} else if h > 0.5*left {
			h = left / 2 // two even steps instead of a long and a sliver
		}
		var fault float64
		s.energy, s.then, fault = m.trial(c.Held, s.floor, s.first, h, s.now.perMass, s.now.slope*h/4)
		s.grow = min(5, max(0.15, 0.9/math.Sqrt(math.Sqrt(fault+1e-9))))
		if fault <= 1 {
			return h, nil
		}
		s.step = h * s.grow
	}
	return 0, ErrSteps
}

// accept takes the last trial, h long, on a run up to end.
func (m *Mill) accept(c *Charge, s *stepper, h, end float64) {
	m.take(c, s.first, h, s.energy)
	for s.first < m.pan && c.Held[s.first] < nothing*s.floor { // all of its pieces are broken: it need not be looked at any more
		c.Held[s.first+1] += c.Held[s.first]
		c.Held[s.first] = 0
		s.first++
	}
	if h >= s.step {
		s.step = h * s.grow
	} else { // cut short by the end of a span; the step proposed before still stands
		s.step = max(s.step, h*s.grow)
	}
	if s.time += h; h >= end-(s.time-h) {
		s.time = end
	}
	s.now = s.then
	s.count++
}
