package colour

// What a screen colour is by number, which the way back is held against.

// ScreenXYZ returns the tristimulus value of a screen colour, two degrees.
//
//	c  the colour, see its fields; 0 to 1 each
//
// Equation: the matrix of the primaries of sRGB times the linear light.
// Holds for: sRGB screens; compare with ScreenWhite.
// Source: from memory of IEC 61966-2-1.
// Errors: RangeError for c out of range.
// Checks: ScreenXYZ rows of checks.csv (second library).
func ScreenXYZ(c RGB) (XYZ, error) {
	if err := c.check(); err != nil {
		return XYZ{}, err
	}
	v := srgb().toXYZ.times([3]float64{linear(c.R), linear(c.G), linear(c.B)})
	return XYZ{v[0], v[1], v[2]}, nil
}

// ScreenLab returns the L*a*b* of a screen colour.
//
//	c  the colour, see its fields; 0 to 1 each
//
// Equation: ToLab of ScreenXYZ with ScreenWhite.
// Holds for: as ScreenXYZ.
// Source: from memory of IEC 61966-2-1 and CIE 15.
// Errors: RangeError for c out of range.
// Checks: ScreenLab rows of checks.csv (second library).
func ScreenLab(c RGB) (Lab, error) {
	v, err := ScreenXYZ(c)
	if err != nil {
		return Lab{}, err
	}
	return toLab(v, ScreenWhite()), nil
}
