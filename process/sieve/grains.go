// Grains too coarse for the screen: what a stack says about them.

package sieve

import (
	"errors"
	"fmt"
	"math"

	"hopperful/process"
)

// The sizes looked at, as multiples of the screen's hole: grains pass a hole
// by their two smaller dimensions, so some lie above 1.25 holes on a sieve in
// any sound run, hardly one above 2.
const (
	CoarseRatio = 1.25
	LongRatio   = 2.0
)

// GrainShape allows for grains that are no balls. Elongated ones pass end-on.
type GrainShape struct {
	// Elongation is the mass of a grain over that of the ball of its sieve size
	// [1], 0.2 to 10; 0 means 1.5 (judgement). More of it, fewer grains.
	Elongation float64
	// LongShare is the mass above 2 holes per mass above 1.25 holes in the
	// product of a sound screen [1], 0 to 1; 0 means 0.003 (judgement, 0.0005 to
	// 0.02). Raise it for stringy scrap.
	LongShare float64
}

// Screen is the screen under test.
type Screen struct {
	Hole    float64 // size of its holes [m], 20 µm to 125 mm
	Density float64 // of the solid plastic [kg/m³], 100 to 20 000
	Shape   GrainShape
}

func (s Screen) check() (Screen, error) {
	if s.Shape.Elongation == 0 {
		s.Shape.Elongation = 1.5
	}
	if s.Shape.LongShare == 0 {
		s.Shape.LongShare = 0.003
	}
	err := errors.Join(
		process.Within("hole of the screen", s.Hole, 20e-6, 0.125, "m", "judgement"),
		process.Within("density", s.Density, 100, 20_000, "kg/m³", "judgement"),
		process.Within("elongation of grains", s.Shape.Elongation, 0.2, 10, "", "judgement"),
		process.Within("share of long grains", s.Shape.LongShare, 0, 1, "", "own derivation"))
	return s, err
}

// grainMass is the mass of one grain of a size [kg].
func (s Screen) grainMass(x float64) float64 {
	return s.Shape.Elongation * s.Density * math.Pi / 6 * x * x * x
}

// EffectiveGrains returns how many grains of one size a mass makes [1], the
// number of independent draws a sieve fraction is worth.
//
//	mass     of the sample [kg], > 0
//	size     of the grains [m], > 0
//	density  of the solid [kg/m³], 100 to 20 000
//
// Equation: N = m / (ρ π d³/6).
// Holds for: balls; divide by the elongation for longer grains.
// Source: own derivation.
// Errors: RangeError for arguments out of range.
// Checks: EffectiveGrains rows of checks.csv (1 own derivation).
func EffectiveGrains(mass, size, density float64) (float64, error) {
	if err := errors.Join(process.Above("mass", mass, 0, "kg", "own derivation"),
		process.Above("grain size", size, 0, "m", "own derivation"),
		process.Within("density", density, 100, 20_000, "kg/m³", "judgement")); err != nil {
		return 0, err
	}
	return mass / (density * math.Pi / 6 * size * size * size), nil
}

// Sample is what a stack says about grains too coarse for the screen.
type Sample struct {
	Mass   float64 // recovered [kg], > 0
	Coarse float64 // mass share above 1.25 holes [1]
	Long   int     // grains above 2 holes; NotLooked when no sieve tells
}

// NotLooked stands for a number of long grains nobody looked for.
const NotLooked = -1

// CoarseSample takes from an analysis what the test for a torn screen needs.
// Grains above 2 holes are reckoned from their mass; count them and set Long
// where you can.
//
//	a       the analysis; see its fields
//	screen  the screen; see its fields
//
// Equation: coarse = 1 − Q3(1.25 a), linear in ln x between sieves, a the hole; long =
// Σ over sieves from 2 a up of retained/m_grain, rounded up on each, m_grain =
// elongation · ρ π x³/6, x the sieve's opening.
// Holds for: a sieve between 1.1 and 1.6 holes. With none coarser than 1.25 holes all that
// lies on the top one counts as coarse, which reads high. Grains on a sieve are larger
// than its opening, so long reads high too.
// Source: own derivation.
// Errors: RangeError for the screen; *EntryError when no sieve lies between 1.1 and
// 1.6 holes, or none up to 1.25 to tell what the pan holds, naming the one to add.
// Checks: CoarseSample rows of checks.csv (3 own derivation, 2 refusals).
func CoarseSample(a Analysis, screen Screen) (Sample, error) {
	screen, err := screen.check()
	if err != nil {
		return Sample{}, err
	}
	if !hasNear(a.Sieves, 1.1*screen.Hole, 1.6*screen.Hole) {
		return Sample{}, noSieveNear(screen, "a little above")
	}
	d, err := a.Distribution(Bounds{})
	if err != nil {
		return Sample{}, err
	}
	q, err := d.Cumulative(CoarseRatio * screen.Hole)
	if beyond := (*BeyondError)(nil); errors.As(err, &beyond) {
		if beyond.Side == "below" {
			return Sample{}, noSieveNear(screen, "between one and 1.25 times")
		}
		// The top sieve lies below 1.25 holes: all it holds counts as above. That
		// reads high, a little, since it is at least 1.1 holes wide.
		q, err = 1-beyond.Held, nil
	}
	if err != nil {
		return Sample{}, err
	}
	out := Sample{Mass: a.Recovered, Coarse: 1 - q, Long: NotLooked}
	for i, s := range a.Sieves {
		if s.Opening >= LongRatio*screen.Hole {
			out.Long = max(out.Long, 0) + int(math.Ceil(a.Retained[i]/screen.grainMass(s.Opening)))
		}
	}
	return out, nil
}

// noSieveNear names the sieve to add.
func noSieveNear(screen Screen, where string) error {
	all, _ := table()
	near := CoarseRatio * screen.Hole
	return &EntryError{Code: NotReached,
		What: fmt.Sprintf("no sieve of the stack lies %s the screen's %s", where, name(screen.Hole)),
		Hint: fmt.Sprintf("add one near %s: %s", name(near), neighbours(all, near))}
}

func hasNear(sieves []Sieve, lo, hi float64) bool {
	for _, s := range sieves {
		if s.Opening >= lo && s.Opening <= hi {
			return true
		}
	}
	return false
}
