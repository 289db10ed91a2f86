package estimate

import (
	"math"
	"slices"
)

// What each record did to the fit, and how it looks without it.

// Checked is a reading held against what all other records say it should be.
type Checked struct {
	Record   int64
	Of       Quantity
	Value    float64 // as read: kg, K, J or log odds
	Expected float64 // by the other records
	Spread   float64 // standard deviation of the difference
	Others   int     // runs that say so
	Weight   float64 // pull it is left with, over that of a reading without error [1]

	from float64 // errors are in proportion to what lies above it; +Inf: to nothing
}

// Masses, energies and rises err by a factor, so what lies above the forecast is
// let lie farther off than what lies below.
func (c Checked) byFactor() bool { return c.Expected-c.from > 1e-9 && c.Value > c.from }

// Deviation is the difference in standard deviations.
func (c Checked) Deviation() float64 {
	if !c.byFactor() {
		return (c.Value - c.Expected) / c.Spread
	}
	return math.Log((c.Value-c.from)/(c.Expected-c.from)) * (c.Expected - c.from) / c.Spread
}

// Range is the range of readings so many standard deviations either side of what
// is expected.
func (c Checked) Range(deviations float64) (low, high float64) {
	if c.Expected-c.from <= 1e-9 {
		return c.Expected - deviations*c.Spread, c.Expected + deviations*c.Spread
	}
	by := math.Exp(deviations * c.Spread / (c.Expected - c.from))
	return c.from + (c.Expected-c.from)/by, c.from + (c.Expected-c.from)*by
}

// farOff is the deviation from which a reading is suspicious: one clean reading
// in 15 000.
const farOff = 4.0

// Suspicious reports whether the reading is so far from what the others say that a
// slip of the pen is likelier than chance. A few runs cannot tell.
func (c Checked) Suspicious() bool { return c.Others >= fewRuns && math.Abs(c.Deviation()) > farOff }

// Without holds every reading against what all other records say. A single
// record has nothing to be held against but the books.
func (f *Fitted) Without() []Checked {
	var all []Checked
	for i := range f.left {
		for k, q := range f.fit.readings[i] {
			one := &f.left[i]
			all = append(all, Checked{Record: f.fit.runs[i].Record, Of: q.of, Value: q.value, Expected: q.value - one.miss[k],
				Spread: f.calibrated(q.of) * one.spread[k], Others: len(f.fit.runs) - 1,
				Weight: math.Min(1, weigh(one.miss[k]/one.spread[k])/mostWeight), from: f.fit.origin(i, q)})
		}
	}
	return all
}

// origin is what a reading's errors are in proportion above.
func (f *fit) origin(i int, q reading) float64 {
	wall, charge, _ := f.runs[i].startOf(f.now[i].residue)
	switch q.of {
	case OfProduct, OfLeft, OfEnergy:
		return 0
	case OfWall:
		return wall - leastRise
	case OfCharge:
		return charge - leastRise
	}
	return math.Inf(1)
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
	toward, from := make([]float64, len(f.fit.active)), make([]float64, len(f.fit.active))
	for a, v := range c {
		from[a] = v
	}
	f.spread.times(from, toward)
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
	one, p, sum := &f.left[i], len(toward), 0.0
	for k, miss := range one.miss {
		along := 0.0
		for a, v := range one.toward[k*p : (k+1)*p] {
			along += v * toward[a]
		}
		sum += along * miss
	}
	return sum
}
