package sensing

import (
	"math"
	"testing"

	"hopperful/fact"
	"hopperful/process/trace"
)

// A wall that warms evenly is where a straight line is at the end, and passes the limit
// when that line does: 300 K at 0 s, a tenth of a kelvin a second.
func TestHeadingFollowsALine(t *testing.T) {
	t.Parallel()
	line := func(from, to, step float64) (all []trace.Reading) {
		for at := from; at <= to; at += step {
			all = append(all, trace.Reading{At: at, Value: 300 + at/10})
		}
		return all
	}
	b, passes, ok := heading(line(0, 60, 5), 0, 120, 310)
	if !ok || math.Abs(b.Mid-312) > 0.01 || math.Abs(passes-100) > 0.2 || !(b.Low <= b.Mid && b.Mid <= b.High) {
		t.Errorf("at 120 s %+v, passes 310 K at %g s, %t", b, passes, ok)
	}
	if _, _, ok := heading(nil, 0, 120, 310); ok {
		t.Error("no reading has a trend")
	}
	if _, _, ok := heading(line(0, 15, 5), 0, 120, 310); ok {
		t.Error("fifteen seconds have a trend")
	}
	if _, _, ok := heading(line(0, 25, 5), 0, 120, 310); !ok {
		t.Error("twenty-five seconds have none")
	}
	if _, _, ok := heading(line(0, 60, 5), 0, 60, 310); ok {
		t.Error("a run that is over has a trend")
	}
	if _, _, ok := heading(line(0, 60, 5), 45, 120, 310); ok {
		t.Error("what was read before the run counts")
	}
	// Beyond an hour no trend is believed: the end is an hour after the last reading.
	if b, _, _ = heading(line(0, 60, 5), 0, 1e5, 310); math.Abs(b.Mid-(306+360)) > 1 {
		t.Errorf("after more than an hour %g K", b.Mid)
	}
	// Only the last two minutes are looked at: a wall that stood still before warms all the same.
	still := append([]trace.Reading{}, line(0, 0, 1)...)
	for at := 5.0; at <= 300; at += 5 {
		still = append(still, trace.Reading{At: at, Value: 300 + math.Max(0, at-170)/10})
	}
	if b, _, _ = heading(still, 0, 330, 400); math.Abs(b.Mid-316) > 0.1 {
		t.Errorf("after standing still %g K at 330 s, the line of the last two minutes has 316", b.Mid)
	}
	// A wall that cools passes no limit before the end.
	cooling := []trace.Reading{}
	for at := 0.0; at <= 60; at += 5 {
		cooling = append(cooling, trace.Reading{At: at, Value: 320 - at/10})
	}
	if _, passes, ok = heading(cooling, 0, 120, 330); !ok || passes != 120 {
		t.Errorf("a cooling wall passes at %g s, %t", passes, ok)
	}
}

// Alerts stand by their weight, the heaviest first, those of one weight as they came.
func TestAlertsStandByWeight(t *testing.T) {
	t.Parallel()
	w := watch{}
	for i, weight := range []float64{0.3, 0.9, 0.3, 1, 0.5, 0.9} {
		w.add(weight, sayNumber(i))
	}
	got := ""
	for _, f := range w.found {
		got += f.Code
	}
	if got != "315402" {
		t.Errorf("they stand %s, by weight and coming 315402", got)
	}
}

func sayNumber(i int) fact.Saying { return fact.Say(string(rune('0' + i))) }
