package breakage

// The exact solution where rates do not depend on the hold-up. The balance with
// first-order rates and a cumulative debris law is that of KokaTrass1988 and
// Reid1965; a screen that lets a class pass in proportion to its mass adds Leave.

import (
	"math"

	"hopperful/process"
)

// Linear is a mill whose rates stay as they are: class i breaks at Break[i] and
// leaves at Leave[i], and a share Debris[i][j] of what breaks in class j lands
// in class i. Class 0 is the coarsest. The slices belong to the caller.
type Linear struct {
	Break  []float64   // S [1/s], each ≥ 0; debris that has no class below must not break
	Leave  []float64   // D [1/s], each ≥ 0; nil where nothing leaves
	Debris [][]float64 // b [–]: Debris[i][j] for j < i, each column that breaks adds up to 1
}

// check refuses rates that cannot be: negative, or debris that loses mass.
func (l Linear) check() error {
	n := len(l.Break)
	if err := sameLength("debris rows", len(l.Debris), n); err != nil {
		return err
	}
	if l.Leave != nil {
		if err := sameLength("leaving rates", len(l.Leave), n); err != nil {
			return err
		}
	}
	for j := range n {
		if err := process.Within("breakage rate", l.Break[j], 0, 1e9, "1/s", "own derivation"); err != nil {
			return err
		}
		if l.Leave != nil {
			if err := process.Within("leaving rate", l.Leave[j], 0, 1e9, "1/s", "own derivation"); err != nil {
				return err
			}
		}
		if err := l.checkColumn(j); err != nil {
			return err
		}
	}
	return nil
}

// checkColumn refuses debris of class j that is negative or not whole.
func (l Linear) checkColumn(j int) error {
	if l.Break[j] == 0 {
		return nil
	}
	var whole float64
	for i := j + 1; i < len(l.Break); i++ {
		if err := sameLength("debris columns", min(len(l.Debris[i]), i), i); err != nil {
			return err
		}
		if err := process.Within("debris share", l.Debris[i][j], 0, 1, "", "own derivation"); err != nil {
			return err
		}
		whole += l.Debris[i][j]
	}
	return process.Within("sum of the debris of a class", whole, 1-1e-9, 1+1e-9, "", "own derivation")
}

// Advance moves held and passed, the class masses in the mill and beyond the
// screen, on by time [s]. It sums the series of uniformisation,
//
//	m(t) = Σ_k e^(−qt) (qt)^k/k! · (I + A/q)^k m(0),   q = the largest S + D,
//
// in which every term is positive: nothing cancels, equal rates do no harm, no
// mass turns negative, and mass is kept to rounding. It answers a RangeError for
// negative or lossy rates, for lengths that do not fit, and for q·time above 10⁶
// (stiffer than exact work is meant for; use a [Mill]).
func (l Linear) Advance(held, passed []float64, time float64) error {
	if err := l.check(); err != nil {
		return err
	}
	n := len(l.Break)
	if err := sameLength("class masses", len(held), n); err != nil {
		return err
	}
	if err := sameLength("passed class masses", len(passed), n); err != nil {
		return err
	}
	q := l.fastest()
	if err := process.Within("time times fastest rate", q*time, 0, 1e6, "", "own derivation"); err != nil {
		return err
	}
	if q == 0 {
		return nil
	}
	const piece = 20 // q·h of one sub-step: e^−20 is far from underflow
	steps := max(1, int(math.Ceil(q*time/piece)))
	w := make([]float64, 4*n)
	for range steps {
		l.series(held, passed, q, q*time/float64(steps), w)
	}
	return nil
}

func (l Linear) fastest() float64 {
	var q float64
	for i, s := range l.Break {
		if l.Leave != nil {
			s += l.Leave[i]
		}
		q = max(q, s)
	}
	return q
}

// series adds up one sub-step of length z/q; w is room for four vectors.
func (l Linear) series(held, passed []float64, q, z float64, w []float64) {
	n := len(held)
	term, next, total, spent := w[:n], w[n:2*n], w[2*n:3*n], w[3*n:]
	copy(term, held)
	clear(total)
	clear(spent)
	weight := math.Exp(-z) // Poisson weight of k jumps
	tail := 1 - weight     // weight of more than k jumps
	for k := 1; ; k++ {
		for i, v := range term {
			total[i] += weight * v
			spent[i] += max(tail, 0) * v // ∫ of the weight is the tail, over q
		}
		if float64(k) > z && weight < 1e-18 {
			break
		}
		l.jump(next, term, q)
		term, next = next, term
		weight *= z / float64(k)
		tail -= weight
	}
	copy(held, total)
	if l.Leave != nil {
		for i, d := range l.Leave {
			passed[i] += d / q * spent[i]
		}
	}
}

// jump fills next with (I + A/q) term.
func (l Linear) jump(next, term []float64, q float64) {
	for i := range next {
		out := l.Break[i]
		if l.Leave != nil {
			out += l.Leave[i]
		}
		v := term[i] * (1 - out/q)
		for j, b := range l.Debris[i][:min(i, len(l.Debris[i]))] {
			v += b * l.Break[j] / q * term[j]
		}
		next[i] = v
	}
}

// Debris returns the debris shares of a ladder of classes.
//
//	upper  upper edges of the classes [m], descending; the last is the pan
//	finer  cumulative debris law: share finer than x [m] from a parent of size y [m]
//
// Equation: b_ij = B(x_i, x_(j+1)) − B(x_(i+1), x_(j+1)) for i > j, with B = 0 below the pan; x are upper edges.
// Holds for: any law with finer(y, y) = 1 that rises with x. Each column adds up to 1, save the pan's, which does not break.
// Source: from memory (convention of Austin, Klimpel and Luckie 1984).
// Errors: RangeError for edges that do not descend, or a law that falls with x or is not 1 at the parent.
// Checks: Debris rows of checks.csv (1 second library, 1 own derivation).
func Debris(upper []float64, finer func(x, y float64) float64) ([][]float64, error) {
	n := len(upper)
	b := make([][]float64, n)
	for i := range b {
		b[i] = make([]float64, n)
		if i == 0 {
			continue
		}
		if err := process.Within("upper edge", upper[i], math.SmallestNonzeroFloat64, math.Nextafter(upper[i-1], 0), "m", "own derivation"); err != nil {
			return nil, err
		}
	}
	for j := 0; j < n-1; j++ {
		y := upper[j+1]
		if err := process.Within("debris finer than the parent", finer(y, y), 1, 1, "", "own derivation"); err != nil {
			return nil, err
		}
		for i := j + 1; i < n; i++ {
			b[i][j] = finer(upper[i], y)
			if i < n-1 {
				b[i][j] -= finer(upper[i+1], y)
			}
			if err := process.Within("debris share", b[i][j], 0, 1, "", "own derivation"); err != nil {
				return nil, err
			}
		}
	}
	return b, nil
}
