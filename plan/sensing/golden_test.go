package sensing_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"hopperful/internal/checkrow"
	"hopperful/plan/sensing"
	"hopperful/process/trace"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What is told of a mill that runs ever hotter, harder or emptier, of sensors in every state and of runs that wait, as
// approved: a line each, in which no number or word moves unseen.
func TestWhatSensorsTellIsAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	s := bench(t, ground(noon.Add(2*time.Minute), 120, 2), ground(noon.Add(12*time.Minute), 60, 1))
	tell := func(what string, seen sensing.Seen) {
		if seen.Now.IsZero() {
			seen.Now = noon
		}
		fmt.Fprintf(&out, "%s %v %s %s\n", what, codes(sensing.Alerts(s, seen, "")), checkrow.Whole(t, sensing.Alerts(s, seen, shoptest.Mill().Name)), checkrow.Whole(t, sensing.Of(s, seen)))
	}
	for _, to := range []float64{300, 318, 322, 324.5, 325, 325.5, 335} {
		for _, rise := range []float64{-0.1, 0, 0.05, 0.1, 0.4} {
			tell(fmt.Sprint("wall ", to, " ", rise), sensing.Seen{Link: sensing.LinkUp, Mills: []sensing.Mill{running(300)}, Sensors: []sensing.Sensor{wall(to, rise)}})
		}
	}
	for _, watts := range []float64{0, 119, 126, 200, 380, 401, 480, 700, 1210, 1400} {
		tell(fmt.Sprint("draws ", watts), sensing.Seen{Link: sensing.LinkUp, Mills: []sensing.Mill{running(watts)}})
	}
	for _, what := range sensing.Quantities() {
		for _, state := range []sensing.State{sensing.Waiting, sensing.Fresh, sensing.Silent, sensing.Frozen} {
			x := sensing.Sensor{Name: "it", Machine: shoptest.Mill().Name, What: what, State: state, At: noon.Add(-time.Minute), Value: shoptest.P(0.4)}
			tell(fmt.Sprint(what, " ", state), sensing.Seen{Sensors: []sensing.Sensor{x}, Link: sensing.LinkUp})
		}
	}
	for i, stop := range []time.Duration{2 * time.Minute, 12 * time.Minute, 40 * time.Minute} {
		for _, seconds := range []float64{5, 60, 118, 122, 600} {
			r := seenRun(noon.Add(stop), seconds, 200+50*float64(i))
			r.WallBefore, r.WallAfter, r.Rest = shoptest.P(296.14), shoptest.P(309.26), shoptest.P(240.4)
			seen := sensing.Seen{Now: noon.Add(time.Hour), Runs: []sensing.Run{r}}
			var written shop.Ground
			if g, _, err := sensing.Draft(s, seen, r.ID); err == nil {
				written = *g
			}
			fmt.Fprintf(&out, "run %d %g waits %t %s %s %s\n", i, seconds, len(sensing.Unconfirmed(s, seen)) == 1, checkrow.Whole(t, []any{sensing.Told(r), sensing.Goes(r)}), checkrow.Whole(t, written), checkrow.Whole(t, sensing.Of(s, seen)))
		}
	}
	for _, before := range []float64{1, 30, 290, 310, 620} {
		for _, what := range []trace.What{trace.Stalled, trace.RunsEmpty} {
			m := running(300)
			m.Events = []trace.Event{{What: trace.Started, At: trace.Moment{At: sec(noon) - 700}}, {What: what, At: trace.Moment{At: sec(noon) - before}}}
			tell(fmt.Sprint(what, " ", before), sensing.Seen{Link: sensing.LinkUp, Mills: []sensing.Mill{m}})
		}
	}
	checkrow.ApprovedText(t, "told", out.String())
}
