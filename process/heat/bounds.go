package heat

// What the duties of this package refuse.

import (
	"math"

	"hopperful/process"
)

func positive(name string, value float64, unit string) error {
	return process.Above(name, value, 0, unit, "own derivation")
}

func notNegative(name string, value float64, unit string) error {
	return process.Within(name, value, 0, math.MaxFloat64, unit, "own derivation")
}

// firstError returns the first error that is one.
func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
