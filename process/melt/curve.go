package melt

// A flow curve at one temperature: stress against shear rate, and what a tube
// makes of it.

import "math"

// Curve is how a melt flows at one temperature: Cross, or a power law. Make it
// with [NewCross], [NewPower] or the At of a law with temperature.
type Curve struct {
	zero   float64 // η0 of Cross, K of the power law
	stress float64 // τ*; 0 for the power law
	n      float64
	tail   *[tailPoints]float64 // e^(−(1−n)t) at the points of tailRule; nil for the power law
}

// CrossSet is a Cross curve at one temperature.
type CrossSet struct {
	Zero   float64 // η0, viscosity at rest [Pa s], 1e-6 to 1e12
	Stress float64 // τ*, stress at which it has halved [Pa], above 0 to 1e9; η0/λ in the form with a time
	N      float64 // flow exponent far above [–], 0.01 to 1
}

func (c CrossSet) check() error {
	return within(quantityIn{"zero-shear viscosity", c.Zero, leastEta, mostEta, "Pa s"},
		quantityIn{"critical stress", c.Stress, leastEta, mostPressure, "Pa"}, quantityIn{"flow exponent", c.N, leastN, 1, ""})
}

// NewCross gives the curve of a Cross set.
//
// Errors: RangeError for a field out of range; a critical stress of 0 is one of them.
func NewCross(c CrossSet) (Curve, error) {
	if err := c.check(); err != nil {
		return Curve{}, err
	}
	curve := Curve{c.Zero, c.Stress, c.N, new([tailPoints]float64)}
	for i, p := range tailRule {
		curve.tail[i] = math.Exp(-(1 - c.N) * p.at)
	}
	return curve, nil
}

// NewPower gives the curve of a power law; n = 1 is a Newtonian liquid.
//
//	k  consistency [Pa sⁿ], 1e-6 to 1e12
//	n  flow exponent [–], 0.01 to 1.5
//
// Errors: RangeError for an argument out of range.
func NewPower(k, n float64) (Curve, error) {
	if err := within(quantityIn{"consistency", k, leastEta, mostEta, "Pa sⁿ"}, quantityIn{"flow exponent", n, leastN, mostN, ""}); err != nil {
		return Curve{}, err
	}
	return Curve{zero: k, n: n}, nil
}

// checkRate refuses an empty curve and a rate out of range.
func (c Curve) checkRate(name string, rate float64) error {
	return within(quantityIn{"zero-shear viscosity or consistency", c.zero, leastEta, mostEta, "Pa s"}, quantityIn{name, rate, leastRate, mostRate, "1/s"})
}

// Viscosity gives η at a shear rate of 1e-9 to 1e8 1/s, in Pa s.
func (c Curve) Viscosity(rate float64) (float64, error) {
	if err := c.checkRate("shear rate", rate); err != nil {
		return 0, err
	}
	return c.at(rate) / rate, nil
}

// Stress gives the shear stress at a shear rate, in Pa.
func (c Curve) Stress(rate float64) (float64, error) {
	if err := c.checkRate("shear rate", rate); err != nil {
		return 0, err
	}
	return c.at(rate), nil
}

func (c Curve) at(rate float64) float64 {
	if c.stress == 0 {
		return c.zero * math.Pow(rate, c.n)
	}
	x := c.zero * rate / c.stress
	return c.stress * x / (1 + math.Pow(x, 1-c.n))
}

// Rate gives the shear rate at a shear stress in Pa, the inverse of Stress.
func (c Curve) Rate(stress float64) (float64, error) {
	if err := within(quantityIn{"shear stress", stress, 1e-9, mostPressure, "Pa"}); err != nil {
		return 0, err
	}
	if c.stress == 0 {
		rate := math.Pow(stress/c.zero, 1/c.n)
		return rate, c.checkRate("shear rate", rate)
	}
	// ln x − ln(1 + x^m) rises with u = ln x and bends downward, so that Newton
	// from the left, where x is the stress itself, climbs without overshoot.
	m, target := 1-c.n, math.Log(stress/c.stress)
	u := target
	for range 100 {
		g, slope := bend(u, m)
		step := (target - g) / slope
		u += step
		if math.Abs(step) < 1e-15*(1+math.Abs(u)) {
			break
		}
	}
	rate := math.Exp(u) * c.stress / c.zero
	return rate, c.checkRate("shear rate", rate)
}

// bend is g(u) = u − ln(1 + e^(mu)), the logarithm of the Cross stress over τ*
// at x = e^u, and its slope: the local flow exponent.
func bend(u, m float64) (g, slope float64) {
	e := math.Exp(-math.Abs(m * u))
	high := 1 / (1 + e) // e^(mu)/(1+e^(mu)) for mu ≥ 0
	if u < 0 {
		high = e / (1 + e)
	}
	return u - max(0, m*u) - math.Log1p(e), 1 - m*high
}

// Apparent gives the apparent shear rate 4Q/(πR³) of a tube at whose wall the
// melt shears at the true rate, in 1/s.
func (c Curve) Apparent(wall float64) (float64, error) {
	if err := c.checkRate("shear rate at the wall", wall); err != nil {
		return 0, err
	}
	return wall * c.apparentShare(wall), nil
}

// apparentShare is Γ/γ_w, between 4n/(3n+1) and 1. By parts
// Γ = (4/3)(γ_w − τ_w⁻³ ∫τ³ dγ); with γ = γ_w e^(−t) the integrand is
// e^(−4t) ((1 + X)/(1 + X e^(−mt)))³ with X = x^m, m = 1 − n: the powers do not
// depend on the rate, which makes it cheap.
func (c Curve) apparentShare(wall float64) float64 {
	if c.stress == 0 {
		return 4 * c.n / (3*c.n + 1)
	}
	big := math.Pow(c.zero*wall/c.stress, 1-c.n)
	sum := 0.0
	for i, w := range tailWeights {
		ratio := (1 + big) / (1 + big*c.tail[i])
		sum += w * ratio * ratio * ratio
	}
	return 4 * (1 - sum) / 3
}

// WallRate gives the true shear rate at the wall of a tube from the apparent
// one, Rabinowitsch's correction, in 1/s.
func (c Curve) WallRate(apparent float64) (float64, error) {
	if err := c.checkRate("apparent shear rate", apparent); err != nil {
		return 0, err
	}
	if c.stress == 0 {
		return apparent * (3*c.n + 1) / (4 * c.n), nil
	}
	// Newton in logarithms: ln Γ against ln γ_w has a slope near 1 everywhere, by
	// Rabinowitsch (4γ_w/Γ − 3) times the local exponent, so a few steps do.
	m, scale := 1-c.n, c.zero/c.stress
	u := math.Log(scale * apparent)
	_, n := bend(u, m)
	u += math.Log((3*n + 1) / (4 * n))
	for range 30 {
		share := c.apparentShare(math.Exp(u) / scale)
		_, n = bend(u, m)
		step := (math.Log(scale*apparent/share) - u) / ((4/share - 3) * n)
		u += step
		if math.Abs(step) < 1e-9 { // its square is what is left
			break
		}
	}
	return math.Exp(u) / scale, nil
}

// Exponent gives the local flow exponent d ln τ/d ln γ at a shear rate.
func (c Curve) Exponent(rate float64) (float64, error) {
	if err := c.checkRate("shear rate", rate); err != nil {
		return 0, err
	}
	if c.stress == 0 {
		return c.n, nil
	}
	_, slope := bend(math.Log(c.zero*rate/c.stress), 1-c.n)
	return slope, nil
}

// Thinned is the curve of a lot that flows factor times as fast at every stress.
func (c Curve) Thinned(factor float64) (Curve, error) {
	if err := checkThinning(factor); err != nil {
		return c, err
	}
	if c.stress == 0 {
		c.zero *= math.Pow(factor, -c.n)
	} else {
		c.zero /= factor
	}
	return c, nil
}
