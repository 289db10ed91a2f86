package upkeep

// The chance to fail by a time, held against the courses of the books.

import (
	"errors"
	"hopperful/process"
)

// Fails returns the chance that a part which has lasted so far fails within so much more [–].
//
//	done  what it has done, 0 or above [the unit of the lives]
//	more  what it is to do besides, 0 or above [likewise]
//
// Equation: P = Σ w (1 − exp((done/η)^β − ((done + more)/η)^β)).
// Holds for: a part whose own life so far is among the lives believed; else the chance reads high for one that lasted long.
// Source: own derivation.
// Errors: RangeError for an argument below 0.
// Checks: own derivation; Fails rows of checks.csv.
func (b Belief) Fails(done, more float64) (float64, error) {
	if err := errors.Join(process.Within("what it has done", done, 0, 1e12, "", "judgement"), process.Within("what it is to do", more, 0, 1e12, "", "judgement")); err != nil {
		return 0, err
	}
	return b.fails(done, more), nil
}
