// What a pan of unknown fineness leaves open.

package sieve

import "math"

// How far a pan may reach below the finest sieve: usually, at the finest, at
// the coarsest, as parts of its opening (judgement).
const (
	usualFloor  = 1.0 / 4
	finestFloor = 1.0 / 16
	coarseFloor = 1 / math.Sqrt2
	// The largest grains above the top sieve, as multiples of its opening (judgement).
	usualCeiling = math.Sqrt2
)

// SauterRange returns Sauter's mean of a sieved product whose pan is not
// known any finer [m].
//
//	d  the distribution as sieved, its ends open
//
// Equation: D32 with the pan reaching down to a quarter of the finest opening;
// bounds with a sixteenth and with 1/√2 of it. Grains above the top sieve reach √2 beyond it.
// Holds for: a pan with a few per cent; with more, the bounds part so far that
// only a finer sieve helps.
// Source: ISO2014 (the mean, from memory); how far the pan reaches is judgement.
// Errors: none but those of the mean itself.
// Checks: SauterRange rows of checks.csv (second library).
func SauterRange(d Discrete) (Range, error) {
	at := func(floor float64) (float64, error) {
		var b Bounds
		if d.pan() > 0 {
			b.Floor = d.edges[0] * floor
		}
		if d.over() > 0 {
			b.Ceiling = d.edges[len(d.edges)-1] * usualCeiling
		}
		bounded, err := d.Within(b)
		if err != nil {
			return 0, err
		}
		return MeanDiameter(bounded, 3, 2)
	}
	var r Range
	for _, one := range []struct {
		floor float64
		into  *float64
	}{{usualFloor, &r.Value}, {finestFloor, &r.Low}, {coarseFloor, &r.High}} {
		v, err := at(one.floor)
		if err != nil {
			return Range{}, err
		}
		*one.into = v
	}
	return r, nil
}
