package estimate

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// What each record did to the fit, and how it looks without it.

// Checked is a reading held against what all other records say it should be.
type Checked struct {
	Record   int64
	Of       Quantity
	Value    float64 // as read: kg, K, J or log odds
	Expected float64 // by the other records
	Spread   float64 // standard deviation of the difference
	Weight   float64 // pull it is left with, over that of a reading without error [1]
}

// Deviation is the difference in standard deviations.
func (c Checked) Deviation() float64 { return (c.Value - c.Expected) / c.Spread }

// farOff is the deviation from which a reading is suspicious: one clean reading
// in 15 000.
const farOff = 4.0

// Suspicious reports whether the reading is so far from what the others say
// that a slip of the pen is likelier than chance.
func (c Checked) Suspicious() bool { return math.Abs(c.Deviation()) > farOff }

// fewRuns is up to how many runs the fit is made anew without each; with more,
// one weighs so little that taking it out of the straight posterior will do.
const fewRuns = 8

// Without holds every reading against what all other records say. A single
// record has nothing to be held against but the books.
func (f *Fitted) Without() ([]Checked, error) {
	var all []Checked
	for i := range f.fit.runs {
		if len(f.fit.readings[i]) == 0 {
			continue
		}
		expected, spread := f.without(i)
		if len(f.fit.runs) <= fewRuns {
			var err error
			if expected, spread, err = f.anew(i); err != nil {
				return nil, err
			}
		}
		for k, q := range f.fit.readings[i] {
			x := f.fit.misses(i, k, &f.fit.now[i])
			all = append(all, Checked{Record: f.fit.runs[i].Record, Of: q.of, Value: q.value,
				Expected: expected[k], Spread: spread[k], Weight: weigh(x) / mostWeight})
		}
	}
	return all, nil
}

// anew fits all runs but i and forecasts that one from draws.
func (f *Fitted) anew(i int) (expected, spread []float64, err error) {
	const draws = 100
	others, err := Fit(f.fit.setup, slices.Concat(f.fit.runs[:i], f.fit.runs[i+1:]))
	if err != nil {
		return nil, nil, err
	}
	all, err := others.Expect(f.fit.runs[i], draws, rand.New(rand.NewPCG(draws, uint64(i))))
	for _, e := range all {
		mean, square := 0.0, 0.0
		for _, v := range e.Draws {
			mean += v / draws
			square += v * v / draws
		}
		expected = append(expected, mean)
		spread = append(spread, math.Sqrt(math.Max(square-mean*mean, 1e-18)))
	}
	return expected, spread, err
}

// without forecasts run i from the others: with S = J Σ Jᵀ and the weights W of
// its readings, taking them out gives the error (I − S W)⁻¹ r and the variance
// (I − S W)⁻¹ S (own derivation: the matrix inversion lemma).
func (f *Fitted) without(i int) (expected, spread []float64) {
	n := len(f.fit.readings[i])
	expected, spread = make([]float64, n), make([]float64, n)
	s, m := f.shares(i)
	r := mat.NewVecDense(n, nil)
	for k, q := range f.fit.readings[i] {
		r.SetVec(k, q.value-f.fit.now[i].values[k])
	}
	var out, variance mat.Dense
	if out.Solve(m, r) != nil || variance.Solve(m, s) != nil {
		out.CloneFrom(r) // the run alone fixes some variable: nothing else speaks of it
		variance.CloneFrom(s)
	}
	for k, q := range f.fit.readings[i] {
		own := f.fit.spreads[i][k] * f.fit.scale[q.of]
		expected[k] = q.value - out.At(k, 0)
		spread[k] = math.Sqrt(math.Max(variance.At(k, k), 0) + own*own)
	}
	return expected, spread
}

// shares returns S and I − S W of run i.
func (f *Fitted) shares(i int) (s, m *mat.Dense) {
	n := len(f.fit.readings[i])
	s, m = mat.NewDense(n, n, nil), mat.NewDense(n, n, nil)
	for k := range n {
		m.Set(k, k, 1)
	}
	if f.spread == nil {
		return s, m
	}
	for k := range n {
		for l := range n {
			sum := 0.0
			for _, p := range f.fit.pulls[i] {
				for _, q := range f.fit.pulls[i] {
					sum += p.column[k] * q.column[l] * f.spread.covariance.At(p.at, q.at)
				}
			}
			s.Set(k, l, sum)
		}
	}
	for k := range n {
		for l := range n {
			m.Set(k, l, m.At(k, l)-s.At(k, l)*f.fit.worth(i, l))
		}
	}
	return s, m
}

// Moved is how far a record moved a parameter.
type Moved struct {
	Record int64
	By     float64 // in standard deviations of the book's range
}

// Movers lists the records that moved a parameter for a target most, the
// farthest first: how far it would go back without them.
func (f *Fitted) Movers(p Param, t Target, most int) []Moved {
	if f.spread == nil {
		return nil
	}
	links := f.fit.aim(t).links
	links = slices.DeleteFunc(links, func(l link) bool { return l.param != p || l.factor })
	return f.movers(f.active(links), most)
}

// movers lists the records that moved a sum of active variables most.
func (f *Fitted) movers(c map[int]float64, most int) []Moved {
	if len(c) == 0 {
		return nil
	}
	toward := make([]float64, len(f.fit.active))
	for _, a := range slices.Sorted(maps.Keys(c)) {
		for b := range toward {
			toward[b] += c[a] * f.spread.covariance.At(a, b)
		}
	}
	var all []Moved
	for i := range f.fit.runs {
		if by := f.push(i, toward); math.Abs(by) > leastMove {
			all = append(all, Moved{f.fit.runs[i].Record, by})
		}
	}
	slices.SortStableFunc(all, func(x, y Moved) int {
		switch a, b := math.Abs(x.By), math.Abs(y.By); {
		case a > b:
			return -1
		case a < b:
			return 1
		}
		return 0
	})
	return all[:min(len(all), most)]
}

// leastMove is the move, over the book's range, that is worth telling.
const leastMove = 0.02

// push is how far run i moved something, given its covariance with each active
// variable.
func (f *Fitted) push(i int, toward []float64) float64 {
	n := len(f.fit.readings[i])
	if n == 0 {
		return 0
	}
	_, m := f.shares(i)
	r := mat.NewVecDense(n, nil)
	for k, q := range f.fit.readings[i] {
		r.SetVec(k, q.value-f.fit.now[i].values[k])
	}
	var out mat.Dense
	if out.Solve(m, r) != nil {
		out.CloneFrom(r)
	}
	sum := 0.0
	for k := range n {
		w := f.fit.worth(i, k) * out.At(k, 0)
		for _, p := range f.fit.pulls[i] {
			sum += toward[p.at] * p.column[k] * w
		}
	}
	return sum
}
