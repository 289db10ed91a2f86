package moisture

// One grain: how much of its excess water is gone after a while.

import (
	"math"

	"hopperful/process"
)

// Shape is the form of a grain for diffusion.
type Shape int

// The shapes. The half size a is half the thickness of a plate, the radius of a
// cylinder or sphere.
const (
	Plate    Shape = iota // open at its two faces: flakes, walls of thin prints
	Cylinder              // open around, closed at the ends: cut strand
	Sphere                // chips about as long as wide
)

const (
	fewTerms  = 32   // enough for plate and sphere from shortTime on: exp(−β²F) < 1e-80
	manyTerms = 700  // enough for a cylinder from shortWire on: exp(−β²F) < 1e-20
	shortTime = 0.02 // Fourier number up to which plate and sphere take the short-time form; its error is exp(−1/F)
	shortWire = 1e-5 // the same for the cylinder, whose short form knows less of the curvature
	longest   = 1e9  // largest Fourier number taken
)

// Body is one grain, prepared once and then asked for many times. It may be used
// by several at a time.
type Body struct {
	shape        Shape
	biot         float64
	root, weight []float64
	scale        float64 // joins a cylinder's short form to its series
}

// NewBody prepares a grain.
//
//	biot  Biot number k a/D [–], 1e-6 to 1e9, or +Inf for a surface that is at
//	      equilibrium with the air at once
//
// Errors: RangeError for an unknown shape or a Biot number out of range.
func NewBody(shape Shape, biot float64) (*Body, error) {
	if err := checkBody(shape, biot); err != nil {
		return nil, err
	}
	n := fewTerms
	if shape == Cylinder {
		n = manyTerms
	}
	b := &Body{shape: shape, biot: biot, root: make([]float64, n), weight: make([]float64, n), scale: 1}
	for i := range b.root {
		b.root[i] = root(shape, biot, i+1)
		b.weight[i] = weight(shape, biot, b.root[i])
	}
	if shape == Cylinder {
		b.scale = b.series(shortWire) / shortCylinder(biot, shortWire)
	}
	return b, nil
}

func checkBody(shape Shape, biot float64) error {
	if err := process.Within("shape", float64(shape), float64(Plate), float64(Sphere), "", derived); err != nil {
		return err
	}
	if math.IsInf(biot, 1) {
		return nil
	}
	return process.Within("Biot number", biot, 1e-6, 1e9, "", judged)
}

// weight is the share of the water that leaves with a root.
func weight(shape Shape, biot, root float64) float64 {
	q := root * root
	if math.IsInf(biot, 1) {
		return [...]float64{2, 4, 6}[shape] / q
	}
	bb := biot * biot
	switch shape {
	case Plate:
		return 2 * bb / (q * (q + bb + biot))
	case Cylinder:
		return 4 * bb / (q * (q + bb))
	}
	return 6 * bb / (q * (q + biot*(biot-1)))
}

// Lost returns the share of the excess water that is gone after a Fourier number
// F = D t/a² [–], 0 to 1e9; a RangeError outside.
func (b *Body) Lost(f float64) (float64, error) {
	if !(f >= 0 && f <= longest) {
		return 0, process.Within("Fourier number", f, 0, longest, "", judged)
	}
	return b.lost(f), nil
}

func (b *Body) lost(f float64) float64 {
	switch {
	case b.shape == Plate && f < shortTime:
		return shortPlate(b.biot, f)
	case b.shape == Sphere && f < shortTime:
		return shortSphere(b.biot, f)
	case b.shape == Cylinder && f < shortWire:
		return b.scale * shortCylinder(b.biot, f)
	}
	return b.series(f)
}

func (b *Body) series(f float64) float64 {
	left := 0.0
	for i, r := range b.root {
		x := r * r * f
		if x > 50 { // exp(−50) is below the last digit of a share
			break
		}
		left += b.weight[i] * math.Exp(-x)
	}
	// The weights of all roots add up to 1 within rounding.
	return min(max(1-left, 0), 1)
}

// Fourier returns the Fourier number at which a share of the excess water is
// gone [–]; a RangeError for a share not in 0 to 1 − 1e-12.
func (b *Body) Fourier(lost float64) (float64, error) {
	if !(lost >= 0 && lost <= 1-1e-12) {
		return 0, process.Within("share of the water that has to go", lost, 0, 1-1e-12, "", derived)
	}
	if lost == 0 {
		return 0, nil
	}
	return rising(lost, longest, b.lost), nil
}

// rising finds where a rising function from 0 reaches a value: by halving of the
// logarithm until the bracket's ends are a factor of e apart, then by regula falsi. hi is
// returned when it does not get there, and hi e^-110 when it is there before that.
func rising(value, hi float64, f func(float64) float64) float64 {
	low, high := math.Log(hi)-110, math.Log(hi)
	for high-low > 1 {
		if mid := (low + high) / 2; f(math.Exp(mid)) < value {
			low = mid
		} else {
			high = mid
		}
	}
	miss := func(at float64) float64 { return f(at) - value }
	from, to := math.Exp(low), math.Exp(high)
	switch {
	case miss(from) >= 0:
		return from
	case miss(to) <= 0:
		return to
	}
	return between(from, to, miss)
}

// Lost returns the share of a grain's excess water that is gone [–]. Taking up
// water is the same with the sign turned.
//
//	shape  plate, cylinder or sphere
//	biot   Biot number k a/D [–], 1e-6 to 1e9, or +Inf for a surface at equilibrium
//	f      Fourier number D t/a² [–], 0 to 1e9
//
// Equation: 1 − Σ w_n exp(−β_n² F); for short times the solution of the half space, for the sphere in r·C.
// Holds for: constant diffusivity and air. The series has 32 terms (cylinder 700); the two forms agree to 1e-12 where they meet (cylinder 1e-6 below F = 1e-5).
// Source: Crank1975, p. 48, 60, 91, 96 as cited in Polykin2024; cylinder and its short form from memory.
// Errors: RangeError for arguments out of range.
// Checks: Lost rows of checks.csv (published, second library).
func Lost(shape Shape, biot, f float64) (float64, error) {
	b, err := NewBody(shape, biot)
	if err != nil {
		return 0, err
	}
	return b.Lost(f)
}

// FourierFor returns the Fourier number at which a share of a grain's excess
// water is gone [–].
//
//	shape  plate, cylinder or sphere
//	biot   Biot number k a/D [–], 1e-6 to 1e9, or +Inf for a surface at equilibrium
//	lost   share that has to go [–], 0 to 1 − 1e-12
//
// Equation: Lost(F) = lost, solved within a bracket.
// Holds for: as Lost.
// Source: Crank1975, as Lost.
// Errors: RangeError for arguments out of range.
// Checks: FourierFor rows of checks.csv (second library, own derivation).
func FourierFor(shape Shape, biot, lost float64) (float64, error) {
	b, err := NewBody(shape, biot)
	if err != nil {
		return 0, err
	}
	return b.Fourier(lost)
}
