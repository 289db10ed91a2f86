package heat

// What motor and controller carry: the load over a cycle.

import (
	"math"

	"hopperful/process"
)

// ContinuousShare is the share of the weakest continuous rating to stay at or
// below [–]: common practice, no source.
const ContinuousShare = 0.8

// Load is a stretch of a duty cycle.
type Load struct {
	Time  float64 // [s], 0 or above
	Power float64 // electric power [W], or current [A], 0 or above
}

// CycleLoad returns mean and effective (RMS) load over a cycle, in the unit of
// the loads.
//
//	cycle  stretches of constant load, rests among them; see their fields
//
// Equation: mean = Σ t P/Σ t; effective = √(Σ t P²/Σ t).
// Holds for: cycles short against the thermal time constants. Copper losses follow the effective load of the current; at falling voltage the current is what counts.
// Source: own derivation.
// Errors: RangeError for a negative time or load, or a cycle without time.
// Checks: CycleLoad rows of checks.csv (2 own derivation).
func CycleLoad(cycle ...Load) (mean, effective float64, err error) {
	var time, first, second float64
	for _, l := range cycle {
		if !(l.Time >= 0 && l.Time <= 1e9) {
			return 0, 0, process.Within("time", l.Time, 0, 1e9, "s", "judgement")
		}
		if !(l.Power >= 0 && l.Power <= 1e9) {
			return 0, 0, process.Within("load", l.Power, 0, 1e9, "", "judgement")
		}
		time += l.Time
		first += l.Time * l.Power
		second += l.Time * l.Power * l.Power
	}
	if !(time > 0) {
		return 0, 0, process.Above("time of the cycle", time, 0, "s", "own derivation")
	}
	return first / time, math.Sqrt(second / time), nil
}
