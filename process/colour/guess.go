package colour

// A curve guessed from three numbers.

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// GuessError says that no surface can have a colour.
type GuessError struct{ Colour Lab }

// Error names the colour and what to do.
func (e *GuessError) Error() string {
	return fmt.Sprintf("no surface under daylight can be as bright and colourful as L* %.1f, a* %.1f, b* %.1f: check the numbers, or take a duller colour",
		e.Colour.L, e.Colour.A, e.Colour.B)
}

const (
	blackest = 1e-4 // reflectance taken for a screen black, which no curve of tanh reaches
	turns    = 200  // Newton steps at most; the hardest screen colours need about 30
	closeBy  = 1e-11
)

// FromScreen returns a smooth curve that looks like a screen colour: of all
// curves 0 to 1 with this colour one of the smoothest.
//
//	c  the colour, see its fields; 0 to 1 each
//
// Equation: R = (tanh z + 1)/2, least Σ (z_{i+1} − z_i)² with the linear light of the colour as constraint (Newton's method on the Lagrange conditions).
// Holds for: ordinary pigments, whose curves are smooth; the true curve of a lot may cross it, which shows in mixes, not in the lot itself. Greys are flat; black is taken as 1e-4.
// Source: Burns2019, as described in the page of its author; constraint weights from Colord2022.
// Errors: RangeError for c out of range, *GuessError where the search ends nowhere.
// Checks: FromScreen rows of checks.csv (own derivation, identity).
func FromScreen(c RGB) (Curve, error) {
	if err := c.check(); err != nil {
		return Curve{}, err
	}
	return guess([3]float64{linear(c.R), linear(c.G), linear(c.B)})
}

// FromLab returns a smooth curve with an L*a*b* measured under D65, as
// FromScreen; colours no screen shows are allowed.
//
//	p  the colour for two degrees, see its fields
//
// Equation: that of FromScreen.
// Holds for: colours a surface can have.
// Source: Burns2019.
// Errors: RangeError for p out of range, *GuessError for a colour no surface has.
// Checks: FromLab rows of checks.csv (identity, refusal).
func FromLab(p Lab) (Curve, error) {
	white := ScreenWhite()
	v, err := XYZOf(p, white)
	if err != nil {
		return Curve{}, err
	}
	l := srgb().fromXYZ.times([3]float64{v.X, v.Y, v.Z})
	if p.A == 0 && p.B == 0 { // exactly flat, whatever the matrix rounds
		l = [3]float64{v.Y, v.Y, v.Y}
	}
	return guess(l)
}

// The band of reflectance a photo can tell of a plastic. Judgement: the deepest
// black and the whitest white in a photo against a white card.
const (
	PhotoDarkest = 0.01
	PhotoWhitest = 0.94
)

// FromPhoto returns the curve of a plastic whose colour was picked from a photo
// against a white card. Bands darker or whiter than a photo can tell are
// brought to the edge, and lifted counts them: in a mix the edge decides how
// strong a dark lot is.
//
//	c  the colour, see its fields; 0 to 1 each
//
// Equation: FromScreen, brought into PhotoDarkest to PhotoWhitest.
// Holds for: matt or diffusely lit plastic; a photo errs by 5 to 10 in the colour difference through its light.
// Source: judgement; Burns2019.
// Errors: as FromScreen.
// Checks: FromPhoto rows of checks.csv (own derivation).
func FromPhoto(c RGB) (curve Curve, lifted int, err error) {
	curve, err = FromScreen(c)
	if err != nil {
		return Curve{}, 0, err
	}
	for i, r := range curve {
		if in := max(PhotoDarkest, min(PhotoWhitest, r)); in != r {
			curve[i] = in
			lifted++
		}
	}
	return curve, lifted, nil
}

// guess finds the curve for linear light.
func guess(light [3]float64) (Curve, error) {
	least, most := min(light[0], light[1], light[2]), max(light[0], light[1], light[2])
	switch {
	case most-least <= 1e-12 && most <= blackest:
		return Flat(blackest)
	case most-least <= 1e-12:
		return Flat(min(1, most))
	}
	all, err := weights()
	if err != nil {
		return Curve{}, err
	}
	s := newSearch(all[TwoDegrees], light)
	if !s.run() {
		v := srgb().toXYZ.times(light)
		return Curve{}, &GuessError{toLab(XYZ{v[0], v[1], v[2]}, ScreenWhite())}
	}
	var c Curve
	for i := range c {
		c[i] = (math.Tanh(s.x[i]) + 1) / 2
	}
	return c, c.Check()
}

const unknowns = Bands + 3

// search is Newton's method for z of each band and three multipliers.
type search struct {
	eye   [Bands][3]float64 // linear light of each band
	light [3]float64
	x     [unknowns]float64
}

func newSearch(w *weight, light [3]float64) *search {
	s := &search{light: light}
	scr := srgb()
	for i, b := range w.band {
		s.eye[i] = scr.fromXYZ.times([3]float64{b[0] * scr.white[0] / w.white.X, b[1] * scr.white[1] / w.white.Y, b[2] * scr.white[2] / w.white.Z})
	}
	return s
}

// rest is what the conditions leave at x.
func (s *search) rest(x *[unknowns]float64) (f [unknowns]float64, size float64) {
	for k := range 3 {
		f[Bands+k] = -s.light[k]
	}
	for i := range Bands {
		th := math.Tanh(x[i])
		slope := (1 - th*th) / 2
		pull := 0.0
		for k := range 3 {
			pull += s.eye[i][k] * x[Bands+k]
			f[Bands+k] += s.eye[i][k] * (th + 1) / 2
		}
		f[i] = slope * pull
		if i > 0 {
			f[i] += 2 * (x[i] - x[i-1])
		}
		if i < Bands-1 {
			f[i] += 2 * (x[i] - x[i+1])
		}
	}
	for _, v := range f {
		size = max(size, math.Abs(v))
	}
	return f, size
}

// slopes is the derivative of rest.
func (s *search) slopes(x *[unknowns]float64) *mat.Dense {
	j := mat.NewDense(unknowns, unknowns, nil)
	for i := range Bands {
		th := math.Tanh(x[i])
		sech := 1 - th*th
		pull := 0.0
		for k := range 3 {
			pull += s.eye[i][k] * x[Bands+k]
			j.Set(i, Bands+k, sech/2*s.eye[i][k])
			j.Set(Bands+k, i, sech/2*s.eye[i][k])
		}
		stiff := 4.0
		if i == 0 || i == Bands-1 {
			stiff = 2
		}
		j.Set(i, i, stiff-sech*th*pull)
		if i > 0 {
			j.Set(i, i-1, -2)
		}
		if i < Bands-1 {
			j.Set(i, i+1, -2)
		}
	}
	return j
}

// run reports whether the conditions were met.
func (s *search) run() bool {
	f, size := s.rest(&s.x)
	for range turns {
		if size < closeBy {
			return true
		}
		var lu mat.LU
		lu.Factorize(s.slopes(&s.x))
		var step mat.VecDense
		// A poor condition still gives a usable step; a singular one gives none.
		if err := lu.SolveVecTo(&step, false, mat.NewVecDense(unknowns, f[:])); err != nil && step.Len() == 0 {
			return false
		}
		next, nf, nsize := s.x, f, math.Inf(1)
		for length := 1.0; length > 1e-3; length /= 2 {
			for i := range next {
				next[i] = s.x[i] - length*step.AtVec(i)
			}
			if nf, nsize = s.rest(&next); nsize < size {
				break
			}
		}
		if !(nsize < math.Inf(1)) {
			return false
		}
		s.x, f, size = next, nf, nsize
	}
	return size < closeBy
}
