// From the masses on a stack of sieves to retained and passing.

package sieve

import (
	"fmt"
	"math"
)

// Row is one sieve, or the pan, as weighed.
type Row struct {
	Mass float64 // with the sieve when Tare is given, else net [kg]
	Tare float64 // of the empty sieve [kg]; 0 when Mass is net
}

// Portion is one sample sieved through the whole stack.
type Portion struct {
	Charge float64 // mass put on the top sieve [kg]; 0 when it was not weighed
	Rows   []Row   // one a sieve from the top, then the pan
}

// Stack is a sieve analysis as weighed: one sample in one or several portions,
// because a sieve must not be overloaded. The portions are added. Repeated
// samples are analyses of their own; see [Pool].
type Stack struct {
	Sieves    []Sieve // from the top, openings falling
	Portions  []Portion
	Allowance Allowance // for the loss; the zero value is [ASTMC136]
}

// Allowance is how much of the charge may be missing, or be too much.
type Allowance struct {
	Share  float64 // of the charge
	Name   string
	Source string
}

// The allowances of two standards, both from memory, so neither is a hard
// limit: an analysis beyond one is returned with a warning.
var (
	ASTMC136 = Allowance{0.003, "ASTM C136 / AASHTO T 27", "from memory"}
	EN933    = Allowance{0.01, "EN 933-1", "from memory"}
)

// Analysis is a sieve analysis. Shares are of the mass recovered; what is
// missing stands beside them as Loss.
type Analysis struct {
	Sieves    []Sieve
	Retained  []float64 // net mass on each sieve, then the pan [kg]
	Passing   []float64 // mass share of Recovered finer than each sieve [1]
	Charge    float64   // [kg]; 0 when a portion's was not weighed
	Recovered float64   // sum of Retained [kg]
	Loss      float64   // Charge − Recovered, negative for a gain [kg]; 0 when Charge is not known
	LossShare float64   // of Charge
	Closes    bool      // the loss is known and within Allowance
	Allowance Allowance
	Warnings  []Code
	Doubts    []Doubt
}

// rounding is the share of a charge that a sum of masses may be off by its
// last digits.
const rounding = 1e-12

// Weigh turns a stack as weighed into an analysis.
//
//	s  the stack; see its fields
//
// Equation: retained_i = Σ over portions (mass_i − tare_i); passing_i = Σ retained below
// sieve i, the pan included, / Σ retained; loss = Σ charges − Σ retained; it closes
// when |loss| ≤ allowance · charge.
// Holds for: shares of what was found, as if what is missing were sized like the
// rest; see PassingIfLostAsDust for the other end. Without the charge of every
// portion the loss is not known.
// Source: own derivation (sums); the loss is judged by the stack's Allowance.
// Errors: *EntryError for sieves in the wrong order or twice, rows that do not
// match the sieves, a negative mass, a number that is none, or nothing on any
// sieve. A loss or gain is a warning, a forgotten tare a doubt.
// Checks: Passing, Retained, Loss, LostAsDust, GrossAndNet and Portions rows of
// checks.csv (1 published, 8 own derivation, 7 refusals).
func Weigh(s Stack) (Analysis, error) {
	if err := checkStack(s); err != nil {
		return Analysis{}, err
	}
	if s.Allowance == (Allowance{}) {
		s.Allowance = ASTMC136
	}
	a := Analysis{Sieves: s.Sieves, Retained: make([]float64, len(s.Sieves)+1), Allowance: s.Allowance}
	known := true
	for i, p := range s.Portions {
		net := make([]float64, len(p.Rows))
		for k, row := range p.Rows {
			n, err := row.net(i+1, k+1)
			if err != nil {
				return Analysis{}, err
			}
			net[k] = n
			a.Retained[k] += n
		}
		known = known && p.Charge > 0
		a.Charge += p.Charge
		if d, ok := tareForgotten(p, net); ok {
			d.Portion = i + 1
			a.Doubts = append(a.Doubts, d)
		}
	}
	if !known {
		a.Charge = 0
	}
	return a, a.reckon()
}

// net is a row's mass less its tare.
func (r Row) net(portion, row int) (float64, error) {
	fail := func(c Code, what, hint string) (float64, error) {
		return 0, &EntryError{Code: c, Portion: portion, Row: row, What: what, Hint: hint}
	}
	for _, v := range [2]float64{r.Mass, r.Tare} {
		if math.IsNaN(v) || math.IsInf(v, 0) || v > maxMass {
			return fail(NotANumber, fmt.Sprintf("%g kg is no mass on a sieve", v), "weigh it again")
		}
		if v < 0 {
			return fail(NegativeMass, fmt.Sprintf("%g g is negative", v*1e3), "enter 0 for an empty sieve")
		}
	}
	if r.Mass < r.Tare {
		return fail(NegativeMass, fmt.Sprintf("%.4g g with the sieve is less than the empty sieve, %.4g g", r.Mass*1e3, r.Tare*1e3),
			"weigh the empty sieve again")
	}
	return r.Mass - r.Tare, nil
}

// reckon fills in what follows from Retained and Charge.
func (a *Analysis) reckon() error {
	n := len(a.Sieves)
	a.Passing = make([]float64, n)
	finer := a.Retained[n]
	for i := n - 1; i >= 0; i-- {
		a.Passing[i] = finer
		finer += a.Retained[i]
	}
	a.Recovered = finer
	if a.Recovered == 0 {
		return &EntryError{Code: AllEmpty, What: "nothing lies on any sieve nor in the pan", Hint: "enter the masses found"}
	}
	for i := range a.Passing {
		a.Passing[i] /= a.Recovered
	}
	if a.Charge > 0 {
		a.Loss = a.Charge - a.Recovered
		if math.Abs(a.Loss) < rounding*a.Charge {
			a.Loss = 0 // the last digits of a sum are no material
		}
		a.LossShare = a.Loss / a.Charge
		a.Closes = math.Abs(a.LossShare) <= a.Allowance.Share
	}
	a.judge()
	return nil
}

// Distribution returns the distribution the analysis found, its open classes
// bounded as told.
//
// Errors: RangeError for bounds that do not lie beyond the sieves.
func (a Analysis) Distribution(b Bounds) (Discrete, error) {
	n := len(a.Sieves)
	d := Discrete{make([]float64, n), make([]float64, n)}
	for i, s := range a.Sieves {
		d.edges[n-1-i], d.passing[n-1-i] = s.Opening, a.Passing[i]
	}
	return d.Within(b)
}

// Pooled are repeated analyses of one lot taken together.
type Pooled struct {
	Analysis           // of all samples added
	Samples  int       // how many
	Spread   []float64 // standard deviation of Passing from sample to sample [1]
}

// Pool takes repeated analyses together. Their masses are added, so a larger
// sample counts more; Spread is how far they lie apart.
//
//	all  the analyses, two or more on the same sieves
//
// Equation: retained_i = Σ over samples retained_i, passing and loss from these as in
// Weigh; spread_i = √(Σ (passing_i − mean of passing_i)²/(n − 1)), each sample counting once.
// Holds for: samples drawn alike from one lot. The spread of two or three is
// itself uncertain. It takes the allowance of the first.
// Source: own derivation.
// Errors: *EntryError for fewer than two analyses or different stacks.
// Checks: Pool rows of checks.csv (1 own derivation).
func Pool(all ...Analysis) (Pooled, error) {
	if len(all) < 2 {
		return Pooled{}, &EntryError{Code: WrongNumber, What: "one analysis is no repetition", Hint: "sieve a second sample"}
	}
	out := Pooled{Samples: len(all)}
	first := all[0]
	out.Sieves, out.Allowance = first.Sieves, first.Allowance
	out.Retained = make([]float64, len(first.Retained))
	known := true
	mean, square := make([]float64, len(first.Sieves)), make([]float64, len(first.Sieves))
	for i, a := range all {
		if !sameSieves(a.Sieves, first.Sieves) {
			return Pooled{}, &EntryError{Code: WrongOrder, Portion: i + 1, What: "the stack differs from the first one", Hint: "pool only analyses on the same sieves"}
		}
		for k, m := range a.Retained {
			out.Retained[k] += m
		}
		known = known && a.Charge > 0
		out.Charge += a.Charge
		out.Doubts = append(out.Doubts, a.Doubts...)
		for k, q := range a.Passing { // Welford's update
			d := q - mean[k]
			mean[k] += d / float64(i+1)
			square[k] += d * (q - mean[k])
		}
	}
	if !known {
		out.Charge = 0
	}
	for _, s := range square {
		out.Spread = append(out.Spread, math.Sqrt(s/float64(len(all)-1)))
	}
	return out, out.reckon()
}
