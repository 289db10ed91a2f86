package trace_test

// What happens when, in traces drawn by hand: starts, stops, flickers, silence, rhythm.

import (
	"errors"
	"math"
	"testing"

	"hopperful/process"
	"hopperful/process/trace"
)

// happened lists the events of a trace, as it comes in.
func happened(t *testing.T, known trace.Known, readings []trace.Reading) []trace.Event {
	t.Helper()
	f, err := trace.NewFollower(known)
	if err != nil {
		t.Fatal(err)
	}
	var all []trace.Event
	for _, r := range readings {
		events, err := f.Add(r)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, events...)
	}
	return append(all, f.Close()...)
}

// A run of a known mill, 60 s under load from 10 s on and empty for some time after it: the
// start between the readings at 9 and 10 s, the end 7 s after the load, half of the window,
// idling told a minute later, the stop between two readings again.
func TestEventsInOrder(t *testing.T) {
	t.Parallel()
	for empty, told := range map[int]bool{80: true, 70: true, 66: false} {
		all := happened(t, trace.Known{Idle: 120}, drawn(1, stretch{60, 300}, stretch{empty, 120}))
		want := []trace.Event{{What: trace.Started, At: trace.Moment{At: 9.5, Doubt: 0.5}}, {What: trace.Ended, At: trace.Moment{At: 77, Doubt: 26}}}
		if told {
			want = append(want, trace.Event{What: trace.RunsEmpty, At: trace.Moment{At: 137}})
		}
		want = append(want, trace.Event{What: trace.Stopped, At: trace.Moment{At: 69.5 + float64(empty), Doubt: 0.5}})
		if len(all) != len(want) {
			t.Fatalf("empty for %d s: %+v", empty, all)
		}
		for i, w := range want {
			if got := all[i]; got.What != w.What || math.Abs(got.At.At-w.At.At) > 1e-9 || math.Abs(got.At.Doubt-w.At.Doubt) > 1e-9 {
				t.Errorf("empty for %d s: %s at %+v, wanted %s at %+v", empty, got.What, got.At, w.What, w.At)
			}
		}
		r := all[len(all)-1].Run
		// By hand: 59 s at 300 W, a second from 300 to 120, the rest at 120 W; the edges are half seen.
		mid := 59*300.0 + 210 + 120*float64(empty-1) + 150 + 60
		if r == nil || math.Abs(r.Energy.Mid-mid) > 1e-9 || math.Abs(r.Energy.Low-(mid-210)) > 1e-9 || math.Abs(r.Energy.High-(mid-210+300+120)) > 1e-9 || r.Energy.Unseen != 0 || r.Gap != 1 {
			t.Errorf("empty for %d s: %+v, wanted %g J", empty, r, mid)
		}
	}
}

// Off for less than 3 s is a flicker, on for less is no run; a mill is off below 5 W, or a
// quarter of what it draws empty.
func TestEdgesOfOnAndOff(t *testing.T) {
	t.Parallel()
	idling := trace.Known{Idle: 120}
	for name, c := range map[string]struct {
		known trace.Known
		all   []stretch
		runs  int
	}{
		"off for 3 s":          {idling, []stretch{{40, 300}, {3, 0}, {40, 300}}, 2},
		"off for 2 s":          {idling, []stretch{{40, 300}, {2, 0}, {40, 300}}, 1},
		"on for 3 s":           {idling, []stretch{{4, 300}}, 1},
		"on for 2 s":           {idling, []stretch{{3, 300}}, 0},
		"above a quarter":      {idling, []stretch{{40, 31}}, 1},
		"below a quarter":      {idling, []stretch{{40, 29}}, 0},
		"above 5 W":            {trace.Known{}, []stretch{{40, 5.1}}, 1},
		"below 5 W":            {trace.Known{}, []stretch{{40, 4.9}}, 0},
		"above what is known":  {trace.Known{Off: 50}, []stretch{{40, 51}}, 1},
		"below what is known":  {trace.Known{Off: 50}, []stretch{{40, 49}}, 0},
		"a quarter, not known": {trace.Known{}, []stretch{{40, 29}}, 1},
	} {
		runs, err := trace.Runs(drawn(1, c.all...), c.known)
		if err != nil || len(runs) != c.runs {
			t.Errorf("%s: %d runs, %v", name, len(runs), err)
		}
	}
}

// Silence of a minute, or of six usual gaps, may hide an end; three gaps, or 5 s, are the
// meter's own rhythm; readings within a fifth of a second count once.
func TestEdgesOfSilence(t *testing.T) {
	t.Parallel()
	holed := func(step, silence float64) []trace.Reading {
		all := drawn(step, stretch{60, 300}, stretch{60, 300})
		for i := range all {
			if i >= 70 {
				all[i].At += silence - step
			}
		}
		return all
	}
	for name, c := range map[string]struct {
		step, silence float64
		lost          bool
		unseen        float64
	}{
		"a minute": {1, 59.9, false, 59.9}, "more": {1, 60.1, true, 60.1}, "six of 12 s": {12, 71.9, false, 71.9}, "more than six": {12, 72.1, true, 72.1},
		"5 s": {1, 4.9, false, 0}, "more than 5": {1, 5.1, false, 5.1}, "three of 4 s": {4, 11.9, false, 0}, "more than three": {4, 12.1, false, 12.1},
	} {
		runs, err := trace.Runs(holed(c.step, c.silence), trace.Known{Idle: 120})
		want := 1
		if c.lost {
			want = 2
		}
		if err != nil || len(runs) != want || runs[0].Lost != c.lost || math.Abs(runs[0].Energy.Unseen-c.unseen) > 1e-9 {
			t.Errorf("%s: %d runs, %+v, %v", name, len(runs), runs, err)
			continue
		}
		if c.lost && (!runs[1].Begun || math.Abs(runs[0].Stop.Doubt-c.silence) > 1e-9) {
			t.Errorf("%s: %+v", name, runs)
		}
	}
	for step, count := range map[float64]float64{0.21: 0.21, 0.19: 0.38} { // of 0.19 s every second one is left
		r := oneRun(t, "quick", trace.Known{Idle: 120}, drawn(step, stretch{200, 300}, stretch{200, 300}))
		if math.Abs(r.Gap-count) > 1e-9 {
			t.Errorf("every %g s: a gap of %g", step, r.Gap)
		}
	}
	// The usual gap is that of the last thirty-one: after 25 of 10 s it is 10 s, after 10 still 1.
	for n, want := range map[int]float64{25: 10, 10: 1} {
		all := drawn(1, stretch{60, 300})
		all = all[:70]
		for i := range n {
			all = append(all, trace.Reading{At: 70 + 10*float64(i), Value: 300})
		}
		at := all[len(all)-1].At
		for i := range 3 {
			all = append(all, trace.Reading{At: at + 10*float64(i+1)})
		}
		if r := oneRun(t, "rhythm", trace.Known{Idle: 120}, all); math.Abs(r.Gap-want) > 1e-9 {
			t.Errorf("after %d gaps of 10 s: %g", n, r.Gap)
		}
	}
}

// Where the run itself tells how much the mill draws empty, what was seen of it is read
// again from 5 s after its start, and the median of a load has to last for 10 s from then on.
func TestSecondLookLeavesTheInrushOut(t *testing.T) {
	t.Parallel()
	for seconds, seen := range map[int]bool{12: true, 9: false} {
		r := oneRun(t, "second look", trace.Known{}, drawn(1, stretch{seconds, 300}, stretch{100, 120}))
		if !r.Guess || math.Abs(r.Idle-120) > 1 || (r.End != nil) != seen {
			t.Errorf("loaded for %d s: %+v", seconds, r)
		}
	}
}

// Times that do not rise are refused wherever they stand, with the reading before them.
func TestTimesThatDoNotRise(t *testing.T) {
	t.Parallel()
	for at := 1; at < 9; at++ {
		var readings []trace.Reading
		for i := range 9 {
			readings = append(readings, trace.Reading{At: 10 + 60*float64(i), Value: 340 - float64(i)})
		}
		readings[at].At = readings[at-1].At
		_, cool := trace.Cool(readings, 293.15)
		_, ahead := trace.Ahead(readings, readings[8].At+10)
		readings[at].At--
		_, energy := trace.Energy(readings, 100, 0)
		for name, err := range map[string]error{"cooling": cool, "a trend": ahead, "energy": energy} {
			var out *process.RangeError
			if !errors.As(err, &out) || out.Lo != readings[at-1].At || name == "energy" && out.Hi != 1e12 {
				t.Errorf("%s, reading %d: %v", name, at, err)
			}
		}
	}
}

// A start or a stop within a gap longer than the meter's rhythm was not seen, and counts.
func TestStartsInAGap(t *testing.T) {
	t.Parallel()
	for gap, unseen := range map[float64]float64{4.9: 0, 7: 7} {
		for name, at := range map[string]int{"start": 10, "stop": 70} {
			all := drawn(1, stretch{60, 300})
			for i := range all {
				if i >= at {
					all[i].At += gap - 1
				}
			}
			r := oneRun(t, name, trace.Known{Idle: 120}, all)
			if math.Abs(r.Energy.Unseen-unseen) > 1e-9 || math.Abs(r.Energy.High-59*300-300-300*gap) > 1e-6 {
				t.Errorf("%s in a gap of %g s: %+v", name, gap, r.Energy)
			}
		}
	}
}
