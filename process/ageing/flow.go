package ageing

// Melt flow of blends and of older plastic.

import (
	"math"

	"hopperful/process"
)

const leastFlow, mostFlow = 1e-12, 1.0 // [kg/s]; 1 g/10 min is 1.67e-6 kg/s

func checkFlows(flows, shares []float64) error {
	if err := process.Within("parts of the blend", float64(len(flows)), 1, mostParts, "", judged); err != nil {
		return err
	}
	if err := process.Within("shares of the blend", float64(len(shares)), float64(len(flows)), float64(len(flows)), "", derived); err != nil {
		return err
	}
	sum := 0.0
	for i, f := range flows {
		if err := process.Within("melt flow rate", f, leastFlow, mostFlow, "kg/s", judged); err != nil {
			return err
		}
		if err := process.Within("share of a part", shares[i], 0, 1+closes, "", derived); err != nil {
			return err
		}
		sum += shares[i]
	}
	return process.Within("sum of the shares", sum, 1-closes, 1+closes, "", derived)
}

// BlendFlow returns the melt flow rate of a blend of one plastic [kg/s].
//
//	flows   melt flow rate of each part, same temperature and load [kg/s], 1e-12 to 1
//	shares  share of each by mass [–], 0 to 1, together 1
//
// Equation: ln MFR = Σ w ln MFR.
// Holds for: parts of one plastic within a factor of about three; measured polypropylene blends of wider ratio need a fitted rule (Traxler2022).
// Source: Nielsen1977.
// Errors: RangeError for arguments out of range or shares that do not add up to 1.
// Checks: BlendFlow rows of checks.csv (published, own derivation).
func BlendFlow(flows, shares []float64) (float64, error) {
	if err := checkFlows(flows, shares); err != nil {
		return 0, err
	}
	sum := 0.0
	for i, f := range flows {
		sum += shares[i] * math.Log(f)
	}
	return math.Exp(sum), nil
}

// KnownFlow is a melt flow rate somebody measured, or the maker states.
type KnownFlow struct {
	Rate   float64 // [kg/s], 1e-12 to 1
	Passes float64 // mean passes of what was measured [–], 0 to 1000
	Doubt  float64 // standard error of its logarithm [–], 0 to 3; about the relative error
}

// FlowRange is a forecast melt flow rate.
type FlowRange struct {
	Low    float64 // a tenth lies below [kg/s]
	Median float64 // [kg/s]
	High   float64 // a tenth lies above [kg/s]
}

// ForecastFlow returns the melt flow rate at another age. The youngest
// measurement of the lot or of its plastic counts, not the fresh plastic: what
// is measured overrides what was forecast.
//
//	from    the flow known, see its fields
//	f       what a pass does, see its fields
//	passes  mean passes of the lot [–], 0 to 1000
//	gain    factor of water since then [–], 1 to 1e6; see FlowGain
//
// Equation: ln MFR = ln MFR0 + (n − n0) ln f + ln gain; variance σ0² + ((n − n0) s)².
// Holds for: blends of one plastic of like grade; the range is that of the factor and of the measurement.
// Source: Nielsen1977 for the logarithmic rule; the rest own derivation.
// Errors: RangeError for an argument out of range, or a forecast no plastic has.
// Checks: ForecastFlow rows of checks.csv (own derivation).
func ForecastFlow(from KnownFlow, f Factor, passes, gain float64) (FlowRange, error) {
	var none FlowRange
	if err := process.Within("melt flow rate", from.Rate, leastFlow, mostFlow, "kg/s", judged); err != nil {
		return none, err
	}
	if err := process.Within("passes of the flow known", from.Passes, 0, mostPasses, "", judged); err != nil {
		return none, err
	}
	if err := process.Within("error of the flow known", from.Doubt, 0, 3, "", judged); err != nil {
		return none, err
	}
	if err := f.Check(); err != nil {
		return none, err
	}
	if err := process.Within("passes", passes, 0, mostPasses, "", judged); err != nil {
		return none, err
	}
	if err := process.Within("gain of the melt flow by water", gain, 1, 1e6, "", judged); err != nil {
		return none, err
	}
	n := passes - from.Passes
	mean := math.Log(from.Rate) + n*math.Log(f.Median) + math.Log(gain)
	half := tenth * math.Hypot(from.Doubt, n*f.spread())
	out := FlowRange{math.Exp(mean - half), math.Exp(mean), math.Exp(mean + half)}
	for _, v := range [3]float64{out.Low, out.Median, out.High} {
		if err := process.Within("melt flow rate forecast", v, leastFlow, mostFlow, "kg/s", judged); err != nil {
			return none, err
		}
	}
	return out, nil
}
