package trace

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"hopperful/process"
)

// Band is a value with its 10–90 % range.
type Band struct {
	Mid, Low, High float64 // in the unit of what it is a band of: [s] or [K]
}

// Cooling is how a wall falls towards the room.
type Cooling struct {
	Tau   Band    // time in which the difference falls to 1/e [s]
	From  float64 // temperature at the first reading used [K]
	Room  float64 // towards which it falls [K]
	Miss  float64 // standard deviation of the readings about the curve [K]
	Time  float64 // seen for [s]
	Count int
}

// What a cooling curve has to be for its time to mean something. Judgement.
const (
	leastFall     = 2.0 // K
	leastCooling  = 8   // readings
	shortestTau   = 10.0
	longestTau    = 1e5
	coldest       = 233.15
	hottest       = 600.0
	leastOfTau    = 0.3 // of τ seen, below which curve and line look alike
	searchSteps   = 200
	ninetyPercent = 0.9
)

// Cool fits how a wall cools after a run [s].
//
//	readings  temperature over time [K], rising in time; what comes before the highest is left out
//	room      temperature of the room [K], 233 K to 600 K; below all readings used
//
// Equation: T = T_room + (T_0 − T_room) exp(−t/τ), least squares in T_0 and τ; range of τ from the curvature of the squares with Student's t.
// Holds for: a wall that gives its heat to the room alone; reads long while a warm charge still lies in the mill.
// Source: own derivation.
// Errors: RangeError for a temperature out of range, fewer than 8 readings, a fall under 2 K, less than 0.3 τ seen, or a τ outside 10 s to 28 h.
// Checks: Cool rows of checks.csv (2 own derivation, 4 refusals).
func Cool(readings []Reading, room float64) (Cooling, error) {
	if err := process.Within("room temperature", room, coldest, hottest, "K", "judgement"); err != nil {
		return Cooling{}, err
	}
	top := 0
	for i, r := range readings {
		if err := process.Within("wall temperature", r.Value, coldest, hottest, "K", "judgement"); err != nil {
			return Cooling{}, err
		}
		if i > 0 && r.At <= readings[i-1].At {
			return Cooling{}, process.Above("time of a reading", r.At, readings[i-1].At, "s", "own derivation")
		}
		if r.Value >= readings[top].Value {
			top = i
		}
	}
	used := readings[min(top, len(readings)):]
	if err := process.Within("readings of a cooling curve", float64(len(used)), leastCooling, 1e7, "", "judgement"); err != nil {
		return Cooling{}, err
	}
	fall := used[0].Value - used[len(used)-1].Value
	if err := process.Within("fall of a cooling curve", fall, leastFall, hottest, "K", "judgement"); err != nil {
		return Cooling{}, err
	}
	return fitCooling(used, room)
}

func fitCooling(used []Reading, room float64) (Cooling, error) {
	lo, hi := math.Log(shortestTau/2), math.Log(2*longestTau)
	ratio := (math.Sqrt(5) - 1) / 2
	for range searchSteps {
		a, b := hi-ratio*(hi-lo), lo+ratio*(hi-lo)
		_, sa := coolingMiss(used, room, math.Exp(a))
		_, sb := coolingMiss(used, room, math.Exp(b))
		if sa < sb {
			hi = b
		} else {
			lo = a
		}
	}
	tau := math.Exp((lo + hi) / 2)
	if err := process.Within("cooling time", tau, shortestTau, longestTau, "s", "judgement"); err != nil {
		return Cooling{}, err
	}
	c := Cooling{Room: room, Time: used[len(used)-1].At - used[0].At, Count: len(used)}
	if err := process.Within("share of the cooling time seen", c.Time/tau, leastOfTau, math.Inf(1), "", "judgement"); err != nil {
		return Cooling{}, err
	}
	over, squares := coolingMiss(used, room, tau)
	free := float64(len(used) - 2)
	c.From, c.Miss = room+over, math.Sqrt(squares/free)
	// The sensitivities of both parameters at the optimum.
	var ff, fg, gg float64
	for _, r := range used {
		t := r.At - used[0].At
		f := math.Exp(-t / tau)
		g := over * f * t / tau // by ln τ
		ff, fg, gg = ff+f*f, fg+f*g, gg+g*g
	}
	s := c.Miss * math.Sqrt(ff/math.Max(ff*gg-fg*fg, 1e-300))
	wide := distuv.StudentsT{Sigma: 1, Nu: free}.Quantile(ninetyPercent) * s
	c.Tau = Band{Mid: tau, Low: tau * math.Exp(-wide), High: tau * math.Exp(wide)}
	return c, nil
}

// coolingMiss is the best difference at the start for a τ, and the squares it leaves.
func coolingMiss(used []Reading, room, tau float64) (over, squares float64) {
	var ff, fy float64
	for _, r := range used {
		f := math.Exp(-(r.At - used[0].At) / tau)
		ff, fy = ff+f*f, fy+f*(r.Value-room)
	}
	over = fy / ff
	for _, r := range used {
		d := r.Value - room - over*math.Exp(-(r.At-used[0].At)/tau)
		squares += d * d
	}
	return over, squares
}

// Ahead returns where a value will stand, going on as it did.
//
//	readings  value over time, rising in time, at least four
//	at        the moment asked about [s], not before the last reading and at most an hour after it
//
// Equation: line by least squares, with the range of a single new reading: ŷ ± t₀.₉ s √(1 + 1/n + (t − t̄)²/Σ(t_i − t̄)²).
// Holds for: a wall that warms at a steady power over minutes; reads high later, as its losses grow.
// Source: from memory, the textbook's interval of a single new reading about a line.
// Errors: RangeError for fewer than four readings, a time that does not rise, or a moment out of range.
// Checks: Ahead rows of checks.csv (1 own derivation, 1 from memory, 3 refusals).
func Ahead(readings []Reading, at float64) (Band, error) {
	n := float64(len(readings))
	if err := process.Within("readings of a trend", n, 4, 1e7, "", "own derivation"); err != nil {
		return Band{}, err
	}
	last := readings[len(readings)-1].At
	if err := process.Within("moment ahead", at, last, last+3600, "s", "judgement"); err != nil {
		return Band{}, err
	}
	var mt, mv float64
	for i, r := range readings {
		if i > 0 && r.At <= readings[i-1].At {
			return Band{}, process.Above("time of a reading", r.At, readings[i-1].At, "s", "own derivation")
		}
		if err := process.Within("reading of a trend", r.Value, -1e9, 1e9, "", "judgement"); err != nil {
			return Band{}, err
		}
		mt, mv = mt+r.At/n, mv+r.Value/n
	}
	var tt, tv float64
	for _, r := range readings {
		tt, tv = tt+(r.At-mt)*(r.At-mt), tv+(r.At-mt)*(r.Value-mv)
	}
	slope := tv / tt
	var squares float64
	for _, r := range readings {
		d := r.Value - mv - slope*(r.At-mt)
		squares += d * d
	}
	mid := mv + slope*(at-mt)
	s := math.Sqrt(squares / (n - 2) * (1 + 1/n + (at-mt)*(at-mt)/tt))
	wide := distuv.StudentsT{Sigma: 1, Nu: n - 2}.Quantile(ninetyPercent) * s
	return Band{Mid: mid, Low: mid - wide, High: mid + wide}, nil
}
