package colour

// Colours on a screen: sRGB.

import (
	"fmt"
	"math"
	"strconv"
	"sync"

	"hopperful/process"
)

// RGB is a colour on a screen (sRGB) [–], 0 to 1 each. Colours no screen shows
// have values outside.
type RGB struct {
	R float64 // red [–]
	G float64 // green [–]
	B float64 // blue [–]
}

// CodeError says that a text is no colour code.
type CodeError struct{ Text string }

// Error says what was given and what a code looks like.
func (e *CodeError) Error() string {
	return fmt.Sprintf("%q is no colour code: it is # and six digits or letters a to f, as #1c1c1c", e.Text)
}

// ParseHex reads a colour code such as #c0402a.
//
// Errors: *CodeError for anything else.
func ParseHex(text string) (RGB, error) {
	if len(text) != 7 || text[0] != '#' {
		return RGB{}, &CodeError{shortened(text)}
	}
	n, err := strconv.ParseUint(text[1:], 16, 32)
	if err != nil {
		return RGB{}, &CodeError{text}
	}
	return RGB{float64(n>>16) / 255, float64(n>>8&255) / 255, float64(n&255) / 255}, nil
}

// shortened keeps an error message readable whatever was given.
func shortened(text string) string {
	if r := []rune(text); len(r) > 20 {
		return string(r[:20]) + "…"
	}
	return text
}

// Shown returns the colour a screen shows for it, and whether that is the
// colour itself: one outside the screen's range is brought to its edge.
func (c RGB) Shown() (shown RGB, exact bool) {
	v := [3]float64{c.R, c.G, c.B}
	exact = true
	for i, x := range v {
		v[i] = max(0, min(1, x))
		if math.IsNaN(x) {
			v[i] = 0
		}
		exact = exact && math.Abs(v[i]-x) <= 0.5/255
	}
	return RGB{v[0], v[1], v[2]}, exact
}

// Hex returns the colour code nearest to it, as [RGB.Shown].
func (c RGB) Hex() (code string, exact bool) {
	s, exact := c.Shown()
	eight := func(x float64) int { return int(math.Round(255 * x)) }
	return fmt.Sprintf("#%02x%02x%02x", eight(s.R), eight(s.G), eight(s.B)), exact
}

func (c RGB) check() error {
	for _, v := range [3]float64{c.R, c.G, c.B} {
		if err := process.Within("part of a screen colour", v, 0, 1, "", "from memory"); err != nil {
			return err
		}
	}
	return nil
}

// Linear returns the light of a part of a screen colour [–].
//
//	v  red, green or blue [–], −1 to 2
//
// Equation: v/12.92 for v ≤ 0.04045, else ((v + 0.055)/1.055)^2.4; mirrored below 0.
// Holds for: sRGB.
// Source: from memory of IEC 61966-2-1.
// Errors: RangeError for v out of range.
// Checks: Linear rows of checks.csv (second library).
func Linear(v float64) (float64, error) {
	if err := process.Within("part of a screen colour", v, -1, 2, "", judged); err != nil {
		return 0, err
	}
	return linear(v), nil
}

func linear(v float64) float64 {
	u := math.Abs(v)
	if u <= 0.04045 {
		return v / 12.92
	}
	return math.Copysign(math.Pow((u+0.055)/1.055, 2.4), v)
}

func encoded(l float64) float64 {
	u := math.Abs(l)
	if u <= 0.0031308 {
		return 12.92 * l
	}
	return math.Copysign(1.055*math.Pow(u, 1/2.4)-0.055, l)
}

// matrix is three rows of three.
type matrix [3][3]float64

func (m matrix) times(v [3]float64) [3]float64 {
	var out [3]float64
	for i, row := range m {
		out[i] = row[0]*v[0] + row[1]*v[1] + row[2]*v[2]
	}
	return out
}

// inverse is by cofactors.
func (m matrix) inverse() matrix {
	var out matrix
	for i := range 3 {
		for k := range 3 {
			a, b, c, d := (k+1)%3, (k+2)%3, (i+1)%3, (i+2)%3
			out[i][k] = m[a][c]*m[b][d] - m[a][d]*m[b][c]
		}
	}
	det := m[0][0]*out[0][0] + m[0][1]*out[1][0] + m[0][2]*out[2][0]
	for i := range out {
		for k := range out[i] {
			out[i][k] /= det
		}
	}
	return out
}

// screen is the colour space of sRGB, from the chromaticities of its primaries
// and its white in IEC 61966-2-1 (from memory).
type screen struct {
	toXYZ, fromXYZ matrix
	white          [3]float64
}

var srgb = sync.OnceValue(func() screen {
	primary := matrix{{0.64, 0.30, 0.15}, {0.33, 0.60, 0.06}, {0.03, 0.10, 0.79}}
	const x, y = 0.3127, 0.3290
	white := [3]float64{x / y, 1, (1 - x - y) / y}
	gain := primary.inverse().times(white)
	var to matrix
	for i := range to {
		for k := range to[i] {
			to[i][k] = primary[i][k] * gain[k]
		}
	}
	return screen{to, to.inverse(), white}
})

// ScreenWhite is the white of a screen, D65 as IEC 61966-2-1 rounds it.
func ScreenWhite() XYZ {
	w := srgb().white
	return XYZ{w[0], w[1], w[2]}
}

// ScreenOf returns the screen colour of a curve; its parts may lie outside 0 to
// 1, see RGB.Shown.
//
//	c  the curve [–], 0 to 1 in each band
//
// Equation: Tristimulus for two degrees, scaled from the white of the weights to the white of the screen, times the inverse matrix, encoded.
// Holds for: D65; a flat curve gives exactly a grey.
// Source: from memory of IEC 61966-2-1, tables of Colord2022.
// Errors: RangeError for a curve out of range.
// Checks: ScreenOf rows of checks.csv (own derivation, identity).
func ScreenOf(c Curve) (RGB, error) {
	v, err := Tristimulus(c, TwoDegrees)
	if err != nil {
		return RGB{}, err
	}
	white, err := White(TwoDegrees)
	if err != nil {
		return RGB{}, err
	}
	s := srgb()
	l := s.fromXYZ.times([3]float64{v.X * s.white[0] / white.X, v.Y * s.white[1] / white.Y, v.Z * s.white[2] / white.Z})
	return RGB{encoded(l[0]), encoded(l[1]), encoded(l[2])}, nil
}
