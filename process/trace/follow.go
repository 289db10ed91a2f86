package trace

import "math"

// What says what a follower saw.
type What string

// What it may see.
const (
	Started   What = "started"
	Stopped   What = "stopped" // carries the run
	Ended     What = "ended"   // of breaking
	GoesOn    What = "goes on" // the end was none
	Stalled   What = "stalled"
	RunsEmpty What = "runs empty" // has for a minute
)

// Event is one thing seen, at the moment it is meant to have happened.
type Event struct {
	What What
	At   Moment
	Run  *Run // of Stopped
}

// Follower reads the power of a mill as it comes.
type Follower struct {
	known Known
	gaps  []float64
	last  Reading
	any   bool

	pulse []Reading // readings above off that are no run yet
	run   *active
	off   *Reading // first reading below off in a run that may be over
}

// active is a run that goes on.
type active struct {
	run     Run
	kept    []Reading
	stride  int // of every so many readings one is kept
	skipped int
	now     Reading // the last of them while it ran
	three   []float64
	top     float64
	ending  ending
	stall   stalling
	told    bool // that it runs empty
}

// NewFollower makes a follower.
//
//	known  what is known of the mill, see its fields; what is not, it takes from the runs it sees
//
// Errors: RangeError for a power out of range.
func NewFollower(known Known) (*Follower, error) {
	if err := known.check(); err != nil {
		return nil, err
	}
	return &Follower{known: known}, nil
}

// Known is what is known of the mill by now.
func (f *Follower) Known() Known { return f.known }

// Running reports whether a run goes on, and since when.
func (f *Follower) Running() (Moment, bool) {
	if f.run == nil {
		return Moment{}, false
	}
	return f.run.run.Start, true
}

// Sofar is the run that goes on as far as it was seen; false where none does.
func (f *Follower) Sofar() (Run, bool) {
	if f.run == nil {
		return Run{}, false
	}
	r := f.run.run
	r.Stop, r.Idle, r.Top, r.Gap = Moment{At: f.last.At}, f.known.Idle, f.run.top, f.usual()
	return r, true
}

// usual is the usual time between two readings [s].
func (f *Follower) usual() float64 {
	all := make([]float64, len(f.gaps))
	copy(all, f.gaps)
	return median(all)
}

// seen is the longest gap that is still the meter's rhythm [s].
func (f *Follower) seen() float64 { return math.Max(leastSeen, unseenGaps*f.usual()) }

// lost is the silence after which a run may have ended unseen [s].
func (f *Follower) lost() float64 { return math.Max(lostAfter, lostGaps*f.usual()) }

// Add takes the next reading and says what it shows. A reading that is not later than
// the last one, or follows it within a fifth of a second, shows nothing. It answers a
// RangeError for a reading out of range, and goes on.
func (f *Follower) Add(r Reading) ([]Event, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	if !f.any {
		f.any, f.last = true, r
		if r.Value >= f.known.off() {
			f.pulse = append(f.pulse, r)
		}
		return nil, nil
	}
	gap := r.At - f.last.At
	if gap < quickest {
		return nil, nil
	}
	seen := f.silent(r.At)
	if gap <= f.lost() {
		f.gaps = append(f.gaps, gap)
		if len(f.gaps) > gapsKept {
			f.gaps = append(f.gaps[:0], f.gaps[1:]...)
		}
	}
	before := f.last
	f.last = r
	if f.run == nil {
		return append(seen, f.idle(before, r)...), nil
	}
	return append(seen, f.running(before, r)...), nil
}

// Tick says what time alone shows: that a stop holds, or that nothing was heard for so
// long that a run may be over. at is now, on the clock of the readings [s].
func (f *Follower) Tick(at float64) []Event {
	if f.run != nil && f.off != nil && at-f.off.At >= confirmed && f.last == *f.off {
		return f.stop(between(f.run.now.At, f.off.At), false)
	}
	return f.silent(at)
}

// Close says what the end of the trace shows.
func (f *Follower) Close() []Event {
	switch {
	case f.run == nil:
		return nil
	case f.off != nil:
		return f.stop(between(f.run.now.At, f.off.At), false)
	}
	return f.stop(Moment{At: f.last.At, Doubt: f.usual()}, true)
}

// silent ends a run that nothing was heard of for too long.
func (f *Follower) silent(now float64) []Event {
	silence := now - f.last.At
	if silence <= f.lost() {
		return nil
	}
	f.pulse = nil
	switch {
	case f.run == nil:
		return nil
	case f.off != nil:
		return f.stop(between(f.run.now.At, f.off.At), false)
	}
	return f.stop(Moment{At: f.last.At, Doubt: silence}, true)
}

// idle reads on while nothing runs.
func (f *Follower) idle(before, r Reading) []Event {
	if r.Value < f.known.off() {
		f.pulse = nil
		return nil
	}
	if len(f.pulse) == 0 && before.Value < f.known.off() && r.At-before.At <= f.lost() {
		f.pulse = append(f.pulse, before)
	}
	f.pulse = append(f.pulse, r)
	on := f.pulse
	cut := on[0].Value >= f.known.off() // nobody saw it start
	if !cut {
		on = on[1:]
	}
	if len(on) < 2 || r.At-on[0].At < confirmed {
		return nil
	}
	start := Moment{At: on[0].At, Doubt: f.usual()}
	if !cut {
		start = between(f.pulse[0].At, on[0].At)
	}
	return f.start(start, cut, on)
}

// start begins a run with the readings that showed it.
func (f *Follower) start(start Moment, cut bool, on []Reading) []Event {
	a := &active{run: Run{Start: start, Begun: cut}, stride: 1}
	a.ending = ending{idle: f.known.Idle, from: start.At + inrush, recent: recent{span: window}}
	f.run = a
	if !cut {
		a.run.Energy.edge(f.pulse[0], on[0], f.seen())
	}
	events := []Event{{What: Started, At: start}}
	for i, x := range on {
		if i > 0 {
			a.run.Energy.add(on[i-1], x, f.seen(), f.known.Top)
		}
		events = append(events, f.take(x)...)
	}
	f.pulse = nil
	return events
}

// running reads on while a run goes on.
func (f *Follower) running(before, r Reading) []Event {
	a := f.run
	on := r.Value >= f.known.off()
	switch {
	case f.off != nil && r.At-f.off.At >= confirmed:
		stopped := f.stop(between(a.now.At, f.off.At), false)
		return append(stopped, f.idle(before, r)...)
	case !on && f.off == nil:
		first := r
		f.off = &first
		return nil
	case !on:
		return nil
	}
	if f.off != nil { // a flicker: it runs on
		a.run.Energy.add(a.now, *f.off, f.seen(), math.Max(a.top, f.known.Top))
		f.off = nil
	}
	a.run.Energy.add(before, r, f.seen(), math.Max(a.top, f.known.Top))
	return f.take(r)
}

// take judges a reading of a run.
func (f *Follower) take(r Reading) (events []Event) {
	a := f.run
	a.keep(r)
	judged := r.At >= a.run.Start.At+inrush
	loaded := a.ending.loaded && !a.ending.done
	over, again := a.ending.add(r)
	switch {
	case over:
		events = append(events, Event{What: Ended, At: Moment{At: r.At, Doubt: ownDoubt + f.usual()}})
	case again:
		events, a.told = append(events, Event{What: GoesOn, At: Moment{At: r.At}}), false
	case a.ending.done && !a.told && r.At-a.ending.at >= longEmpty:
		a.told = true
		events = append(events, Event{What: RunsEmpty, At: Moment{At: r.At}})
	}
	if judged && a.stall.add(r, f.limit(r.At), f.known.Idle, loaded) {
		at := Moment{At: r.At - stallFor, Doubt: f.usual() + stallFor}
		a.run.Stalls = append(a.run.Stalls, at)
		events = append(events, Event{What: Stalled, At: at})
	}
	if a.three = append(a.three, r.Value); len(a.three) > 3 {
		a.three = append(a.three[:0], a.three[1:]...)
	}
	if judged && len(a.three) == 3 && len(a.stall.high) == 0 {
		a.top = math.Max(a.top, min(a.three[0], a.three[1], a.three[2]))
	}
	return events
}

// limit is the power that no sound run reaches [W]; 0 while nothing tells.
func (f *Follower) limit(at float64) float64 {
	if f.known.Top > 0 {
		return stallTop * math.Max(f.known.Top, f.known.Idle)
	}
	if at-f.run.run.Start.At < inrush+window {
		return 0
	}
	return stallOwn * f.run.top
}

// keep holds a reading for a second look; of a long run every second, fourth … of them.
func (a *active) keep(r Reading) {
	a.now = r
	if a.skipped++; a.skipped < a.stride {
		return
	}
	a.skipped = 0
	if len(a.kept) == mostKept {
		for i := range mostKept / 2 {
			a.kept[i] = a.kept[2*i]
		}
		a.kept, a.stride = a.kept[:mostKept/2], 2*a.stride
	}
	a.kept = append(a.kept, r)
}

// stop ends the run and learns from it what was not known of the mill.
func (f *Follower) stop(at Moment, lost bool) []Event {
	a := f.run
	if f.off != nil && !lost {
		a.run.Energy.edge(a.now, *f.off, f.seen())
	}
	if lost { // it may have gone on for all of the silence
		a.run.Energy.High += math.Max(a.top, f.known.Top) * at.Doubt
		a.run.Energy.Unseen += at.Doubt
	}
	a.run.Lost = lost
	r := a.close(f.known, at, f.usual())
	f.run, f.off, f.pulse = nil, nil, nil
	if f.known.Idle == 0 && r.Guess {
		f.known.Idle = r.Idle
	}
	if len(r.Stalls) == 0 {
		f.known.Top = math.Max(f.known.Top, r.Top)
	}
	return []Event{{What: Stopped, At: at, Run: &r}}
}
