package colour

// What a mix looks like: well mixed and not at all.

import (
	"math"

	"hopperful/process"
)

// Body is how a plastic absorbs and scatters light in each band, both against
// the scattering of a plastic taken as 1.
type Body struct {
	K Spectrum // absorption [–], 0 or more
	S Spectrum // scattering [–], above 0
}

const (
	leastScatter = 1e-3
	mostScatter  = 1e3
	mostParts    = 1000
	closes       = 1e-6 // shares that miss 1 by more are refused
	leastInside  = 1e-6 // reflectance below the surface from which K/S is taken
)

// Ratio returns absorption over scattering of a thick opaque layer [–].
//
//	r  reflectance below the surface [–], 1e-6 to 1
//
// Equation: K/S = (1 − R)²/(2R).
// Holds for: layers nothing shines through, diffuse light.
// Source: KubelkaMunk1931.
// Errors: RangeError for r out of range: nothing sends back no light at all.
// Checks: Ratio rows of checks.csv (own derivation).
func Ratio(r float64) (float64, error) {
	if err := process.Within("reflectance below the surface", r, leastInside, 1, "", judged); err != nil {
		return 0, err
	}
	return (1 - r) * (1 - r) / (2 * r), nil
}

// Reflectance returns what a thick opaque layer sends back below its surface [–].
//
//	ratio  absorption over scattering [–], 0 to 1e12
//
// Equation: R = 1 + K/S − √((K/S)² + 2 K/S), written as 1/(1 + K/S + √…) so that dark layers keep their digits.
// Holds for: as Ratio.
// Source: KubelkaMunk1931.
// Errors: RangeError for ratio out of range.
// Checks: Reflectance rows of checks.csv (own derivation).
func Reflectance(ratio float64) (float64, error) {
	if err := process.Within("absorption over scattering", ratio, 0, 1e12, "", judged); err != nil {
		return 0, err
	}
	return reflectance(ratio), nil
}

func reflectance(q float64) float64 { return 1 / (1 + q + math.Sqrt(q*(q+2))) }

// BodyOf returns absorption and scattering of a plastic from its curve.
//
//	c        the curve [–], 0 to 1 in each band
//	scatter  how strongly it scatters against the other plastics of the mix [–], 1e-3 to 1e3; 1 where nothing is known
//	s        the surface, see its fields
//
// Equation: S = scatter, K = S (1 − Ri)²/(2 Ri), Ri as Below.
// Holds for: opaque plastics. With 1 for all it is the single-constant rule; a lot full of white pigment scatters more.
// Source: KubelkaMunk1931, Saunderson1942.
// Errors: RangeError for a curve no such surface can show, a band of no light at all, or scatter out of range.
// Checks: Mixed rows of checks.csv (own derivation).
func BodyOf(c Curve, scatter float64, s Surface) (Body, error) {
	var b Body
	if err := process.Within("scattering", scatter, leastScatter, mostScatter, "", judged); err != nil {
		return b, err
	}
	for i, r := range c {
		ri, err := Below(r, s)
		if err != nil {
			return b, err
		}
		q, err := Ratio(ri)
		if err != nil {
			return b, err
		}
		b.S[i], b.K[i] = scatter, scatter*q
	}
	return b, nil
}

// check refuses bodies that are none.
func (b *Body) check() error {
	for i := range b.K {
		if err := process.Within("absorption", b.K[i], 0, 1e12, "", judged); err != nil {
			return err
		}
		if err := process.Within("scattering", b.S[i], 1e-9, 1e9, "", judged); err != nil {
			return err
		}
	}
	return nil
}

// checkShares refuses shares that are no shares of a whole.
func checkShares(shares []float64, parts int) error {
	if err := process.Within("parts of the mix", float64(parts), 1, mostParts, "", judged); err != nil {
		return err
	}
	if err := process.Within("shares of the mix", float64(len(shares)), float64(parts), float64(parts), "", derived); err != nil {
		return err
	}
	sum := 0.0
	for _, c := range shares {
		if err := process.Within("share of a part", c, 0, 1, "", derived); err != nil {
			return err
		}
		sum += c
	}
	return process.Within("sum of the shares", sum, 1-closes, 1+closes, "", derived)
}

// Mixed returns the curve of a mix in which the parts are melted into one.
//
//	bodies  the parts, against one common scattering
//	shares  share of each by mass [–], 0 to 1, together 1
//	s       the surface of the mix, see its fields
//
// Equation: K/S = Σ c K/Σ c S in each band, then Reflectance and Above.
// Holds for: well mixed opaque plastics of like density; it is known to fail for concentrates and very strong absorbers. A small screw mixes less well: see Unmixed.
// Source: KubelkaMunk1931; addition from memory of Duncan.
// Errors: RangeError for shares that are none or do not add up to 1, or a body or surface out of range.
// Checks: Mixed rows of checks.csv (own derivation).
func Mixed(bodies []Body, shares []float64, s Surface) (Curve, error) {
	if err := checkShares(shares, len(bodies)); err != nil {
		return Curve{}, err
	}
	if err := s.Check(); err != nil {
		return Curve{}, err
	}
	for i := range bodies {
		if err := bodies[i].check(); err != nil {
			return Curve{}, err
		}
	}
	return mixed(bodies, shares, s), nil
}

func mixed(bodies []Body, shares []float64, s Surface) Curve {
	var k, sc Spectrum
	for i := range bodies {
		for j := range k {
			k[j] += shares[i] * bodies[i].K[j]
			sc[j] += shares[i] * bodies[i].S[j]
		}
	}
	var c Curve
	for j := range c {
		c[j] = s.above(reflectance(k[j] / sc[j]))
	}
	return c
}

// Unmixed returns the mean light of parts that lie side by side: dry granules
// seen from afar, or the streaks of a print.
//
//	curves  the parts [–], 0 to 1 in each band
//	shares  share of the area of each [–], 0 to 1, together 1
//
// Equation: R = Σ c R in each band.
// Holds for: parts too small to be told apart and of one size, so that areas are as masses.
// Source: own derivation.
// Errors: RangeError for shares that are none or do not add up to 1, or curves out of range.
// Checks: Unmixed rows of checks.csv (own derivation).
func Unmixed(curves []Curve, shares []float64) (Curve, error) {
	var out Curve
	if err := checkShares(shares, len(curves)); err != nil {
		return out, err
	}
	for i, c := range curves {
		if err := c.Check(); err != nil {
			return out, err
		}
		for j, r := range c {
			out[j] += shares[i] * r
		}
	}
	for j := range out {
		out[j] = min(1, out[j]) // shares may miss 1 by a rounding
	}
	return out, nil
}
