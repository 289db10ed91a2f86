package breakage

// One step of the solver: a singly diagonally implicit Runge–Kutta method of
// order 4 with an embedded one of order 3, stable however stiff the balance.
// Its stages are solved by one sweep from coarse to fine each, because pieces
// only ever become smaller; only the specific power, one number, is iterated.

import "math"

const (
	stages   = 5
	diagonal = 0.25 // γ
)

// The method of Hairer and Wanner, "SDIRK4", from memory; its order is proved by
// the tests. weights are the a_ij divided by γ; ends the b_i; guess the b_i less
// those of the embedded method, divided by γ.
var (
	weights = [stages][stages]float64{
		{},
		{2},
		{34. / 25, -4. / 25},
		{371. / 340, -137. / 680, 15. / 136},
		{25. / 6, -49. / 12, 125. / 4, -85. / 3},
	}
	ends  = [stages]float64{25. / 24, -49. / 48, 125. / 16, -85. / 12, 1. / 4}
	guess = [stages]float64{4 * (25./24 - 59./48), 4 * (-49./48 + 17./96), 4 * (125./16 - 225./32), 0, 1}
)

// foresee[s] are the Lagrange weights that carry the specific power at the
// start of the step and at the stages before on to stage s.
var foresee = lagrange([]float64{0, 1. / 4, 3. / 4, 11. / 20, 1. / 2, 1})

func lagrange(at []float64) (weights [stages][stages]float64) {
	for s := range stages {
		for k := range s + 1 {
			w := 1.0
			for j := range s + 1 {
				if j != k {
					w *= (at[s+1] - at[j]) / (at[k] - at[j])
				}
			}
			weights[s][k] = w
		}
	}
	return weights
}

// sweep solves (1 − g A(w)) y = r for the class masses y, where g = γh and
// w = P/H is the specific power, from class first on. It returns Σ y.
func (m *Mill) sweep(y, r *[mostClasses]float64, first int, g, w float64) float64 {
	var fine, coarse, held float64
	fineDown, coarseDown, fineIn, coarseIn := m.fineDown, m.coarseDown, m.fineIn, m.coarseIn
	gw := g * w
	pan := min(m.pan, mostClasses-1)
	for i := first; i < pan; i++ {
		breaks := gw * m.specific[i]
		stay := 1 / (1 + breaks + g*m.leave[i])
		goes := breaks * stay
		in := r[i] + (fine + coarse)
		// Each class waits for the sums of the one before, and the sweep is as slow as that
		// chain; so what it adds to them is multiplied out beforehand.
		fine = fineDown*fine + (fineIn*goes)*in
		coarse = coarseDown*coarse + (coarseIn*goes)*in
		v := in * stay
		y[i] = v
		held += v
	}
	y[pan] = (r[pan] + m.finePan*fine + m.coarsePan*coarse) / (1 + g*m.leave[pan])
	return held + y[pan]
}

// solve finds a stage: class masses y whose own specific power w made them.
// It starts from the guess w and returns w and Σ y.
func (m *Mill) solve(y, r *[mostClasses]float64, first int, g, w float64) (float64, float64) {
	enough := 0.05 * m.tolerance
	held := m.sweep(y, r, first, g, w)
	var before, missBefore float64
	for range 30 {
		miss := m.power.perMass(max(held, 0)) - w
		if math.Abs(miss) <= enough*w {
			break
		}
		next := w + miss
		if slope := miss - missBefore; missBefore != 0 && slope != 0 {
			// The secant through the last two tries, kept within reach.
			secant := w - miss*(w-before)/slope
			if math.Abs(secant-w) < 4*math.Abs(miss) && secant > 0 {
				next = secant
			}
		}
		before, missBefore, w = w, miss, next
		held = m.sweep(y, r, first, g, w)
	}
	return w, held
}

// trial is a step of length h from held: it fills stage and slope, and returns
// the energy spent, the specific power at the end, and the error estimate in
// units of the tolerance. w is the specific power at the start, dw how it
// changes over a quarter of the step, as far as is known; errors are weighed against
// floor plus the class mass.
func (m *Mill) trial(held []float64, floor float64, first int, h, w, dw float64) (energy float64, end power, fault float64) {
	g := diagonal * h
	var seen [stages + 1]float64
	seen[0] = w
	for s := range stages {
		m.start(held, first, s)
		next := w + dw
		if s > 0 {
			next = 0
			for k := range s + 1 {
				next += foresee[s][k] * seen[k]
			}
		}
		if !(next > 0) {
			next = w
		}
		var stageMass float64
		seen[s+1], stageMass = m.solve(&m.stage[s], &m.from, first, g, next)
		energy += h * ends[s] * seen[s+1] * stageMass
		slope, stage := &m.slope[s], &m.stage[s]
		for i := first; i <= min(m.pan, mostClasses-1); i++ {
			slope[i] = stage[i] - m.from[i]
		}
	}
	for i := first; i <= m.pan; i++ {
		m.from[i] = guess[0]*m.slope[0][i] + guess[1]*m.slope[1][i] + guess[2]*m.slope[2][i] + guess[4]*m.slope[4][i]
	}
	// One more sweep takes the stiff part out of the estimate.
	m.sweep(&m.fault, &m.from, first, g, seen[stages])
	var worst float64
	for i := first; i <= m.pan; i++ {
		e := m.fault[i] / (floor + held[i])
		worst += e * e
	}
	end = power{seen[stages], (seen[stages] - seen[stages-1]) / (h / 2)}
	return energy, end, math.Sqrt(worst) / (10 * m.tolerance)
}

// power is a specific power and how it changes.
type power struct {
	perMass float64 // P/H [W/kg]
	slope   float64 // d(P/H)/dt [W/(kg s)]
}

// start fills from with what stage s starts from.
func (m *Mill) start(held []float64, first, s int) {
	a, pan := &weights[s], min(m.pan, mostClasses-1, len(held)-1)
	s0, s1, s2, s3, from := &m.slope[0], &m.slope[1], &m.slope[2], &m.slope[3], &m.from
	switch s {
	case 0:
		copy(from[first:pan+1], held[first:])
	case 1:
		for i := first; i <= pan; i++ {
			from[i] = held[i] + a[0]*s0[i]
		}
	case 2:
		for i := first; i <= pan; i++ {
			from[i] = held[i] + (a[0]*s0[i] + a[1]*s1[i])
		}
	case 3:
		for i := first; i <= pan; i++ {
			from[i] = held[i] + (a[0]*s0[i] + a[1]*s1[i] + a[2]*s2[i])
		}
	case 4:
		for i := first; i <= pan; i++ {
			from[i] = held[i] + (a[0]*s0[i] + a[1]*s1[i] + a[2]*s2[i] + a[3]*s3[i])
		}
	}
}

// take makes the last trial the state of the charge.
func (m *Mill) take(c *Charge, first int, h, energy float64) {
	for i := first; i <= m.pan; i++ {
		if d := m.leave[i]; d > 0 {
			mean := ends[0]*m.stage[0][i] + ends[1]*m.stage[1][i] + ends[2]*m.stage[2][i] + ends[3]*m.stage[3][i] + ends[4]*m.stage[4][i]
			c.Passed[i] += h * d * mean
		}
		c.Held[i] = m.stage[stages-1][i]
	}
	c.Energy += energy
	c.Passed[m.pan] += settle(c.Held, first)
	settle(c.Passed, first)
}

// settle lets a class that a step has carried below zero, by less than its
// error, hand the debt to the next finer class, so that mass is kept. A debt of the
// pan goes to the other classes, finest first; settle returns what they cannot pay, 0 or less.
func settle(mass []float64, first int) float64 {
	last := len(mass) - 1
	for i := first; i < last; i++ {
		if mass[i] < 0 {
			mass[i+1] += mass[i]
			mass[i] = 0
		}
	}
	debt := min(mass[last], 0)
	mass[last] = max(mass[last], 0)
	for i := last - 1; i >= first && debt < 0; i-- {
		pay := min(mass[i], -debt)
		mass[i] -= pay
		debt += pay
	}
	return debt
}
