package screw

// How long melt stays: mean, shortest, the whole spread, and other vessels to
// compare with.

import (
	"math"

	"hopperful/process/melt/root"
)

// ShortestShare is the shortest stay in a screw over the mean one: exactly 3/4
// in the two-dimensional Newtonian flow of Pinto and Tadmor.
const ShortestShare = 0.75

// MeanResidence returns the mean time melt stays [s].
//
//	volume  room the melt fills [m³], above 0 to 1
//	flow    volume flow [m³/s], above 0 to 1
//
// Equation: t_m = V/Q.
// Holds for: any vessel without dead corners.
// Source: own derivation.
// Errors: RangeError for an argument out of range.
// Checks: MeanResidence rows of checks.csv (1 own derivation, 1 refusal).
func MeanResidence(volume, flow float64) (float64, error) {
	if err := within(limit{"melt volume", volume, 1e-12, 1, "m³"}, limit{"volume flow", flow, 1e-15, 1, "m³/s"}); err != nil {
		return 0, err
	}
	return volume / flow, nil
}

// stay gives time over the mean, and the share of the melt that stays longer, of
// the stream line at relative height ξ = 1 − d, d from 0 to 1/3. Written in d so
// that the long tail keeps its digits.
func stay(d float64) (time, longer float64) {
	s := math.Sqrt(d * (4 - 3*d)) // √(1 + 2ξ − 3ξ²)
	xi := 1 - d
	return (3*xi - 1 + 3*s) / (6 * xi * (d + s)), 3*d - 1.5*d*d + 0.5*d*s
}

// AgedShare returns the share of the melt that has left the screw by a time [–].
//
//	time  over the mean residence time [–], 0 to 1e6
//
// Equation: with ξ from 2/3 to 1 and s = √(1 + 2ξ − 3ξ²): t/t_m = (3ξ − 1 + 3s)/(6ξ(1 − ξ + s)), F = ½ (3ξ² − 1 + (ξ − 1) s); 0 before 3/4.
// Holds for: the pumping turns of a screw with a Newtonian melt. Heads with dead corners have a longer tail.
// Source: PintoTadmor1970, equations from memory and rederived.
// Errors: RangeError for a time out of range.
// Checks: AgedShare rows of checks.csv (6 second library, 1 identity, 1 own derivation, 1 refusal).
func AgedShare(time float64) (float64, error) {
	if err := within(limit{"time over the mean", time, 0, 1e6, ""}); err != nil {
		return 0, err
	}
	if time <= ShortestShare {
		return 0, nil
	}
	// t falls from infinity to 3/4 as d rises to 1/3, about as 1/(6√d).
	log, err := root.Between(func(log float64) float64 { t, _ := stay(math.Exp(log)); return math.Log(t / time) },
		math.Log(1e-16), math.Log(1.0/3), 1e-15)
	if err != nil {
		return 0, err
	}
	_, longer := stay(math.Exp(log))
	return 1 - longer, nil
}

// AgedTime returns the time after which all but a share of the melt has left,
// over the mean residence time [–].
//
//	left  share that is still inside [–], 1e-9 to 1
//
// Equation: the inverse of AgedShare.
// Holds for: as AgedShare: 1.7 volumes for 95 %, 3.3 for 99 %, 9.6 for 99.9 %.
// Source: PintoTadmor1970, equations from memory and rederived.
// Errors: RangeError for a share out of range.
// Checks: AgedTime rows of checks.csv (5 second library, 1 identity, 1 refusal).
func AgedTime(left float64) (float64, error) {
	if err := within(limit{"share still inside", left, 1e-9, 1, ""}); err != nil {
		return 0, err
	}
	if left == 1 {
		return ShortestShare, nil
	}
	log, err := root.Between(func(log float64) float64 { _, longer := stay(math.Exp(log)); return math.Log(longer / left) },
		math.Log(1e-11), math.Log(1.0/3), 1e-15)
	if err != nil {
		return 0, err
	}
	time, _ := stay(math.Exp(log))
	return time, nil
}
