package screw

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/process"
	"hopperful/process/melt"
)

// A Newtonian melt against a nozzle of known resistance: drag shared between nozzle and
// channel gives share = 1/(1 + R·g), R the nozzle's pressure a flow and g the screw's
// fluidity. Down to a ten-thousandth of the drag it is found, below it is refused.
func TestOperatingAgainstATightNozzle(t *testing.T) {
	t.Parallel()
	l, omega := plausible(t, rand.New(rand.NewPCG(3, 3)))
	newtonian, err := melt.NewPower(1000, 1)
	if err != nil {
		t.Fatal(err)
	}
	h := l.Head
	h.InScrew, h.InNozzle, h.Loss = newtonian, newtonian, 0
	share := func(bore float64) float64 {
		h.Nozzle = melt.Nozzle{Bore: bore, Land: 0.5, Entry: bore, Taper: 0}
		p, err := h.drop(1e-12)
		if err != nil {
			t.Fatal(err)
		}
		back, leak, err := h.fluidity(omega)
		if err != nil {
			t.Fatal(err)
		}
		return 1 / (1 + p/1e-12*(back+leak))
	}
	for _, c := range []struct {
		want float64
		in   bool
	}{{0.5, true}, {1.9e-4, true}, {1.05e-4, true}, {0.95e-4, false}} {
		lo, hi := 6e-5, 0.04
		for range 60 {
			if mid := math.Sqrt(lo * hi); share(mid) < c.want {
				lo = mid
			} else {
				hi = mid
			}
		}
		got := share(lo)
		p, err := Operating(h, omega)
		var out *process.RangeError
		switch {
		case math.Abs(got/c.want-1) > 1e-6:
			t.Errorf("no nozzle lets %g through, the nearest %g", c.want, got)
		case c.in && (err != nil || math.Abs(p.Flow/p.Drag/c.want-1) > 1e-5):
			t.Errorf("%g of the drag, wanted %g: %v", p.Flow/p.Drag, c.want, err)
		case !c.in && !errors.As(err, &out):
			t.Errorf("a share of %g: %v", c.want, err)
		case !c.in: // what a ten-thousandth of the drag flow asks, of what the rest would build
			drag, err := DragFlow(h.Screw, omega)
			asked, err2 := h.drop(1e-4 * drag)
			back, leak, err3 := h.fluidity(omega)
			if errors.Join(err, err2, err3) != nil || math.Abs(out.Value/asked-1) > 1e-9 || out.Lo != 0 || math.Abs(out.Hi/((1-1e-4)*drag/(back+leak))-1) > 1e-9 || !(out.Value > out.Hi) {
				t.Errorf("%g Pa of at most %g are refused: %v", asked, out.Hi, out)
			}
		}
	}
}

// A drive faster than any is refused by the line's own name for it, whatever asks.
func TestFastestDrive(t *testing.T) {
	t.Parallel()
	l, _ := plausible(t, rand.New(rand.NewPCG(3, 4)))
	l.MostSpeed = 1.01 * mostSpeed
	_, err := LargestFlows(l)
	_, also := RunAt(l, 1e-6)
	for _, err := range []error{err, also} {
		var out *process.RangeError
		if !errors.As(err, &out) || out.Name != "fastest speed" || out.Hi != mostSpeed {
			t.Errorf("%v", err)
		}
	}
}

// The ranges that no check row moves, at both ends.
func TestRangesOfALine(t *testing.T) {
	t.Parallel()
	good, _ := plausible(t, rand.New(rand.NewPCG(3, 5)))
	line := func(change func(*Line)) error {
		l := good
		change(&l)
		_, err := LargestFlows(l)
		_, also := RunAt(l, 1e-9)
		return errors.Join(err, also)
	}
	mean := melt.Mean{Value: 5e-3, Scatter: 1e-4, Count: 5, Range: melt.Span{Low: 4e-3, High: 6e-3}}
	with := func(change func(*melt.Mean)) melt.Mean {
		m := mean
		change(&m)
		return m
	}
	for _, c := range []struct {
		name   string
		lo, hi float64
		f      func(float64) error
	}{
		{"melt density", 300, 5000, func(x float64) error { return line(func(l *Line) { l.Density = x }) }},
		{"bearable pressure", 1e3, 1e9, func(x float64) error { return line(func(l *Line) { l.MostPressure = x }) }},
		{"fastest speed", 1e-6, 62.9, func(x float64) error { return line(func(l *Line) { l.MostSpeed = x }) }},
		{"speed of intake", 1e-6, 62.9, func(x float64) error { _, err := IntakeFlow(good.Head.Screw, good.Feed, x); return err }},
		{"speed of drag", 1e-6, 62.9, func(x float64) error { _, err := DragFlow(good.Head.Screw, x); return err }},
		{"least weighed", 1e-12, 10, func(x float64) error {
			_, _, err := FlowFactor(1, 1, with(func(m *melt.Mean) { m.Range.Low, m.Value, m.Range.High = x, max(x, 5), 20 }))
			return err
		}},
		{"weighed", 4e-3, 10, func(x float64) error {
			_, _, err := FlowFactor(1, 1, with(func(m *melt.Mean) { m.Value, m.Range.High = x, 20 }))
			return err
		}},
		{"most weighed", 5e-3, 20, func(x float64) error {
			_, _, err := FlowFactor(1, 1, with(func(m *melt.Mean) { m.Range.High = x }))
			return err
		}},
	} {
		checkrow.Range(t, c.name, c.lo, c.hi, c.f)
	}
	// A time of 10⁶ s at one temperature is 10¹² s where Arrhenius slows it a million times:
	// E/R (1/T − 1/T₀) = ln 10⁶.
	slow := func(factor float64) error {
		const energy = 1e5
		at := 600.0
		temperature := 1 / (1/at + math.Log(factor)*8.314462618/energy)
		_, err := DegradeTime(Ageing{Time: 1e6, At: at, Energy: energy}, temperature)
		return err
	}
	if err := slow(0.99e6); err != nil {
		t.Error(err)
	}
	var out *process.RangeError
	if err := slow(1.01e6); !errors.As(err, &out) || out.Hi != 1e12 || out.Lo != 0 {
		t.Error(err)
	}
}

// What a refusal tells: the pressure a screw builds at a ten-thousandth of its drag flow,
// and the flow a drive reaches.
func TestRefusalsTellWhatIsReached(t *testing.T) {
	t.Parallel()
	l, omega := plausible(t, rand.New(rand.NewPCG(3, 6)))
	thin, err := melt.NewPower(1000, 1)
	if err != nil {
		t.Fatal(err)
	}
	h := l.Head
	h.InScrew, h.InNozzle = thin, thin
	tight := h
	tight.Nozzle = melt.Nozzle{Bore: 6e-5, Land: 1, Entry: 6e-5}
	back, leak, err := h.fluidity(omega)
	if err != nil {
		t.Fatal(err)
	}
	shut := h.Screw.drag() * omega / (back + leak) // the pressure of a shut nozzle
	var out *process.RangeError
	if _, err := Operating(tight, omega); !errors.As(err, &out) || out.Lo != 0 || math.Abs(out.Hi/shut-0.9999) > 1e-9 || out.Value <= out.Hi {
		t.Errorf("%v, a shut nozzle %g Pa", err, shut)
	}
	reach, err := Operating(h, omega)
	if err != nil {
		t.Fatal(err)
	}
	out = nil
	if _, err := SpeedFor(h, 1.5*reach.Flow, omega); !errors.As(err, &out) || out.Lo != 0 || math.Abs(out.Hi/reach.Flow-1) > 1e-9 {
		t.Errorf("%v, reached %g", err, reach.Flow)
	}
	if _, err := SpeedFor(h, 0.999*reach.Flow, omega); err != nil {
		t.Error(err)
	}
}

// How old the melt is at the ends of what is asked: the first leaves after 3/4 of the mean,
// the last millionth and billionth long after; share and time are inverses up to there.
func TestOldestMelt(t *testing.T) {
	t.Parallel()
	for _, left := range []float64{1e-9, 1.5e-9, 1e-6, 0.01, 0.5, 0.99, 0.999999} {
		time, err := AgedTime(left)
		if err != nil || time < 0.75 {
			t.Errorf("%g left: after %g of the mean, %v", left, time, err)
			continue
		}
		gone, err := AgedShare(time)
		if err != nil || math.Abs(1-gone-left) > 1e-9*left+1e-15 {
			t.Errorf("%g left after %g of the mean, %g gone: %v", left, time, gone, err)
		}
	}
	for time, want := range map[float64]float64{0: 0, 0.75: 0} {
		if gone, err := AgedShare(time); err != nil || gone != want {
			t.Errorf("after %g of the mean %g are gone, %v", time, gone, err)
		}
	}
	if gone, err := AgedShare(1e6); err != nil || gone < 1-1e-12 {
		t.Errorf("after a million means %g are gone, %v", gone, err)
	}
	if time, err := AgedTime(1); err != nil || time != 0.75 {
		t.Errorf("nothing has left after %g of the mean, %v", time, err)
	}
}

// How full feed turns usually are holds what ScrewOutput2025 fits, 0.15 to 0.2, in its
// middle: the range reaches about as far below as above.
func TestUsualFilling(t *testing.T) {
	t.Parallel()
	u := UsualFilling
	if middle := math.Sqrt(u.Low * u.High); u.Low > 0.15 || u.High < 0.2 || middle/math.Sqrt(0.15*0.2) > 1.3 || middle/math.Sqrt(0.15*0.2) < 1/1.3 {
		t.Errorf("%+v", u)
	}
}

// How far the pressure limit is looked for: found at ten times the flood flow, told as open at twenty where it lies at thirty.
func TestHowFarThePressureLimitIsLookedFor(t *testing.T) {
	t.Parallel()
	l, _ := plausible(t, rand.New(rand.NewPCG(3, 3)))
	flood, err := Operating(l.Head, l.MostSpeed)
	if err != nil {
		t.Fatal(err)
	}
	for times, want := range map[float64]float64{0.5: 0.5, 10: 10, 19.9: 19.9, 20.1: 20, 30: 20, 45: 20} {
		if l.MostPressure, err = l.Head.drop(times * flood.Flow); err != nil {
			t.Fatal(err)
		}
		got, err := l.pressed(flood.Flow)
		if err != nil || got.Open != (times > 20) || got.By != Pressure || math.Abs(got.Flow/(want*flood.Flow*l.Density)-1) > 1e-9 {
			t.Errorf("at %g times the flood flow: %+v (%v), wanted %g kg/s", times, got, err, want*flood.Flow*l.Density)
		}
	}
}
