package exposure

import (
	"errors"
	"math"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/process"
)

// The dusts in the units of their sources: g/m³, mJ, bar or psi, bar m/s; 0 where nothing
// is given. And against the field: clouds of plastics ignite from 10 to 100 g/m³, need 1
// to 100 mJ, and reach 5 to 10 bar (bands from memory).
func TestCloudsAsPublished(t *testing.T) {
	t.Parallel()
	for i, want := range [][5]float64{ // least, energy, bar, psi, Kst
		{30, 0, 6.76, 0, 116.6}, {60, 0, 6.47, 0, 97.1}, {30, 20, 0, 84, 0}, {25, 20, 0, 87, 0}, {35, 20, 0, 113, 0}, {25, 20, 0, 89, 0}, {20, 0, 0, 0, 0},
	} {
		c := Clouds[i]
		for _, v := range [][2]float64{{c.Least, want[0] * 1e-3}, {c.Ignition, want[1] * 1e-3}, {c.Pressure, want[2]*1e5 + want[3]*6894.757}, {c.Kst, want[4] * 1e5}} {
			if math.Abs(v[0]-v[1]) > 1e-6*v[1] {
				t.Errorf("%s: %g where %g was published", c.Material, v[0], v[1])
			}
		}
		if c.Least < 0.01 || c.Least > 0.1 || c.Ignition != 0 && (c.Ignition < 1e-3 || c.Ignition > 0.1) || c.Pressure != 0 && (c.Pressure < 5e5 || c.Pressure > 10e5) {
			t.Errorf("%+v lies outside of its field", c)
		}
	}
}

// A day so quiet that its level is below 0 has one all the same: an hour at 0 dB(A) is
// 10 lg(1/8) = −9.03 over eight.
func TestAQuietDay(t *testing.T) {
	t.Parallel()
	if l, err := DayLevel(Task{0, 3600}); err != nil || math.Abs(l+9.0309) > 1e-4 {
		t.Errorf("%g, %v", l, err)
	}
	if l, err := WeekLevel(-20); err != nil || math.Abs(l+26.9897) > 1e-4 { // −20 − 10 lg 5
		t.Errorf("%g, %v", l, err)
	}
}

// One source has its own level; of none, of no task and of no time there is none, and the
// refusal says so.
func TestNoSourceHasNoLevel(t *testing.T) {
	t.Parallel()
	if l, err := Add(83); err != nil || math.Abs(l-83) > 1e-12 {
		t.Errorf("%g, %v", l, err)
	}
	_, none := Add()
	_, quiet := DayLevel()
	_, still := DayLevel(Task{80, 0})
	for name, err := range map[string]error{"no source": none, "no task": quiet, "no time": still} {
		var out *process.RangeError
		if !errors.As(err, &out) || out.Value != 0 || out.Lo != 0 {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, f := range map[string]func(float64) error{
		"of a day":   func(x float64) error { _, err := DayLevel(Task{x, 60}); return err },
		"of a week":  func(x float64) error { _, err := WeekLevel(80, x); return err },
		"of a task":  func(x float64) error { _, err := TimeLeft(x, 85); return err },
		"limit":      func(x float64) error { _, err := TimeLeft(90, x); return err },
		"of sources": func(x float64) error { _, err := Add(80, x); return err },
		"background": func(x float64) error { _, err := WithoutBackground(200, x); return err },
		"allowed":    func(x float64) error { _, err := AllowedTime(OSHA1910, x); return err },
	} {
		checkrow.Range(t, name, -20, 200, f)
	}
	checkrow.Range(t, "time", 0, 86400, func(x float64) error { _, err := DayLevel(Task{80, x}, Task{80, 1}); return err })
	for n, in := range map[int]bool{0: false, 1: true, 7: true, 8: false} {
		if _, err := WeekLevel(make([]float64, n)...); (err == nil) != in {
			t.Errorf("%d days: %v", n, err)
		}
	}
}

// A layer is too much from 5 % of the floor at the depth that counts, or half of that at
// twice the depth; on floors over 1858 m² from 92.9 m² (1000 ft²) on.
func TestLayersOnBothSides(t *testing.T) {
	t.Parallel()
	limit, err := LayerDepth(600)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		deep, area, floor float64
		much              bool
	}{{1.01, 5, 100, true}, {0.99, 5, 100, false}, {1, 5.1, 100, true}, {1, 4.9, 100, false}, {2, 2.6, 100, true}, {2, 2.4, 100, false}, {0.5, 11, 100, true}, {1, 92, 5000, false}, {1, 94, 5000, true}} {
		if much, err := LayerHazard(600, c.deep*limit, c.area, c.floor); err != nil || much != c.much {
			t.Errorf("%+v: %v, %v", c, much, err)
		}
	}
}
