package grain

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"

	"hopperful/process"
)

// Homography takes places on a flat sheet [m] to places in its picture [px].
type Homography [9]float64

// FitHomography finds the homography that takes places on a sheet to places in a
// picture.
//
//	sheet    four or more places, no three of four in a line [m]
//	picture  where they are seen, in the same order [px]
//
// Equation: the direct linear transform: the least singular vector of the 2n × 9 system
// p × (H s) = 0, both sides shifted and scaled to mean 0 and mean distance √2.
// Holds for: flat sheets and a lens without distortion.
// Source: Hartley1997, normalised transform.
// Errors: RangeError for fewer than four places or numbers that do not match; an error for
// places in a line.
// Checks: own derivation; TestHomography (four exact marks to 1e-9 m, 0.10 % rms at ±1 px).
func FitHomography(sheet, picture []Point) (Homography, error) {
	n := len(sheet)
	if err := process.Within("places", float64(n), 4, 1e4, "", "own derivation"); err != nil {
		return Homography{}, err
	}
	if len(picture) != n {
		return Homography{}, &process.RangeError{Name: "places in the picture", Value: float64(len(picture)), Lo: float64(n), Hi: float64(n), Source: "own derivation"}
	}
	s, fromS := normal(sheet)
	p, fromP := normal(picture)
	a := mat.NewDense(max(2*n, 9), 9, nil)
	for i := range s {
		x, y, u, v := s[i].X, s[i].Y, p[i].X, p[i].Y
		a.SetRow(2*i, []float64{x, y, 1, 0, 0, 0, -u * x, -u * y, -u})
		a.SetRow(2*i+1, []float64{0, 0, 0, x, y, 1, -v * x, -v * y, -v})
	}
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDThinV) {
		return Homography{}, errLine
	}
	values := svd.Values(nil)
	if !(values[7] > 1e-9*values[0]) {
		return Homography{}, errLine
	}
	var v mat.Dense
	svd.VTo(&v)
	var h Homography
	for i := range h {
		h[i] = v.At(i, 8)
	}
	h = inverse(fromP).after(h).after(fromS)
	if h[8] == 0 || math.IsNaN(h[8]) {
		return Homography{}, errLine
	}
	w := h[8]
	for i := range h {
		h[i] /= w
	}
	return h, nil
}

var errLine = errors.New("the places lie in a line")

// normal shifts and scales points to mean 0 and mean distance √2, and returns what
// does so.
func normal(all []Point) ([]Point, Homography) {
	var mid Point
	for _, p := range all {
		mid = mid.plus(p.times(1 / float64(len(all))))
	}
	far := 0.0
	for _, p := range all {
		far += p.to(mid) / float64(len(all))
	}
	f := 1.0
	if far > 0 {
		f = math.Sqrt2 / far
	}
	out := make([]Point, len(all))
	for i, p := range all {
		out[i] = p.minus(mid).times(f)
	}
	return out, Homography{f, 0, -f * mid.X, 0, f, -f * mid.Y, 0, 0, 1}
}

// after is first g, then h.
func (h Homography) after(g Homography) Homography {
	var out Homography
	for r := range 3 {
		for c := range 3 {
			for k := range 3 {
				out[3*r+c] += h[3*r+k] * g[3*k+c]
			}
		}
	}
	return out
}

// inverse takes back; up to a factor, which a homography does not feel.
func inverse(h Homography) Homography {
	return Homography{
		h[4]*h[8] - h[5]*h[7], h[2]*h[7] - h[1]*h[8], h[1]*h[5] - h[2]*h[4],
		h[5]*h[6] - h[3]*h[8], h[0]*h[8] - h[2]*h[6], h[2]*h[3] - h[0]*h[5],
		h[3]*h[7] - h[4]*h[6], h[1]*h[6] - h[0]*h[7], h[0]*h[4] - h[1]*h[3],
	}
}

// To is where a place on the sheet is seen [px].
func (h Homography) To(p Point) Point {
	w := h[6]*p.X + h[7]*p.Y + h[8]
	return Point{(h[0]*p.X + h[1]*p.Y + h[2]) / w, (h[3]*p.X + h[4]*p.Y + h[5]) / w}
}

// Back is the place on the sheet that is seen at p [m].
func (h Homography) Back(p Point) Point { return inverse(h).To(p) }

// scales are the largest and least number of pixels a metre has at a place, over
// all directions [px/m].
func (h Homography) scales(p Point) (most, fewest float64) {
	const d = 1e-5
	o := h.To(p)
	a, b := h.To(p.plus(Point{X: d})).minus(o).times(1/d), h.To(p.plus(Point{Y: d})).minus(o).times(1/d)
	// Singular values of the 2 × 2 matrix with the columns a and b.
	e, f := a.dot(a)+b.dot(b), math.Abs(a.cross(b))
	root := math.Sqrt(math.Max(e*e-4*f*f, 0))
	return math.Sqrt((e + root) / 2), math.Sqrt(math.Max((e-root)/2, 0))
}
