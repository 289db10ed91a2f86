package colour

// Lightness, red-green and yellow-blue.

import (
	"math"

	"hopperful/process"
)

// Lab is a colour in CIE 1976 L*a*b*.
type Lab struct {
	L float64 // lightness [–], 0 black to 100 white
	A float64 // red (+) to green (−) [–], −300 to 300
	B float64 // yellow (+) to blue (−) [–], −300 to 300
}

const (
	labBend  = 216.0 / 24389 // where the cube root ends; (6/29)³
	labSlope = 24389.0 / 27
	mostLab  = 300
	hair     = 1e-6 // rounding of a perfect white
)

// Check refuses numbers that are no L*a*b* with a RangeError.
func (p Lab) Check() error {
	if err := process.Within("lightness L*", p.L, -hair, 100+hair, "", "from memory"); err != nil {
		return err
	}
	if err := process.Within("a*", p.A, -mostLab, mostLab, "", judged); err != nil {
		return err
	}
	return process.Within("b*", p.B, -mostLab, mostLab, "", judged)
}

// Chroma returns how colourful it is [–], 0 for grey.
func (p Lab) Chroma() float64 { return math.Hypot(p.A, p.B) }

func labRoot(t float64) float64 {
	if t > labBend {
		return math.Cbrt(t)
	}
	return (labSlope*t + 16) / 116
}

func labPower(f float64) float64 {
	if t := f * f * f; t > labBend {
		return t
	}
	return (116*f - 16) / labSlope
}

func (v XYZ) check(name string, lo float64) error {
	for _, x := range [3]float64{v.X, v.Y, v.Z} {
		if err := process.Within(name, x, lo, 2, "", judged); err != nil {
			return err
		}
	}
	return nil
}

// ToLab returns the L*a*b* of a tristimulus value.
//
//	v, white  the colour and the white it is compared with, see their fields; 0 to 2, the white above 0.1
//
// Equation: L = 116 f(Y/Yn) − 16, a = 500 (f(X/Xn) − f(Y/Yn)), b = 200 (f(Y/Yn) − f(Z/Zn)); f(t) = ∛t for t > 216/24389, else (24389/27 t + 16)/116.
// Holds for: colours near the white in lightness and light.
// Source: from memory of CIE 15.
// Errors: RangeError for values out of range.
// Checks: ToLab rows of checks.csv (second library).
func ToLab(v, white XYZ) (Lab, error) {
	if err := v.check("tristimulus value", -hair); err != nil {
		return Lab{}, err
	}
	if err := white.check("tristimulus value of the white", 0.1); err != nil {
		return Lab{}, err
	}
	return toLab(v, white), nil
}

func toLab(v, white XYZ) Lab {
	x, y, z := labRoot(v.X/white.X), labRoot(v.Y/white.Y), labRoot(v.Z/white.Z)
	return Lab{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// XYZOf returns the tristimulus value of an L*a*b*.
//
//	p      the colour, see its fields
//	white  the white it is compared with, see its fields; 0.1 to 2
//
// Equation: that of ToLab, turned round.
// Holds for: as ToLab; combinations no surface can have give values below 0 or above the white.
// Source: from memory of CIE 15.
// Errors: RangeError for values out of range.
// Checks: XYZOf rows of checks.csv (identity).
func XYZOf(p Lab, white XYZ) (XYZ, error) {
	if err := p.Check(); err != nil {
		return XYZ{}, err
	}
	if err := white.check("tristimulus value of the white", 0.1); err != nil {
		return XYZ{}, err
	}
	f := (p.L + 16) / 116
	return XYZ{white.X * labPower(f+p.A/500), white.Y * labPower(f), white.Z * labPower(f-p.B/200)}, nil
}

// LabOf returns the L*a*b* of a curve under D65.
//
//	c  the curve [–], 0 to 1 in each band
//	o  the observer
//
// Equation: ToLab of Tristimulus, with the white of the same weights; a flat curve stays neutral.
// Holds for: as Tristimulus.
// Source: from memory of CIE 15, tables of Colord2022.
// Errors: RangeError for a curve out of range or an unknown observer.
// Checks: LabOf rows of checks.csv (own derivation, second library).
func LabOf(c Curve, o Observer) (Lab, error) {
	v, err := Tristimulus(c, o)
	if err != nil {
		return Lab{}, err
	}
	white, err := White(o)
	if err != nil {
		return Lab{}, err
	}
	return toLab(v, white), nil
}
