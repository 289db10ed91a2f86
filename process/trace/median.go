package trace

import (
	"math"
	"slices"

	"hopperful/process"
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

// Level is a power that held for a while.
type Level struct {
	Power  float64 // median [W]
	Spread float64 // standard deviation of the readings [W]
	Time   float64 // how long it was seen [s]
}

// What an idle measurement has to be: as long as the instructions ask less the start,
// and steady. Judgement.
const (
	leastEmpty  = 15.0
	leastCount  = 5
	mostDrift   = 0.05
	mostRuffled = 0.15
)

// Idle returns what a mill draws empty, from a trace of it running empty [W].
//
//	readings  power over time from the start, rising in time; 30 s of it are asked for
//
// Equation: median of the readings later than 5 s after the first.
// Holds for: a mill that runs steadily with nothing in it.
// Source: own derivation.
// Errors: RangeError for a reading out of range, less than 15 s or five readings after the first 5 s, halves that differ by over 5 %, or a spread over 15 % of the level.
// Checks: Idle rows of checks.csv (2 own derivation, 4 refusals).
func Idle(readings []Reading) (Level, error) {
	var kept []Reading
	for _, r := range readings {
		if err := r.check(); err != nil {
			return Level{}, err
		}
		if r.At >= readings[0].At+inrush {
			kept = append(kept, r)
		}
	}
	if err := process.Within("readings of an empty mill", float64(len(kept)), leastCount, 1e7, "", "judgement"); err != nil {
		return Level{}, err
	}
	time := kept[len(kept)-1].At - kept[0].At
	if err := process.Within("time of running empty", time, leastEmpty, 1e7, "s", "judgement"); err != nil {
		return Level{}, err
	}
	l := Level{Power: level(kept), Spread: spread(kept), Time: time}
	if err := process.Above("idle power", l.Power, 0, "W", "own derivation"); err != nil {
		return Level{}, err
	}
	half := len(kept) / 2
	if err := process.Within("drift of the idle power", math.Abs(level(kept[half:])-level(kept[:half]))/l.Power, 0, mostDrift, "", "judgement"); err != nil {
		return Level{}, err
	}
	return l, process.Within("spread of the idle power", l.Spread/l.Power, 0, mostRuffled, "", "judgement")
}

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
