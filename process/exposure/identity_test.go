package exposure

// Laws of doses and levels.

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestLevelsAddInAnyOrder(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 1))
	for range 100 {
		a, b, c := 60+50*rng.Float64(), 60+50*rng.Float64(), 60+50*rng.Float64()
		once, err := Add(a, b, c)
		if err != nil {
			t.Fatal(err)
		}
		ab, err := Add(a, b)
		if err != nil {
			t.Fatal(err)
		}
		twice, err := Add(c, ab)
		if err != nil || math.Abs(once-twice) > 1e-9 {
			t.Errorf("%g %g %g: %g and %g, %v", a, b, c, once, twice, err)
		}
		back, err := WithoutBackground(ab, b)
		if err != nil || math.Abs(back-a) > 1e-6 {
			t.Errorf("%g from under %g came back as %g, %v", a, b, back, err)
		}
	}
}

// Working for just the time left brings the day to just the limit.
func TestTimeLeftIsUsedUp(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(2, 1))
	for range 100 {
		so := Task{70 + 15*rng.Float64(), 7200 * rng.Float64()}
		level := 86 + 15*rng.Float64()
		left, err := TimeLeft(level, UpperAction, so)
		if err != nil {
			t.Fatal(err)
		}
		day, err := DayLevel(so, Task{level, left})
		if err != nil || math.Abs(day-UpperAction) > 1e-9 {
			t.Errorf("%+v then %g dB for %g s: %g dB, %v", so, level, left, day, err)
		}
	}
}

// Spending the allowed time is a dose of 1, whatever the level, and an average
// at the criterion; a task cut in two doses the same.
func TestDosesAddUp(t *testing.T) {
	t.Parallel()
	for _, s := range []Scheme{OSHA1910, NIOSH98} {
		for level := 86.0; level < 130; level += 2.3 {
			time, err := AllowedTime(s, level)
			if err != nil {
				t.Fatal(err)
			}
			whole, err := Dose(s, Task{level, time})
			if err != nil {
				t.Fatal(err)
			}
			halves, err := Dose(s, Task{level, time / 4}, Task{level, time * 3 / 4})
			if err != nil || math.Abs(whole-1) > 1e-12 || math.Abs(halves-1) > 1e-12 {
				t.Errorf("%s at %g dB: doses %g and %g, %v", s.Name, level, whole, halves, err)
			}
		}
		if l, err := AverageLevel(s, 1); err != nil || l != s.Criterion {
			t.Errorf("%s: a full dose averages %g, %v", s.Name, l, err)
		}
	}
}

func TestCloudsArePlausible(t *testing.T) {
	t.Parallel()
	for _, c := range Clouds {
		if c.Material == "" || c.Source == "" || c.Least < 0.01 || c.Least > 0.5 || c.Pressure > 12*bar || c.Ignition > 1 {
			t.Errorf("%+v", c)
		}
	}
}
