package trace_test

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"hopperful/process/trace"
)

// The power of a series motor, two days of a vacuum cleaner: Reinhardt et al., tracebase,
// incomplete/VacuumCleaner, commit 8e7cd45 (Tracebase2012). The database is under ODbL 1.0, so
// the traces are not part of this repository: they are read from a folder beside it, or from
// HOPPERFUL_TRACES, and the test is left out where they are not.
//
// The moments are those of the traces: the last reading of 0 W before a run, the first
// above, the last above, and the first of 0 W after it.
var vacuum = map[string][]struct{ off, on, last, over string }{
	"vacuum-13.csv": {
		{"12:25:00", "12:25:02", "12:26:26", "12:26:28"},
		{"12:39:06", "12:39:08", "12:41:37", "12:41:39"},
		{"12:48:14", "12:48:15", "12:52:48", "12:52:50"},
	},
	"vacuum-14.csv": {{"12:38:57", "12:38:58", "12:41:25", "12:41:27"}},
}

func tracesFolder(t *testing.T) string {
	t.Helper()
	for _, at := range []string{os.Getenv("HOPPERFUL_TRACES"), filepath.Join("..", "..", "..", "shared", "data", "traces")} {
		if _, err := os.Stat(filepath.Join(at, "vacuum-13.csv")); at != "" && err == nil {
			return at
		}
	}
	t.Skip("the traces of tracebase are not beside this repository; HOPPERFUL_TRACES names their folder")
	return ""
}

// readDay reads "13/01/2012 12:25:02;635;80": date, mean of a second, mean of eight.
func readDay(t *testing.T, name string) (all []trace.Reading, seconds map[float64]string) {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	seconds = map[float64]string{}
	for lines := bufio.NewScanner(f); lines.Scan(); {
		parts := strings.Split(lines.Text(), ";")
		at, err := time.Parse("02/01/2006 15:04:05", parts[0])
		if err != nil {
			t.Fatal(err)
		}
		p, err := strconv.ParseFloat(parts[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, trace.Reading{At: float64(at.Unix()), Value: p})
		seconds[float64(at.Unix())] = at.Format(time.TimeOnly)
	}
	return all, seconds
}

// On the real motor: every run and no other, start and stop within 4 s, no end and no stall
// inside a run, whatever is believed of its idling.
func TestMeasuredRuns(t *testing.T) {
	t.Parallel()
	folder := tracesFolder(t)
	for name, want := range vacuum {
		readings, seconds := readDay(t, filepath.Join(folder, name))
		clock := func(text string) float64 {
			for at, shown := range seconds {
				if shown == text {
					return at
				}
			}
			t.Fatalf("%s has no reading at %s", name, text)
			return 0
		}
		for _, idle := range []float64{0, 120, 1330} {
			runs, err := trace.Runs(readings, trace.Known{Idle: idle})
			if err != nil || len(runs) != len(want) {
				t.Fatalf("%s, idling at %g W: %d runs, wanted %d (%v)", name, idle, len(runs), len(want), err)
			}
			for i, w := range want {
				r, at := runs[i], fmt.Sprintf("%s %s, idling at %g W", name, w.on, idle)
				for _, edge := range []struct {
					name         string
					got          trace.Moment
					before, then float64
				}{{"start", r.Start, clock(w.off), clock(w.on)}, {"stop", r.Stop, clock(w.last), clock(w.over)}} {
					if middle := (edge.before + edge.then) / 2; math.Abs(edge.got.At-middle) > 4 {
						t.Errorf("%s: the %s is told %+.1f s off", at, edge.name, edge.got.At-middle)
					}
				}
				if r.End != nil || len(r.Stalls) > 0 || r.Lost {
					t.Errorf("%s: an end, a stall or a loss inside a run: %+v", at, r)
				}
				if r.Level < 1295 || r.Level > 1355 { // medians of the readings later than 5 s
					t.Errorf("%s: level %.0f W; 1301 to 1350 W were measured", at, r.Level)
				}
			}
		}
	}
}

// Each reading written twice changes no energy, and every second one left out little.
func TestMeasuredEnergy(t *testing.T) {
	t.Parallel()
	readings, _ := readDay(t, filepath.Join(tracesFolder(t), "vacuum-14.csv"))
	var twice, half []trace.Reading
	for i, r := range readings {
		twice = append(twice, r, r)
		if i%2 == 0 {
			half = append(half, r)
		}
	}
	a, err := trace.Runs(readings, trace.Known{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := trace.Runs(twice, trace.Known{})
	if err != nil || b[0].Energy != a[0].Energy {
		t.Errorf("with duplicates %+v, without %+v (%v)", b[0].Energy, a[0].Energy, err)
	}
	c, err := trace.Runs(half, trace.Known{})
	if err != nil || len(c) != len(a) || math.Abs(c[0].Energy.Mid/a[0].Energy.Mid-1) > 0.01 {
		t.Errorf("half the readings: %+v, all %+v (%v)", c[0].Energy, a[0].Energy, err)
	}
}
