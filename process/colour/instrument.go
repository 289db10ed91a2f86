package colour

// L*a*b* as an instrument reads it.

import "math"

// FromInstrument returns a smooth curve with an L*a*b* measured under D65 for
// either observer, as FromLab.
//
//	p  the colour as the instrument shows it, see its fields
//	o  the observer the instrument is set to
//
// Equation: FromLab for two degrees; for ten, FromLab of p₂, and p₂ moved by what LabOf for ten degrees leaves to p, until that is below 1e-6.
// Holds for: colours a surface can have, measured under D65. Narrow blues keep an error: their guessed curve is too smooth.
// Source: own derivation; Burns2019.
// Errors: RangeError for p out of range or an unknown observer, *GuessError for a colour no surface has.
// Checks: FromInstrument rows of checks.csv (identity, refusal).
func FromInstrument(p Lab, o Observer) (Curve, error) {
	if _, err := White(o); err != nil {
		return Curve{}, err
	}
	c, err := FromLab(p)
	if o == TwoDegrees || p.Check() != nil {
		return c, err
	}
	// The start may be a colour no surface has for two degrees, though one has it
	// for ten; then it begins at the grey of the same lightness.
	q := p
	if err != nil {
		q = Lab{L: p.L}
		if c, err = FromLab(q); err != nil {
			return c, err
		}
	}
	const turns = 60
	for range turns {
		seen, err := LabOf(c, o)
		if err != nil {
			return c, err
		}
		off := Lab{p.L - seen.L, p.A - seen.A, p.B - seen.B}
		if math.Abs(off.L)+math.Abs(off.A)+math.Abs(off.B) < 1e-6 {
			return c, nil
		}
		if c, q, err = nearer(q, off); err != nil {
			return c, err
		}
	}
	return c, &GuessError{p}
}

// nearer moves a colour, and by less where no surface is that colourful.
func nearer(q, by Lab) (Curve, Lab, error) {
	var c Curve
	var err error
	for step := 1.0; step > 1e-2; step /= 2 {
		to := Lab{q.L + step*by.L, q.A + step*by.A, q.B + step*by.B}
		if c, err = FromLab(to); err == nil {
			return c, to, nil
		}
	}
	return c, q, err
}
