package trace

import (
	"math"
	"slices"
)

// recent holds the last seconds of a trace.
type recent struct {
	all  []Reading
	span float64
}

// add takes a reading and drops what is older than the span before it.
func (w *recent) add(r Reading) {
	keep := 0
	for keep < len(w.all) && w.all[keep].At <= r.At-w.span {
		keep++
	}
	w.all = append(w.all[:0], w.all[keep:]...)
	w.all = append(w.all, r)
}

// full reports whether it reaches back over half of its span: two readings do at every
// rhythm between a half of it and the whole, and a slower meter has one.
func (w *recent) full() bool {
	return len(w.all) > 0 && w.all[len(w.all)-1].At-w.all[0].At >= 0.5*w.span || len(w.all) == 1 && w.span < slowest
}

func (w *recent) median() float64 {
	values := make([]float64, len(w.all))
	for i, r := range w.all {
		values[i] = r.Value
	}
	return median(values)
}

// median of values, which it sorts; 0 of none.
func median(values []float64) float64 {
	if len(values) == 0 {
		return 0
	}
	slices.Sort(values)
	n := len(values)
	return (values[(n-1)/2] + values[n/2]) / 2
}

// leastCount is how many readings tell a level. Judgement.
const leastCount = 5

// level is the median of readings.
func level(readings []Reading) float64 {
	w := recent{all: readings}
	return w.median()
}

// spread is the standard deviation of readings.
func spread(readings []Reading) float64 {
	var mean, sum float64
	for _, r := range readings {
		mean += r.Value / float64(len(readings))
	}
	for _, r := range readings {
		sum += (r.Value - mean) * (r.Value - mean)
	}
	return math.Sqrt(sum / math.Max(1, float64(len(readings)-1)))
}
