package colour

// Reflectance curves.

import (
	"math"

	"hopperful/process"
)

// Bands is the number of bands of a [Curve]: every 10 nm from 380 to 730 nm.
const Bands = 36

const (
	firstBand = 380e-9 // [m]
	bandStep  = 10e-9  // [m]

	derived = "own derivation"
	judged  = "judgement"
)

// Spectrum is a number for each band.
type Spectrum [Bands]float64

// Curve is the share of light a surface sends back in each band [–], 0 to 1.
type Curve Spectrum

// Wavelength returns the middle of a band [m].
//
//	band  which one, 0 to 35
//
// Equation: 380 nm + 10 nm × band.
// Holds for: any band, also beyond the ends.
// Source: own derivation.
// Errors: none.
// Checks: Resampled rows of checks.csv (own derivation).
func Wavelength(band int) float64 { return firstBand + bandStep*float64(band) }

// Check refuses a curve that sends back less than nothing or more than all with
// a RangeError.
func (c Curve) Check() error {
	for _, r := range c {
		if !(r >= 0 && r <= 1) {
			return process.Within("reflectance", r, 0, 1, "", derived)
		}
	}
	return nil
}

// Flat returns the curve of a grey.
//
//	r  share of light sent back [–], 0 to 1
//
// Equation: the same in every band.
// Holds for: ideal greys.
// Source: own derivation.
// Errors: RangeError for r outside 0 to 1.
// Checks: Tristimulus rows of checks.csv (flat curves are neutral).
func Flat(r float64) (Curve, error) {
	var c Curve
	for i := range c {
		c[i] = r
	}
	return c, c.Check()
}

const (
	leastSamples = 16
	mostSamples  = 2000
	widestGap    = 20.5e-9 // [m]; 20 nm and rounding
	mustReach    = 400e-9
	mustLast     = 700e-9
)

// Resampled returns a curve measured on other bands. Beyond its ends the first
// and last value are held.
//
//	wavelengths  middle of each band [m], rising, 400 nm or less to 700 nm or more, no gap above 20 nm
//	values       share of light sent back there [–], 0 to 1
//
// Equation: linear between neighbours.
// Holds for: instruments with 10 or 20 nm bands from 400 to 700 nm; sharp edges are rounded.
// Source: own derivation.
// Errors: RangeError for too few, too coarse or disordered wavelengths, or values out of range.
// Checks: Resampled rows of checks.csv (own derivation).
func Resampled(wavelengths, values []float64) (Curve, error) {
	var c Curve
	n := len(wavelengths)
	if err := process.Within("bands of the measurement", float64(n), leastSamples, mostSamples, "", judged); err != nil {
		return c, err
	}
	if err := process.Within("values of the measurement", float64(len(values)), float64(n), float64(n), "", derived); err != nil {
		return c, err
	}
	if err := process.Within("first wavelength", wavelengths[0], 200e-9, mustReach+1e-12, "m", judged); err != nil {
		return c, err
	}
	if err := process.Within("last wavelength", wavelengths[n-1], mustLast-1e-12, 2000e-9, "m", judged); err != nil {
		return c, err
	}
	for i, r := range values {
		if err := process.Within("reflectance", r, 0, 1, "", derived); err != nil {
			return c, err
		}
		if i > 0 {
			gap := wavelengths[i] - wavelengths[i-1]
			if err := process.Within("step from one wavelength to the next", gap, 1e-12, widestGap, "m", judged); err != nil {
				return c, err
			}
		}
	}
	at := 0
	for i := range c {
		w := Wavelength(i)
		for at < n-2 && wavelengths[at+1] < w {
			at++
		}
		f := (w - wavelengths[at]) / (wavelengths[at+1] - wavelengths[at])
		f = math.Max(0, math.Min(1, f)) // the ends are held
		c[i] = values[at] + f*(values[at+1]-values[at])
	}
	return c, nil
}
