package colour

// How far two colours are apart.

import "math"

// Difference returns how far two colours are apart, CIEDE2000 [–].
//
//	p, q  the colours, see their fields
//
// Equation: ΔE00 = √((ΔL'/S_L)² + (ΔC'/S_C)² + (ΔH'/S_H)² + R_T (ΔC'/S_C)(ΔH'/S_H)) with k_L = k_C = k_H = 1.
// Holds for: small differences under D65; above 10 it only says: another colour. Where the hues are opposite the mean hue jumps, and with it the result, by up to 0.06.
// Source: Sharma2005.
// Errors: RangeError for colours out of range.
// Checks: Difference rows of checks.csv (34 published, second library).
func Difference(p, q Lab) (float64, error) {
	if err := p.Check(); err != nil {
		return 0, err
	}
	if err := q.Check(); err != nil {
		return 0, err
	}
	return difference(p, q), nil
}

const (
	power7  = 6103515625.0 // 25^7
	opposed = 180 + 1e-9   // exactly opposite hues count as not beyond: rounding must not choose
)

func hue(b, a float64) float64 {
	if a == 0 && b == 0 {
		return 0
	}
	h := math.Atan2(b, a) * 180 / math.Pi
	if h < 0 {
		h += 360
	}
	return h
}

func radian(deg float64) float64 { return deg * math.Pi / 180 }

func difference(p, q Lab) float64 {
	c7 := math.Pow((p.Chroma()+q.Chroma())/2, 7)
	g := 0.5 * (1 - math.Sqrt(c7/(c7+power7)))
	a1, a2 := (1+g)*p.A, (1+g)*q.A
	c1, c2 := math.Hypot(a1, p.B), math.Hypot(a2, q.B)
	h1, h2 := hue(p.B, a1), hue(q.B, a2)
	turn, mean := hues(h1, h2, c1*c2 == 0)
	dL, dC := q.L-p.L, c2-c1
	dH := 2 * math.Sqrt(c1*c2) * math.Sin(radian(turn)/2)
	meanL, meanC := (p.L+q.L)/2, (c1+c2)/2
	t := 1 - 0.17*math.Cos(radian(mean-30)) + 0.24*math.Cos(radian(2*mean)) +
		0.32*math.Cos(radian(3*mean+6)) - 0.20*math.Cos(radian(4*mean-63))
	off := (meanL - 50) * (meanL - 50)
	sL := 1 + 0.015*off/math.Sqrt(20+off)
	sC := 1 + 0.045*meanC
	sH := 1 + 0.015*meanC*t
	bend := (mean - 275) / 25
	m7 := math.Pow(meanC, 7)
	rT := -2 * math.Sqrt(m7/(m7+power7)) * math.Sin(radian(60*math.Exp(-bend*bend)))
	l, c, h := dL/sL, dC/sC, dH/sH
	return math.Sqrt(max(0, l*l+c*c+h*h+rT*c*h))
}

// hues returns the turn from one hue to the other and the mean hue [degrees].
func hues(h1, h2 float64, grey bool) (turn, mean float64) {
	if grey {
		return 0, h1 + h2
	}
	turn, mean = h2-h1, (h1+h2)/2
	if math.Abs(turn) <= opposed {
		return turn, mean
	}
	if turn > 0 {
		turn -= 360
	} else {
		turn += 360
	}
	if h1+h2 < 360 {
		return turn, mean + 180
	}
	return turn, mean - 180
}
