package blend

import (
	"math"

	"hopperful/process/colour"
	"hopperful/process/recipe"
)

// blendTint is how far a blend is from a colour, as a curve of the recipe:
// absorption and scattering mix by mass, and the rest follows from their ratio.
// A lot scatters alike in all bands.
type blendTint struct {
	bodies  []colour.Body
	scatter []float64 // of each lot against the others
	wanted  colour.Lab
	weights [colour.Bands]colour.XYZ // what each band alone gives
	white   colour.XYZ
	axes    [3][3]float64 // the differences near the wanted colour, of L*, a*, b*
}

// newBlendTint prepares it for lots of known colour.
func newBlendTint(lots []blendLot, wanted colour.Lab) (*blendTint, error) {
	t := &blendTint{wanted: wanted}
	for _, l := range lots {
		t.bodies, t.scatter = append(t.bodies, l.body), append(t.scatter, l.body.S[0])
	}
	var err error
	if t.white, err = colour.White(colour.TwoDegrees); err != nil {
		return nil, err
	}
	for b := range t.weights {
		var one colour.Curve
		one[b] = 1
		if t.weights[b], err = colour.Tristimulus(one, colour.TwoDegrees); err != nil {
			return nil, err
		}
	}
	t.turn()
	return t, nil
}

// turn lays the axes in which CIEDE2000 (Sharma2005) is nearly a length around
// the wanted colour: lightness, chroma and hue, each by its weight there. The
// turning of the hue in blue is left out; the true difference is what counts.
func (t *blendTint) turn() {
	w := t.wanted
	c := math.Hypot(w.A, w.B)
	g := 1 + 0.5*(1-math.Sqrt(math.Pow(c, 7)/(math.Pow(c, 7)+math.Pow(25, 7))))
	a, b := g*w.A, w.B
	c = math.Hypot(a, b)
	cos, sin := 1.0, 0.0
	if c > 1e-9 {
		cos, sin = a/c, b/c
	}
	l := (w.L - 50) * (w.L - 50)
	t.axes = [3][3]float64{
		{1 / (1 + 0.015*l/math.Sqrt(20+l)), 0, 0},
		{0, g * cos / (1 + 0.045*c), sin / (1 + 0.045*c)},
		{0, -g * sin / (1 + 0.015*c), cos / (1 + 0.015*c)},
	}
}

// curve hands it to the recipe.
func (t *blendTint) curve(limit, weight float64) recipe.Curve {
	return recipe.Curve{Value: t.value, Limit: limit, Weight: weight, Parts: 3, Differences: t.differences}
}

// look is the colour of a blend, how it changes with each band's absorption over
// scattering, that ratio, and the scattering all together.
func (t *blendTint) look(x []float64) (lab colour.Lab, slopes [colour.Bands][3]float64, mix colour.Spectrum, scatter float64) {
	for i, v := range x {
		if v == 0 {
			continue
		}
		scatter += v * t.scatter[i]
		for b, k := range t.bodies[i].K {
			mix[b] += v * k
		}
	}
	var seen colour.XYZ
	var rise colour.Spectrum
	for b := range mix {
		mix[b] /= scatter
		var r float64
		r, rise[b] = reflected(mix[b])
		w := t.weights[b]
		seen.X, seen.Y, seen.Z = seen.X+r*w.X, seen.Y+r*w.Y, seen.Z+r*w.Z
	}
	lab, by := t.lab(seen)
	for b, w := range t.weights {
		for k := range 3 {
			slopes[b][k] = rise[b] * (by[k][0]*w.X + by[k][1]*w.Y + by[k][2]*w.Z)
		}
	}
	return lab, slopes, mix, scatter
}

// reflected is the light sent back above the surface at an absorption over
// scattering, and its slope.
func reflected(q float64) (r, slope float64) {
	s := colour.PhotoSurface()
	root := math.Sqrt(q*q + 2*q)
	inside := 1 / (1 + q + root)
	through := (1 - s.Outside) * (1 - s.Inside)
	below := 1 - s.Inside*inside
	slope = -through / (below * below) * inside * inside * (1 + (q+1)/math.Max(root, 1e-12))
	return through * inside / below, slope
}

// lab is L*a*b* of a tristimulus value and its slopes by X, Y and Z.
func (t *blendTint) lab(v colour.XYZ) (colour.Lab, [3][3]float64) {
	lightness := func(x, white float64) (f, slope float64) {
		if x /= white; x > 216.0/24389 {
			f = math.Cbrt(x)
			return f, f / (3 * x * white)
		}
		return (24389.0/27*x + 16) / 116, 24389.0 / 27 / 116 / white
	}
	x, dx := lightness(v.X, t.white.X)
	y, dy := lightness(v.Y, t.white.Y)
	z, dz := lightness(v.Z, t.white.Z)
	return colour.Lab{L: 116*y - 16, A: 500 * (x - y), B: 200 * (y - z)},
		[3][3]float64{{0, 116 * dy, 0}, {500 * dx, -500 * dy, 0}, {0, 200 * dy, -200 * dz}}
}

// value is the colour difference of a blend from the colour wanted.
func (t *blendTint) value(x, slope []float64) float64 {
	lab, slopes, mix, scatter := t.look(x)
	far, err := colour.Difference(lab, t.wanted)
	if err != nil {
		return 1e3 // no surface has such a colour: as far as can be
	}
	const h = 1e-4
	var by [3]float64
	for k := range 3 {
		up, down := lab, lab
		*[]*float64{&up.L, &up.A, &up.B}[k] += h
		*[]*float64{&down.L, &down.A, &down.B}[k] -= h
		a, errA := colour.Difference(up, t.wanted)
		b, errB := colour.Difference(down, t.wanted)
		if errA == nil && errB == nil {
			by[k] = (a - b) / (2 * h)
		}
	}
	t.spread(slope, by, slopes, mix, scatter)
	return far
}

// differences are the three along the axes.
func (t *blendTint) differences(x, part []float64, slope [][]float64) {
	lab, slopes, mix, scatter := t.look(x)
	for r, axis := range t.axes {
		part[r] = axis[0]*(lab.L-t.wanted.L) + axis[1]*(lab.A-t.wanted.A) + axis[2]*(lab.B-t.wanted.B)
		t.spread(slope[r], axis, slopes, mix, scatter)
	}
}

// spread turns slopes by L*, a*, b* into slopes by the mass of each lot.
func (t *blendTint) spread(slope []float64, by [3]float64, slopes [colour.Bands][3]float64, mix colour.Spectrum, scatter float64) {
	var band colour.Spectrum
	for b, s := range slopes {
		band[b] = by[0]*s[0] + by[1]*s[1] + by[2]*s[2]
	}
	for i := range slope {
		sum := 0.0
		for b, k := range t.bodies[i].K {
			sum += band[b] * (k - mix[b]*t.scatter[i])
		}
		slope[i] = sum / scatter
	}
}
