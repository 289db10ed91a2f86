package trace

import "math"

// Run is one run of a mill as its trace tells it.
type Run struct {
	Start, Stop Moment
	Lost        bool // the readings ended while it ran: it may have gone on unseen
	Begun       bool // it ran already when the readings began

	End    *Moment // of breaking: the power fell towards idling for good; nil: not seen
	Empty  float64 // time it ran on after that [s]
	Stalls []Moment
	Loaded bool // drew markedly more than idling when it was stopped; false where idling is not known

	Energy Joules  // drawn
	Net    Joules  // of it above idling; zero where idling is not known
	Level  float64 // median power after the start [W]
	Top    float64 // most it drew for three readings on end, the start left out [W]
	Idle   float64 // power empty that End and Net rest on [W]; 0: not known
	Guess  bool    // Idle was read off this very run
	Flat   bool    // it drew the same all the time: the mill ran empty, or always so full
	Gap    float64 // usual time between two readings [s]
}

// Time is how long it ran [s].
func (r Run) Time() float64 { return r.Stop.At - r.Start.At }

// Doubt is by how much that may be wrong [s].
func (r Run) Doubt() float64 { return r.Start.Doubt + r.Stop.Doubt }

// What counts as steady, see docs/models/trace.md. Judgement.
const (
	plateauTime  = 60.0 // s at the end of a run
	plateauDrift = 0.04
	aboveIdle    = 1.25 // how much more the run must have drawn before
	flatTime     = 20.0
	flatDrift    = 0.06
)

// close says what a run was like, once it is over. What was seen of it is read
// again where its own end tells how much the mill draws empty.
func (a *active) close(k Known, stop Moment, gap float64) Run {
	r := a.run
	r.Stop, r.Gap = stop, gap
	r.Level, r.Top = a.level(), a.top
	r.Idle = k.Idle
	if r.Idle == 0 {
		r.Idle, r.Guess = a.plateau(stop.At)
	}
	r.Flat = a.flat()
	end := a.ending
	if r.Idle != k.Idle {
		end = ending{idle: r.Idle, from: r.Start.At + inrush, recent: recent{span: window}}
		for _, x := range a.kept {
			end.add(x)
		}
	}
	if r.Idle > 0 {
		if end.done && gap <= slowest {
			r.End = &Moment{At: math.Min(end.at, stop.At), Doubt: ownDoubt + gap}
			r.Empty = math.Max(0, stop.At-end.at)
		}
		r.Loaded = !end.done && end.loaded
		r.Net = a.net(r.Idle, r)
	}
	return r
}

// net is the energy above idling: what idling took is taken off, no range falls below 0.
func (a *active) net(idle float64, r Run) Joules {
	took := idle * r.Time()
	return Joules{Mid: math.Max(0, r.Energy.Mid-took), Low: math.Max(0, r.Energy.Low-idle*(r.Time()+r.Doubt())), High: math.Max(0, r.Energy.High-idle*math.Max(0, r.Time()-r.Doubt()-r.Energy.Unseen)), Unseen: r.Energy.Unseen}
}

// after are the readings kept from a moment on.
func (a *active) after(at float64) []Reading {
	for i, x := range a.kept {
		if x.At >= at {
			return a.kept[i:]
		}
	}
	return nil
}

// level is the median power after the start.
func (a *active) level() float64 {
	if rest := a.after(a.run.Start.At + inrush); len(rest) > 0 {
		return level(rest)
	}
	return level(a.kept)
}

// plateau is the power a run fell to and held at its end, where it was higher before.
func (a *active) plateau(stop float64) (idle float64, ok bool) {
	last, first := a.after(stop-plateauTime/2), a.after(stop-plateauTime)
	if len(last) < 3 || len(first)-len(last) < 3 || first[0].At < a.run.Start.At+inrush+window {
		return 0, false
	}
	early, late := level(first[:len(first)-len(last)]), level(last)
	if math.Abs(early-late) > plateauDrift*late || a.top < aboveIdle*late {
		return 0, false
	}
	return level(first), true
}

// flat reports whether the run drew the same power from its start on.
func (a *active) flat() bool {
	rest := a.after(a.run.Start.At + inrush)
	if len(rest) < leastCount || rest[len(rest)-1].At-rest[0].At < flatTime {
		return false
	}
	half := len(rest) / 2
	early, late := level(rest[:half]), level(rest[half:])
	return math.Abs(early-late) <= flatDrift*late && spread(rest) <= flatDrift*late
}
