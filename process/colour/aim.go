package colour

// How far a blend is from a colour wanted, and how that changes with every mass
// in it: what a search for a recipe needs.

import "math"

// Aim is a colour wanted, and the plastics that may be blended for it.
type Aim struct {
	bodies  []Body
	wanted  Lab
	surface Surface
	white   XYZ
	weights [Bands]XYZ    // what each band alone gives
	axes    [3][3]float64 // the differences near the wanted colour, of L*, a*, b*
}

// NewAim prepares to tell how far blends are from a colour.
//
//	bodies  the plastics, against one common scattering
//	wanted  the colour, see its fields
//	s       the surface of the blend, see its fields
//
// Equation: axes of lightness, chroma and hue at the wanted colour, each over its weight S_L, S_C (1 + 0.045 C'), S_H (1 + 0.015 C') there; the turning of the hue in blue and T are left out.
// Holds for: see Far and Parts.
// Source: own derivation from Sharma2005.
// Errors: RangeError for a body, a colour or a surface out of range.
// Checks: Aim rows of checks.csv (4 published, 1 own derivation).
func NewAim(bodies []Body, wanted Lab, s Surface) (*Aim, error) {
	if err := wanted.Check(); err != nil {
		return nil, err
	}
	if err := s.Check(); err != nil {
		return nil, err
	}
	for i := range bodies {
		if err := bodies[i].check(); err != nil {
			return nil, err
		}
	}
	a := &Aim{bodies: bodies, wanted: wanted, surface: s}
	var err error
	if a.white, err = White(TwoDegrees); err != nil {
		return nil, err
	}
	for b := range a.weights {
		var one Curve
		one[b] = 1
		if a.weights[b], err = Tristimulus(one, TwoDegrees); err != nil {
			return nil, err
		}
	}
	a.turn()
	return a, nil
}

func (a *Aim) turn() {
	w := a.wanted
	c7 := math.Pow(w.Chroma(), 7)
	g := 1 + 0.5*(1-math.Sqrt(c7/(c7+power7)))
	red, yellow := g*w.A, w.B
	c := math.Hypot(red, yellow)
	cos, sin := 1.0, 0.0
	if c > 1e-9 {
		cos, sin = red/c, yellow/c
	}
	off := (w.L - 50) * (w.L - 50)
	a.axes = [3][3]float64{
		{1 / (1 + 0.015*off/math.Sqrt(20+off)), 0, 0},
		{0, g * cos / (1 + 0.045*c), sin / (1 + 0.045*c)},
		{0, -g * sin / (1 + 0.015*c), cos / (1 + 0.015*c)},
	}
}

// Far returns the colour difference of a blend melted well from the one wanted,
// CIEDE2000 [–]. It is not safe for several goroutines at once.
//
//	x      mass of each plastic [kg], ≥ 0, some above 0
//	slope  filled with how Far changes with each mass [1/kg]; nil where nobody wants that
//
// Equation: Difference of the colour of Mixed from the one wanted; slopes by the chain rule, those of Difference by steps of 1e-4.
// Holds for: as Mixed and Difference.
// Source: KubelkaMunk1931, Saunderson1942, Sharma2005; slopes own derivation.
// Errors: none; without mass, or with a colour no surface has, it answers 1000: as far as can be.
// Checks: Aim rows of checks.csv (4 published, 1 own derivation).
func (a *Aim) Far(x, slope []float64) float64 {
	m, ok := a.mix(x)
	if !ok {
		clear(slope)
		return 1e3
	}
	if m.lab.Check() != nil {
		clear(slope)
		return 1e3
	}
	far := difference(m.lab, a.wanted)
	if slope == nil {
		return far
	}
	const h = 1e-4
	var by [3]float64
	for k := range by {
		up, down := m.lab, m.lab
		*[]*float64{&up.L, &up.A, &up.B}[k] += h
		*[]*float64{&down.L, &down.A, &down.B}[k] -= h
		by[k] = (difference(up, a.wanted) - difference(down, a.wanted)) / (2 * h)
	}
	a.spread(slope, by, m)
	return far
}

// Parts returns three differences of a blend from the colour wanted, nearly
// straight in the masses, whose length is about Far. It is not safe for several
// goroutines at once.
//
//	x      mass of each plastic [kg], ≥ 0, some above 0
//	part   filled with the differences in lightness, chroma and hue [–]
//	slope  filled with how each changes with each mass [1/kg]; a nil slice is left out
//
// Equation: axes of NewAim times L* a* b* minus those wanted.
// Holds for: colours near the wanted one; farther off Far alone counts.
// Source: own derivation from Sharma2005.
// Errors: none; without mass all are 1000 and the slopes 0.
// Checks: Aim rows of checks.csv (4 published, 1 own derivation).
func (a *Aim) Parts(x, part []float64, slope [][]float64) {
	m, ok := a.mix(x)
	for r, axis := range a.axes {
		if !ok {
			part[r] = 1e3
			clear(slope[r])
			continue
		}
		part[r] = axis[0]*(m.lab.L-a.wanted.L) + axis[1]*(m.lab.A-a.wanted.A) + axis[2]*(m.lab.B-a.wanted.B)
		a.spread(slope[r], axis, m)
	}
}

// blended is the look of a mix.
type blended struct {
	lab     Lab
	ratio   Spectrum // absorption over scattering
	rise    Spectrum // how the light of a band changes with that ratio
	by      [3][3]float64
	scatter Spectrum // Σ x S [kg]
}

func (a *Aim) mix(x []float64) (m blended, ok bool) {
	mass := 0.0
	for i, v := range x {
		if v == 0 {
			continue
		}
		mass += v
		k, s := &a.bodies[i].K, &a.bodies[i].S
		for b := range k {
			m.ratio[b] += v * k[b]
			m.scatter[b] += v * s[b]
		}
	}
	if !(mass > 0) {
		return m, false
	}
	through := (1 - a.surface.Outside) * (1 - a.surface.Inside)
	var seen XYZ
	for b := range m.ratio {
		m.ratio[b] /= m.scatter[b]
		q := m.ratio[b]
		root := math.Sqrt(q * (q + 2))
		inside := 1 / (1 + q + root)
		below := 1 - a.surface.Inside*inside
		m.rise[b] = -through / (below * below) * inside * inside * (1 + (q+1)/math.Max(root, 1e-12))
		r, w := a.surface.above(inside), &a.weights[b]
		seen.X, seen.Y, seen.Z = seen.X+r*w.X, seen.Y+r*w.Y, seen.Z+r*w.Z
	}
	m.lab, m.by = a.look(seen)
	return m, true
}

// look is L*a*b* of a tristimulus value and its slopes by X, Y and Z.
func (a *Aim) look(v XYZ) (Lab, [3][3]float64) {
	lightness := func(x, white float64) (f, slope float64) {
		if x /= white; x > 216.0/24389 {
			f = math.Cbrt(x)
			return f, f / (3 * x * white)
		}
		return (24389.0/27*x + 16) / 116, 24389.0 / 27 / 116 / white
	}
	x, dx := lightness(v.X, a.white.X)
	y, dy := lightness(v.Y, a.white.Y)
	z, dz := lightness(v.Z, a.white.Z)
	return Lab{L: 116*y - 16, A: 500 * (x - y), B: 200 * (y - z)},
		[3][3]float64{{0, 116 * dy, 0}, {500 * dx, -500 * dy, 0}, {0, 200 * dy, -200 * dz}}
}

// spread turns slopes by L*, a*, b* into slopes by the mass of each plastic.
func (a *Aim) spread(slope []float64, by [3]float64, m blended) {
	if slope == nil {
		return
	}
	var steep, even Spectrum // of K and of −S
	for b := range steep {
		w := &a.weights[b]
		for k := range by {
			steep[b] += by[k] * (m.by[k][0]*w.X + m.by[k][1]*w.Y + m.by[k][2]*w.Z)
		}
		steep[b] *= m.rise[b] / m.scatter[b]
		even[b] = steep[b] * m.ratio[b]
	}
	for i := range slope {
		k, s := &a.bodies[i].K, &a.bodies[i].S
		sum := 0.0
		for b := range steep {
			sum += steep[b]*k[b] - even[b]*s[b]
		}
		slope[i] = sum
	}
}
