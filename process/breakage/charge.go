package breakage

// What goes through a mill, and the course it takes.

import (
	"math"

	"hopperful/process"
)

// Charge is the material of one filling while it is ground: add feed to Held,
// take product from Passed. Both slices have one mass a class of the grid.
type Charge struct {
	Held   []float64 // class masses in the mill [kg]
	Passed []float64 // class masses beyond the screen [kg]
	Energy float64   // energy put into the charge so far [J]
}

// NewCharge returns an empty charge for a grid.
func NewCharge(g Grid) *Charge {
	n := g.Classes()
	both := make([]float64, 2*n)
	return &Charge{Held: both[:n:n], Passed: both[n:]}
}

// HeldMass returns the mass in the mill [kg].
func (c *Charge) HeldMass() float64 { return sum(c.Held) }

// PassedMass returns the mass beyond the screen [kg].
func (c *Charge) PassedMass() float64 { return sum(c.Passed) }

// SpecificEnergy returns the energy spent a kilogram passed so far [J/kg], or
// a RangeError while nothing has passed.
func (c *Charge) SpecificEnergy() (float64, error) {
	p := c.PassedMass()
	if err := process.Above("passed mass", p, 0, "kg", "own derivation"); err != nil {
		return 0, err
	}
	return c.Energy / p, nil
}

// check refuses masses that cannot be.
func (c *Charge) check(classes int) error {
	if err := sameLength("held classes", len(c.Held), classes); err != nil {
		return err
	}
	if err := sameLength("passed classes", len(c.Passed), classes); err != nil {
		return err
	}
	for i, m := range c.Held {
		if err := process.Within("held class mass", m, 0, 1e4, "kg", "judgement"); err != nil {
			return err
		}
		if err := process.Within("passed class mass", c.Passed[i], 0, 1e6, "kg", "judgement"); err != nil {
			return err
		}
	}
	return process.Within("energy so far", c.Energy, 0, math.MaxFloat64, "J", "own derivation")
}

// Course is a run seen at chosen times. The caller sets Time and makes the
// other slices it wants, each as long as Time; Run fills them and skips nil ones.
type Course struct {
	Time []float64 // when to look, from the start of the run [s]; ascending, 0 to the duration

	Held   []float64 // mass in the mill [kg]
	Passed []float64 // mass beyond the screen [kg]
	Power  []float64 // power into the charge [W]
	Energy []float64 // energy put into the charge since it was filled [J]

	HeldClasses   [][]float64 // class masses in the mill [kg], one slice a time
	PassedClasses [][]float64 // class masses beyond the screen [kg], one slice a time
}

func (c *Course) check(duration float64, classes int) error {
	n := len(c.Time)
	for _, s := range [...][]float64{c.Held, c.Passed, c.Power, c.Energy} {
		if s != nil && len(s) != n {
			return sameLength("places in the course", len(s), n)
		}
	}
	for _, rows := range [...][][]float64{c.HeldClasses, c.PassedClasses} {
		if rows != nil && len(rows) != n {
			return sameLength("class rows in the course", len(rows), n)
		}
		for _, row := range rows {
			if len(row) != classes {
				return sameLength("classes in the course", len(row), classes)
			}
		}
	}
	last := 0.0
	for _, t := range c.Time {
		if err := process.Within("course time", t, last, duration, "s", "own derivation"); err != nil {
			return err
		}
		last = t
	}
	return nil
}

// note writes place k of the course.
func (c *Course) note(k int, at *Charge, power float64) {
	if c.Held != nil {
		c.Held[k] = at.HeldMass()
	}
	if c.Passed != nil {
		c.Passed[k] = at.PassedMass()
	}
	if c.Power != nil {
		c.Power[k] = power
	}
	if c.Energy != nil {
		c.Energy[k] = at.Energy
	}
	if c.HeldClasses != nil {
		copy(c.HeldClasses[k], at.Held)
	}
	if c.PassedClasses != nil {
		copy(c.PassedClasses[k], at.Passed)
	}
}
