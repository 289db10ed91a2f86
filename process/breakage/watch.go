package breakage

// A run seen between two steps.

// knot is a charge at the end of a step: its masses and energy, and how fast they change.
type knot struct {
	time, held, passed, energy float64
	leaving                    float64 // through the screen [kg/s]
	power                      float64 // into the charge [W]
}

// knot is where a charge of so much in all stands [kg].
func (m *Mill) knot(c *Charge, s *stepper, whole float64) knot {
	k := knot{time: s.time, energy: c.Energy}
	for i := s.first; i <= m.pan; i++ {
		k.held += c.Held[i]
		k.leaving += m.leave[i] * c.Held[i]
	}
	k.passed = whole - k.held
	k.power = s.now.perMass * k.held
	return k
}

// seenAt is a charge at a time between two knots: cubic in each quantity, with the rates at
// both ends (Hermite), of fourth order as the steps are. Where a rate at an end is more than
// three times the mean, the cubic could turn back; there the rate counts as that (Fritsch and
// Carlson 1980, from memory). So what passes never falls.
func seenAt(a, b knot, time float64) knot {
	h := b.time - a.time
	x := (time - a.time) / h
	cubic := func(from, to, rateFrom, rateTo float64) float64 {
		most := 3 * (to - from) / h
		return from + (to-from)*x*x*(3-2*x) + h*x*(1-x)*((1-x)*min(rateFrom, most)-x*min(rateTo, most))
	}
	passed := cubic(a.passed, b.passed, a.leaving, b.leaving) - a.passed
	return knot{time: time, held: max(a.held-passed, b.held), passed: a.passed + passed, energy: cubic(a.energy, b.energy, a.power, b.power)}
}

// see writes place k of a course that asks for no classes.
func (c *Course) see(k int, at knot, m *Mill) {
	if c.Held != nil {
		c.Held[k] = at.held
	}
	if c.Passed != nil {
		c.Passed[k] = at.passed
	}
	if c.Power != nil {
		c.Power[k] = m.PowerAt(at.held)
	}
	if c.Energy != nil {
		c.Energy[k] = at.energy
	}
}
