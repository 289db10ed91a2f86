package heat

// What motor and controller carry: duty types and loads over a cycle.

import (
	"math"

	"hopperful/process"
)

// ContinuousShare is the share of the weakest continuous rating to stay at or
// below [–]: common practice, no source.
const ContinuousShare = 0.8

// ShortTimeOverload returns the overload a machine carries once, from cold,
// before it is as warm as at continuous rating [–].
//
//	time   length of the load [s], above 0
//	tau    thermal time constant [s], above 0
//	ratio  constant over copper losses at rating, α [–], 0 to 10
//
// Equation: p = √((1 + α)/(1 − e^(−t/τ)) − α).
// Holds for: a machine of one time constant in standard surroundings, duty type S2.
// Source: Subrahmanyam2011, example 5.2.
// Errors: RangeError for an argument out of range.
// Checks: ShortTimeOverload rows of checks.csv (1 published, 5 own derivation).
func ShortTimeOverload(time, tau, ratio float64) (float64, error) {
	if err := firstError(positive("time", time, "s"), positive("time constant", tau, "s"), process.Within("constant over copper losses", ratio, 0, 10, "", "judgement")); err != nil {
		return 0, err
	}
	return math.Sqrt((1+ratio)/-math.Expm1(-time/tau) - ratio), nil
}

// IntermittentOverload returns the overload a machine carries in equal cycles
// of load and rest [–].
//
//	on, off          length of load and rest [s], on above 0, off 0 or above
//	tauOn, tauOff    thermal time constants running and standing [s], above 0
//	ratio            constant over copper losses at rating, α [–], 0 to 10
//
// Equation: p = √((1 + α)(1 − e^(−(on/τ1 + off/τ2)))/(1 − e^(−on/τ1)) − α).
// Holds for: duty type S3; a motor with its own fan cools slower standing.
// Source: Subrahmanyam2011, example 5.3; the book's printed result 1.0713 follows only with −15/100 taken as an integer, −1.
// Errors: RangeError for an argument out of range.
// Checks: IntermittentOverload row of checks.csv (1 own derivation).
func IntermittentOverload(on, off, tauOn, tauOff, ratio float64) (float64, error) {
	if err := firstError(positive("time on", on, "s"), notNegative("time off", off, "s"), positive("time constant running", tauOn, "s"),
		positive("time constant standing", tauOff, "s"), process.Within("constant over copper losses", ratio, 0, 10, "", "judgement")); err != nil {
		return 0, err
	}
	cycle := math.Expm1(-(on/tauOn + off/tauOff)) / math.Expm1(-on/tauOn)
	return math.Sqrt((1+ratio)*cycle - ratio), nil
}

// DutyOverload returns the overload of a machine whose cycles are short
// against its time constant [–].
//
//	duty  share of the time under load [–], above 0 to 1
//
// Equation: p = 1/√duty.
// Holds for: an upper bound, copper losses only, cycles much shorter than τ.
// Source: common practice, no source.
// Errors: RangeError for duty outside 0 to 1.
// Checks: DutyOverload rows of checks.csv (2 common practice).
func DutyOverload(duty float64) (float64, error) {
	if err := process.Within("duty", duty, 1e-6, 1, "", "own derivation"); err != nil {
		return 0, err
	}
	return 1 / math.Sqrt(duty), nil
}

// OverloadTime returns how long a cold machine carries an overload before it
// is as warm as at rating for ever [s].
//
//	tau    thermal time constant [s], above 0
//	ratio  current over rated current [–], above 1
//
// Equation: t = τ ln(I²/(I² − I0²)).
// Holds for: copper losses only.
// Source: IndustrialMonitor2026.
// Errors: RangeError for tau not above 0 or ratio not above 1.
// Checks: OverloadTime rows of checks.csv (2 own derivation).
func OverloadTime(tau, ratio float64) (float64, error) {
	if err := firstError(positive("time constant", tau, "s"), process.Above("overload", ratio, 1, "", "own derivation")); err != nil {
		return 0, err
	}
	return -tau * math.Log1p(-1/(ratio*ratio)), nil
}

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

// WeakestRating returns the load to stay at or below, in the unit of the ratings.
//
//	ratings  continuous ratings of motor, controller, plug and supply, all in one unit [W] or [A], each above 0
//
// Equation: 0.8 × the smallest.
// Holds for: continuous ratings; the start-up figure on a label is none. It does not replace a fuse, a thermal switch or the maker's limit.
// Source: common practice, no source.
// Errors: RangeError for no rating or one not above 0.
// Checks: WeakestRating rows of checks.csv (1 common practice, 1 refusal).
func WeakestRating(ratings ...float64) (float64, error) {
	if len(ratings) == 0 {
		return 0, process.Above("number of ratings", 0, 0, "", "own derivation")
	}
	least := math.Inf(1)
	for _, r := range ratings {
		if !(r > 0) {
			return 0, positive("continuous rating", r, "")
		}
		least = min(least, r)
	}
	if err := positive("continuous rating", least, ""); err != nil {
		return 0, err
	}
	return ContinuousShare * least, nil
}
