package trace_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/process/trace"
)

// course is a run in watts by the second: idle before, an inrush, levels for so long each, then nothing; with noise of a share.
func course(luck *rand.Rand, noise, every float64, levels ...[2]float64) (all []trace.Reading) {
	at := 1000.0
	add := func(watts, seconds float64) {
		for end := at + seconds; at < end; at += every {
			all = append(all, trace.Reading{At: at, Value: math.Max(0, watts*(1+noise*luck.NormFloat64()))})
		}
	}
	add(1, 20)
	if len(levels) > 0 {
		add(3*levels[0][0], 1.5)
	}
	for _, l := range levels {
		add(l[0], l[1])
	}
	add(0.5, 30)
	return all
}

// Runs of every shape: flat, falling to idling, stalled, cut short, two in a row, read often and seldom; what is told of them,
// of their events as they come, of idling and of energy, is a line each as approved.
func TestRunsOfEveryShapeAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	luck := rand.New(rand.NewPCG(3, 8))
	for i, levels := range [][][2]float64{
		{{300, 90}}, {{300, 60}, {120, 70}}, {{300, 60}, {120, 25}}, {{300, 30}, {900, 6}, {1, 2}}, {{300, 8}}, {{300, 60}, {0.5, 40}, {320, 80}, {125, 65}}, {{300, 20}, {290, 20}, {340, 20}, {120, 90}}, {{130, 120}}, {{300, 60}, {0.5, 3}, {300, 60}}, {{600, 40}, {560, 40}, {500, 40}, {150, 62}, {140, 30}},
	} {
		for _, every := range []float64{0.5, 1, 2, 5, 11} {
			for _, known := range []trace.Known{{}, {Idle: 120}} {
				readings := course(luck, 0.02, every, levels...)
				runs, err := trace.Runs(readings, known)
				if err != nil {
					t.Fatal(err)
				}
				drawn, err := trace.Energy(readings, 10, 2000)
				if err != nil {
					t.Fatal(err)
				}
				var more []float64
				for _, r := range runs {
					more = append(more, r.Time(), r.Doubt())
				}
				f, err := trace.NewFollower(known)
				if err != nil {
					t.Fatal(err)
				}
				var events []trace.Event
				for k, r := range readings {
					some, err := f.Add(r)
					if err != nil {
						t.Fatal(err)
					}
					events = append(events, some...)
					if sofar, ok := f.Sofar(); ok && k%37 == 0 {
						more = append(more, sofar.Time(), sofar.Level, sofar.Energy.Mid)
					}
				}
				events = append(append(events, f.Tick(readings[len(readings)-1].At+400)...), f.Close()...)
				fmt.Fprintf(&out, "%d %g %g %d %s %s\n", i, every, known.Idle, len(runs), checkrow.Whole(t, []any{runs, drawn, more}), checkrow.Whole(t, events))
			}
		}
	}
	checkrow.ApprovedText(t, "shapes", out.String())
}
