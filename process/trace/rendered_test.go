package trace_test

import (
	"math"
	"slices"
	"testing"

	"hopperful/process/trace"
)

// Start and stop lie within 4 s, no stall is seen in a sound run, and the end of
// breaking is told within −20 to +30 s in eight of ten, at every rhythm of a meter.
func TestRenderedRuns(t *testing.T) {
	t.Parallel()
	var late []float64
	for seed := range uint64(60) {
		step := []float64{1, 1.7, 2, 5}[seed%4]
		rate, screen := []float64{1e-4, 2e-4, 4e-4}[seed%3], []float64{0.08, 0.15, 0.3, 0.6}[(seed/3)%4]
		r := render(t, seed, step, rate, screen)
		wrongIdle := r.idle * (1 + 0.03*math.Sin(float64(seed))) // nobody measures it better
		runs, err := trace.Runs(r.readings, trace.Known{Idle: wrongIdle})
		if err != nil || len(runs) != 1 {
			t.Fatalf("seed %d: %d runs, %v", seed, len(runs), err)
		}
		got := runs[0]
		if d := got.Start.At - r.start; math.Abs(d) > 4 {
			t.Errorf("seed %d: started %+.1f s off", seed, d)
		}
		if d := got.Stop.At - r.stop; math.Abs(d) > 4 {
			t.Errorf("seed %d: stopped %+.1f s off", seed, d)
		}
		if len(got.Stalls) > 0 || got.Lost || got.Begun || got.Loaded {
			t.Errorf("seed %d: a sound run was told as %+v", seed, got)
		}
		if got.End == nil {
			t.Errorf("seed %d: the end was not seen", seed)
			continue
		}
		if got.Energy.Unseen > 0 {
			t.Errorf("seed %d: %g s unseen in a trace without gaps", seed, got.Energy.Unseen)
		}
		// 4 % of noise that hangs together leave 1.3 % on the mean of forty readings.
		if math.Abs(got.Energy.Mid/r.drawn-1) > 0.04+0.008*step || math.Abs(got.Net.Mid-r.net) > (0.04+0.008*step)*r.drawn {
			t.Errorf("seed %d: %.0f J drawn and %.0f J net, the model %.0f and %.0f", seed, got.Energy.Mid, got.Net.Mid, r.drawn, r.net)
		}
		if r.drawn < got.Energy.Low*0.93 || r.drawn > got.Energy.High*1.08 {
			t.Errorf("seed %d: %.0f J lie outside %.0f to %.0f", seed, r.drawn, got.Energy.Low, got.Energy.High)
		}
		late = append(late, got.End.At-r.end)
	}
	slices.Sort(late)
	n := len(late)
	low, mid, high := late[n/10], late[n/2], late[n*9/10]
	t.Logf("the end of breaking is told %.0f s late, 10 to 90 %%: %.0f to %.0f, all within %.0f to %.0f", mid, low, high, late[0], late[n-1])
	if low < -20 || high > 30 {
		t.Errorf("the end is told %.0f to %.0f s late (10 to 90 %%); wanted −20 to +30", low, high)
	}
}

// Where nobody measured the empty mill, the first run that idles at its end tells.
func TestIdlingIsLearned(t *testing.T) {
	t.Parallel()
	told := 0
	for seed := range uint64(20) {
		r := render(t, seed, 1, 4e-4, 0.6)
		runs, err := trace.Runs(r.readings, trace.Known{})
		if err != nil || len(runs) != 1 {
			t.Fatalf("seed %d: %d runs, %v", seed, len(runs), err)
		}
		if runs[0].Idle == 0 {
			continue
		}
		told++
		if math.Abs(runs[0].Idle/r.idle-1) > 0.06 || !runs[0].Guess {
			t.Errorf("seed %d: idling read as %.0f W, it is %.0f W", seed, runs[0].Idle, r.idle)
		}
	}
	if told < 15 {
		t.Errorf("only %d of 20 runs told what the mill draws empty", told)
	}
}

// Reading by reading, with every reading twice, with some out of order and with the clock
// ticking between them, the same runs are seen.
func TestHowItArrivesDoesNotMatter(t *testing.T) {
	t.Parallel()
	for seed := range uint64(8) {
		r := render(t, seed, 1, 2e-4, 0.3)
		known := trace.Known{Idle: 120}
		whole, err := trace.Runs(r.readings, known)
		if err != nil {
			t.Fatal(err)
		}
		f, err := trace.NewFollower(known)
		if err != nil {
			t.Fatal(err)
		}
		var runs []trace.Run
		var ends []float64
		take := func(events []trace.Event) {
			for _, e := range events {
				if e.Run != nil {
					runs = append(runs, *e.Run)
				}
				if e.What == trace.Ended {
					ends = append(ends, e.At.At)
				}
			}
		}
		for i, x := range r.readings {
			for range 2 {
				events, err := f.Add(x)
				if err != nil {
					t.Fatal(err)
				}
				take(events)
			}
			if i > 0 {
				events, err := f.Add(r.readings[i-1])
				if err != nil || len(events) > 0 {
					t.Fatal("a reading out of order was taken")
				}
			}
			take(f.Tick(x.At + 0.4))
		}
		take(f.Tick(r.readings[len(r.readings)-1].At + 1e4))
		if len(runs) != 1 || len(whole) != 1 {
			t.Fatalf("%d runs as they came, %d in the whole", len(runs), len(whole))
		}
		a, b := runs[0], whole[0]
		if a.Start != b.Start || a.Stop != b.Stop || a.Energy != b.Energy || *a.End != *b.End || a.Net != b.Net {
			t.Errorf("seed %d: as it came %+v, whole %+v", seed, a, b)
		}
		if len(ends) == 0 || ends[len(ends)-1] != a.End.At {
			t.Errorf("seed %d: the end was told at %v, then as %g", seed, ends, a.End.At)
		}
	}
}

// A rotor that stands draws half as much again and more, without ripple; one whose
// controller cuts the power draws less than idling.
func TestStallsAreSeen(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		known trace.Known
		power func(i int) float64 // from 60 s into the run on
		want  int
	}{
		{"pinned high, the mill known", trace.Known{Idle: 120, Top: 420}, func(i int) float64 { return 700 + float64(i%2) }, 1},
		{"pinned high, nothing known", trace.Known{}, func(i int) float64 { return 700 + float64(i%2) }, 1},
		{"cut by the controller", trace.Known{Idle: 120}, func(int) float64 { return 40 }, 1},
		{"a fresh handful", trace.Known{Idle: 120, Top: 420}, func(i int) float64 { return 400 + 30*float64(i%3) }, 0},
		{"rough but turning", trace.Known{Idle: 120, Top: 420}, func(i int) float64 { return 560 + 180*float64(i%2) }, 0},
	} {
		r := render(t, 3, 1, 1e-4, 0.08)
		var readings []trace.Reading
		for _, x := range r.readings {
			if since := x.At - r.start - 60; since >= 0 && since < 8 {
				x.Value = c.power(int(since))
			}
			if x.At-r.start > 70 && c.want > 0 {
				x.Value = 0 // and switched off
			}
			readings = append(readings, x)
		}
		runs, err := trace.Runs(readings, c.known)
		if err != nil || len(runs) != 1 {
			t.Fatalf("%s: %d runs, %v", c.name, len(runs), err)
		}
		if got := len(runs[0].Stalls); got != c.want {
			t.Errorf("%s: %d stalls told, wanted %d", c.name, got, c.want)
		}
		for _, s := range runs[0].Stalls {
			if d := s.At - r.start - 60; d < -2 || d > 5 {
				t.Errorf("%s: told %+.1f s off", c.name, d)
			}
		}
	}
}

// A silence is no measurement: the energy gets a range that holds what was drawn, and a
// run that went silent is told as lost.
func TestSilenceIsTold(t *testing.T) {
	t.Parallel()
	r := render(t, 5, 1, 2e-4, 0.15)
	var holed, cut []trace.Reading
	for _, x := range r.readings {
		if s := x.At - r.start; s < 50 || s > 90 {
			holed = append(holed, x)
		}
		if x.At-r.start < 60 {
			cut = append(cut, x)
		}
	}
	runs, err := trace.Runs(holed, trace.Known{Idle: 120})
	if err != nil || len(runs) != 1 {
		t.Fatalf("%d runs, %v", len(runs), err)
	}
	e := runs[0].Energy
	if math.Abs(e.Unseen-40) > 2.5 || e.Low > r.drawn || e.High < r.drawn || e.High-e.Low < 40*120 {
		t.Errorf("with 40 s unseen: %+v; %.0f J were drawn", e, r.drawn)
	}
	f, err := trace.NewFollower(trace.Known{})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range cut {
		if _, err := f.Add(x); err != nil {
			t.Fatal(err)
		}
	}
	last := cut[len(cut)-1].At
	if events := f.Tick(last + 50); len(events) > 0 {
		t.Errorf("after 50 s of silence: %v", events)
	}
	events := f.Tick(last + 70)
	if len(events) != 1 || events[0].Run == nil || !events[0].Run.Lost || events[0].Run.Stop.Doubt < 60 {
		t.Errorf("after 70 s of silence: %+v", events)
	}
}

// A run longer than is kept ends as exactly as a short one.
func TestALongRunStaysBounded(t *testing.T) {
	t.Parallel()
	f, err := trace.NewFollower(trace.Known{Idle: 120})
	if err != nil {
		t.Fatal(err)
	}
	var stopped *trace.Run
	for i := range 60000 {
		p := 300.0
		switch {
		case i < 5 || i >= 50005:
			p = 0
		case i > 50005-300:
			p = 121
		}
		events, err := f.Add(trace.Reading{At: float64(i), Value: p})
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range events {
			if e.Run != nil {
				stopped = e.Run
			}
		}
	}
	if stopped == nil || stopped.Start.At != 4.5 || stopped.Stop.At != 50004.5 {
		t.Fatalf("%+v", stopped)
	}
	if want := 300*49700.0 + 121*300; math.Abs(stopped.Energy.Mid/want-1) > 1e-3 {
		t.Errorf("%g J, wanted %g", stopped.Energy.Mid, want)
	}
	if stopped.End == nil || math.Abs(stopped.End.At-49705) > 20 {
		t.Errorf("the end is told as %+v", stopped.End)
	}
}
