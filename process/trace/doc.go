// Package trace reads what meters write while a mill works: from the power drawn
// it tells when a run started and stopped, when the breaking ended, whether the
// rotor stalled, how much energy went in; from a temperature, how a wall cools and
// where it is heading.
//
// A [Follower] takes one [Reading] after the other and says what it sees at once;
// [Runs] gives a whole trace to one and therefore answers the same. Gaps are never
// filled in silence: what was not seen widens the range of the energy and the doubt
// about a moment.
//
// All of it looks back over seconds, behind a meter that averages over one. It is for
// notes, never for protection.
package trace

import "hopperful/process"

// Reading is what a meter showed at a moment.
type Reading struct {
	At    float64 // from any fixed moment [s]
	Value float64 // power [W], temperature [K] or another
}

// mostPower bounds a reading [W]; no mill of a workshop comes near it.
const mostPower = 1e5

func (r Reading) check() error {
	if err := process.Within("time of a reading", r.At, -1e12, 1e12, "s", "judgement"); err != nil {
		return err
	}
	return process.Within("power", r.Value, 0, mostPower, "W", "judgement")
}

// Moment is a point in time that lies between two readings.
type Moment struct {
	At    float64 // [s]
	Doubt float64 // it lies this far before or after at most [s]
}

// between is a moment about which nothing but the readings around it is known.
func between(before, after float64) Moment {
	return Moment{At: (before + after) / 2, Doubt: (after - before) / 2}
}

// Known is what is known of a mill before its trace is read; the zero value knows
// nothing.
type Known struct {
	Idle float64 // draws empty [W]; 0: not known, taken from the traces
	Top  float64 // most it drew for seconds on end in sound runs [W]; 0: not known, taken from the traces
	Off  float64 // draws less when it does not run [W]; 0: 5 W, or a quarter of Idle
}

func (k Known) check() error {
	for _, c := range [...]struct {
		name  string
		value float64
	}{{"idle power", k.Idle}, {"highest power", k.Top}, {"power when off", k.Off}} {
		if err := process.Within(c.name, c.value, 0, mostPower, "W", "judgement"); err != nil {
			return err
		}
	}
	return nil
}

// Judgement, and what was found on rendered traces; docs/models/trace.md has both.
const (
	leastOff   = 5.0  // W that standby and a cheap meter's zero may show
	idleOff    = 0.25 // of idling: a rotor that turns draws more
	confirmed  = 3.0  // s that a start or a stop has to last
	inrush     = 5.0  // s after the start that are not judged
	window     = 15.0 // s of the running median
	ended      = 1.10 // of idling: the charge is broken
	resumed    = 1.20 // of idling: it is not, after all
	loadedFor  = 10.0 // s above that before there can be an end
	lostAfter  = 60.0 // s of silence in which a run may have ended unseen
	lostGaps   = 6.0  // and as many usual gaps
	unseenGaps = 3.0  // usual gaps that are still a meter's ordinary rhythm
	leastSeen  = 5.0  // s that are, whatever the rhythm
	quickest   = 0.2  // s between two readings that both count
	stallTop   = 1.3  // of the most it drew in sound runs
	stallOwn   = 1.5  // of the most it drew in this one, where no other is known
	stallFor   = 3.0  // s
	stallFlat  = 0.10 // of the mean, between the highest and the lowest
	standsAt   = 0.6  // of idling: a rotor that turns draws more
	longEmpty  = 60.0 // s of idling after which somebody should be told
	mostKept   = 8192 // readings of one run kept to look at again
	gapsKept   = 31   // of which the median is the usual gap
	slowest    = 20.0 // s between readings with which an end can still be told
	ownDoubt   = 25.0 // s about the end of breaking, measured on rendered traces
)

// off is the power below which the mill does not run [W].
func (k Known) off() float64 {
	if k.Off > 0 {
		return k.Off
	}
	return max(leastOff, idleOff*k.Idle)
}
