package colour

// The standard observers under daylight D65.

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"hopperful/process"
)

// Observer is a standard observer of the CIE, by the field of view in degrees.
type Observer int

// The observers. Screens and photos mean two degrees; instruments for coloured
// plastics are mostly set to ten.
const (
	TwoDegrees Observer = 2  // CIE 1931
	TenDegrees Observer = 10 // CIE 1964
)

// XYZ is a colour as an observer sees it, Y = 1 for a perfect white [–].
type XYZ struct {
	X float64 // [–]
	Y float64 // [–]
	Z float64 // [–]
}

// weight is what each band adds to X, Y and Z, and their sums.
type weight struct {
	band  [Bands][3]float64
	white XYZ
}

//go:embed cie.csv
var cieText string

// weights are those of the two observers.
var weights = sync.OnceValues(readWeights)

func readWeights() (map[Observer]*weight, error) {
	lines := csv.NewReader(strings.NewReader(cieText))
	lines.Comment = '#'
	rows, err := lines.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("tables of the CIE: %w", err)
	}
	two, ten := &weight{}, &weight{}
	for _, row := range rows[1:] {
		var v [8]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(row[i], 64); err != nil {
				return nil, fmt.Errorf("tables of the CIE: %w", err)
			}
		}
		two.fold(v[0]*1e-9, v[1]*v[2], v[1]*v[3], v[1]*v[4])
		ten.fold(v[0]*1e-9, v[1]*v[5], v[1]*v[6], v[1]*v[7])
	}
	two.finish()
	ten.finish()
	return map[Observer]*weight{TwoDegrees: two, TenDegrees: ten}, nil
}

// fold shares out a wavelength of the tables to the bands beside it, so that a
// curve counts as linear between its bands and held beyond its ends.
func (w *weight) fold(wavelength, x, y, z float64) {
	p := max(0, min(Bands-1, (wavelength-firstBand)/bandStep))
	i := min(int(p), Bands-2)
	f := p - float64(i)
	for k, v := range [3]float64{x, y, z} {
		w.band[i][k] += (1 - f) * v
		w.band[i+1][k] += f * v
	}
}

// finish scales the weights so that a perfect white has Y = 1.
func (w *weight) finish() {
	sum := 0.0
	for _, b := range w.band {
		sum += b[1]
	}
	for i := range w.band {
		for k := range w.band[i] {
			w.band[i][k] /= sum
		}
	}
	w.white = w.of((*Spectrum)(allLight()))
}

func allLight() *Curve {
	var c Curve
	for i := range c {
		c[i] = 1
	}
	return &c
}

func (w *weight) of(c *Spectrum) XYZ {
	var v XYZ
	for i, r := range c {
		v.X += r * w.band[i][0]
		v.Y += r * w.band[i][1]
		v.Z += r * w.band[i][2]
	}
	return v
}

func weightOf(o Observer) (*weight, error) {
	all, err := weights()
	if err != nil {
		return nil, err
	}
	w, ok := all[o]
	if !ok {
		return nil, &process.RangeError{Name: "field of view of the observer, 2 or 10 degrees:", Value: float64(o), Lo: 2, Hi: 10, Source: "Colord2022"}
	}
	return w, nil
}

// White returns what an observer sees of a perfect white under D65.
//
//	o  the observer
//
// Equation: Tristimulus of a curve of ones.
// Holds for: the weights of this package; always compare with the white of the same weights.
// Source: Colord2022.
// Errors: RangeError for an unknown observer.
// Checks: White rows of checks.csv (published).
func White(o Observer) (XYZ, error) {
	w, err := weightOf(o)
	if err != nil {
		return XYZ{}, err
	}
	return w.white, nil
}

// Tristimulus returns what an observer sees of a curve under daylight D65.
//
//	c  the curve [–], 0 to 1 in each band
//	o  the observer
//
// Equation: X = k Σ R S x̄, Y = k Σ R S ȳ, Z = k Σ R S z̄ at steps of 5 nm, R linear between the bands; k makes Y of a perfect white 1.
// Holds for: surfaces that do not fluoresce.
// Source: Colord2022 for the tables; the sums from memory of CIE 15.
// Errors: RangeError for a curve out of range or an unknown observer.
// Checks: Tristimulus rows of checks.csv (second library, own derivation).
func Tristimulus(c Curve, o Observer) (XYZ, error) {
	if err := c.Check(); err != nil {
		return XYZ{}, err
	}
	w, err := weightOf(o)
	if err != nil {
		return XYZ{}, err
	}
	return w.of((*Spectrum)(&c)), nil
}
