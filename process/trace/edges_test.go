package trace_test

// Runs without noise, drawn by hand: what is told of them, and both sides of each limit.

import (
	"math"
	"testing"

	"hopperful/process/trace"
)

// stretch is a power held for so many readings.
type stretch struct {
	readings int
	watts    float64
}

// drawn is a trace of stretches, step seconds between readings, off before and after.
func drawn(step float64, all ...stretch) []trace.Reading {
	var out []trace.Reading
	add := func(n int, watts float64) {
		for range n {
			out = append(out, trace.Reading{At: step * float64(len(out)), Value: watts})
		}
	}
	add(10, 0)
	for _, s := range all {
		add(s.readings, s.watts)
	}
	add(20, 0)
	return out
}

func oneRun(t *testing.T, name string, known trace.Known, readings []trace.Reading) trace.Run {
	t.Helper()
	runs, err := trace.Runs(readings, known)
	if err != nil || len(runs) != 1 {
		t.Fatalf("%s: %d runs, %v", name, len(runs), err)
	}
	return runs[0]
}

// A stall is power pinned above 1.3 times the most of sound runs, 3 s on end and within a
// tenth; or below 0.6 of idling from under load. Known: 120 W idling, 420 W at most, so
// above 546 or below 72 W.
func TestEdgesOfStalls(t *testing.T) {
	t.Parallel()
	known := trace.Known{Idle: 120, Top: 420}
	stalled := func(watts ...float64) []stretch {
		all := []stretch{{50, 300}}
		for _, w := range watts {
			all = append(all, stretch{1, w})
		}
		return append(all, stretch{40, 300})
	}
	for name, c := range map[string]struct {
		all  []stretch
		want int
	}{
		"3 s":             {stalled(600, 600, 600, 600), 1},
		"2 s":             {stalled(600, 600, 600), 0},
		"high enough":     {stalled(547, 547, 547, 547, 547), 1},
		"not high enough": {stalled(545, 545, 545, 545, 545), 0},
		"even enough":     {stalled(600, 655, 600, 655), 1}, // 55 of 628
		"too rough":       {stalled(600, 670, 600, 670), 0}, // 70 of 635
		"low":             {stalled(71, 71, 71, 71), 1},
		"not low":         {stalled(73, 73, 73, 73, 73), 0},
		"twice high":      {append(stalled(600, 600, 600, 600, 600), stalled(600, 600, 600, 600, 600)...), 2},
		"twice low":       {append(stalled(60, 60, 60, 60, 60), stalled(60, 60, 60, 60, 60)...), 2},
		"a long one":      {[]stretch{{50, 300}, {150, 600}, {20, 300}}, 1},
		"in the inrush":   {[]stretch{{4, 600}, {60, 300}}, 0},
	} {
		r := oneRun(t, name, known, drawn(1, c.all...))
		if len(r.Stalls) != c.want {
			t.Errorf("%s: %d stalls, wanted %d", name, len(r.Stalls), c.want)
			continue
		}
		if c.want > 0 && name != "even enough" && (r.Stalls[0].At != 60 || r.Stalls[0].Doubt != 4) { // a meter's second and the three
			t.Errorf("%s: told at %g ± %g s, it began at 60", name, r.Stalls[0].At, r.Stalls[0].Doubt)
		}
	}
	// Where nothing is known: from 20 s on, half as much again as this run drew before.
	for watts, want := range map[float64]int{455: 1, 445: 0} {
		if r := oneRun(t, "unknown", trace.Known{}, drawn(1, stretch{50, 300}, stretch{6, watts}, stretch{20, 300})); len(r.Stalls) != want {
			t.Errorf("%g W after 300: %d stalls", watts, len(r.Stalls))
		}
		if r := oneRun(t, "early", trace.Known{}, drawn(1, stretch{12, 300}, stretch{6, watts}, stretch{60, 300})); len(r.Stalls) != 0 {
			t.Errorf("%g W before 20 s: %d stalls", watts, len(r.Stalls))
		}
	}
}

// Breaking ends where the median of 15 s falls below 1.1 of idling, after 10 s of load; it
// goes on from 1.2 on. Known: 120 W, so 132 and 144 W.
func TestEdgesOfEnds(t *testing.T) {
	t.Parallel()
	known := trace.Known{Idle: 120}
	for name, c := range map[string]struct {
		step float64
		all  []stretch
		end  float64 // of the load [s]; 0: none is to be seen
	}{
		"below a tenth":       {1, []stretch{{60, 300}, {60, 131}}, 70},
		"above a tenth":       {1, []stretch{{60, 300}, {60, 133}}, 0},
		"loaded for 30 s":     {1, []stretch{{30, 300}, {60, 120}}, 40},
		"loaded for 8 s":      {1, []stretch{{8, 300}, {60, 120}}, 0},
		"goes on":             {1, []stretch{{60, 300}, {40, 120}, {60, 145}, {60, 120}}, 170},
		"hardly goes on":      {1, []stretch{{60, 300}, {40, 120}, {60, 143}, {60, 120}}, 70},
		"a slow meter":        {16, []stretch{{20, 300}, {12, 120}}, 480},
		"too slow":            {21, []stretch{{20, 300}, {12, 120}}, 0},
		"two in the window":   {8, []stretch{{30, 300}, {20, 120}}, 320},
		"never loaded":        {1, []stretch{{120, 125}}, 0},
		"idling is not known": {1, nil, 0},
	} {
		k := known
		if c.all == nil {
			k, c.all = trace.Known{}, []stretch{{40, 300}, {20, 120}}
		}
		r := oneRun(t, name, k, drawn(c.step, c.all...))
		switch {
		case (r.End != nil) != (c.end > 0):
			t.Errorf("%s: the end %+v", name, r.End)
		case r.End != nil && (r.End.At < c.end || r.End.At > c.end+max(9, 1.1*c.step)): // half of the window, or the next reading
			t.Errorf("%s: ended at %g, wanted %g", name, r.End.At, c.end)
		case r.End != nil && math.Abs(r.End.Doubt-25-c.step) > 1e-9:
			t.Errorf("%s: ± %g s", name, r.End.Doubt)
		}
		if r.End != nil && math.Abs(r.Empty-(r.Stop.At-r.End.At)) > 1e-9 {
			t.Errorf("%s: empty for %g s", name, r.Empty)
		}
	}
	// Only of what is known: nothing above idling, no end, no guess.
	if r := oneRun(t, "even", trace.Known{}, drawn(1, stretch{90, 200})); r.Idle != 0 || r.Guess || r.Net != (trace.Joules{}) || r.End != nil || r.Loaded || !r.Flat {
		t.Errorf("an even run of an unknown mill: %+v", r)
	}
}

// Idling is read off the last minute of a run that drew a quarter more before, when both
// of its halves hold three readings and lie within 4 %.
func TestEdgesOfThePlateau(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		step float64
		all  []stretch
		idle float64
	}{
		"each second":       {1, []stretch{{120, 300}, {80, 120}}, 120},
		"three in a half":   {9, []stretch{{20, 300}, {9, 120}}, 120},
		"two in a half":     {14, []stretch{{20, 300}, {8, 120}}, 0},
		"a quarter more":    {1, []stretch{{120, 151}, {80, 120}}, 120},
		"hardly more":       {1, []stretch{{120, 149}, {80, 120}}, 0},
		"drifting by 3.5 %": {1, []stretch{{120, 300}, {45, 124.2}, {30, 120}}, 120},
		"drifting by 4.5 %": {1, []stretch{{120, 300}, {45, 125.4}, {30, 120}}, 0},
	} {
		r := oneRun(t, name, trace.Known{}, drawn(c.step, c.all...))
		if math.Abs(r.Idle-c.idle) > 0.04*c.idle || r.Guess != (c.idle > 0) {
			t.Errorf("%s: idling at %g W, guessed %v", name, r.Idle, r.Guess)
		}
	}
}
