package trace_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/process/breakage"
	"hopperful/process/trace"
)

// rendered is a trace of our own mill model behind a meter.
type rendered struct {
	readings         []trace.Reading
	start, end, stop float64
	drawn, net       float64 // [J], of the model itself
	idle, step       float64
}

// The noise of a motor behind a plug: 1.0 to 1.8 % and a correlation of 0.3 to 0.6 from
// reading to reading were measured on a series motor (Tracebase2012); a mill is rougher,
// so 4 % and 0.6 are rendered.
const (
	ruffle = 0.04
	memory = 0.6
)

// render runs a charge through the model of a mill and reads its meter every step
// seconds; after what the model calls the end it runs on for a while.
func render(t *testing.T, seed uint64, step, rate, screen float64) rendered {
	t.Helper()
	chance := rand.New(rand.NewPCG(seed, 7))
	grid, err := breakage.NewGrid(0.06)
	if err != nil {
		t.Fatal(err)
	}
	idle, full := 120.0, 300.0
	mill, err := breakage.NewMill(grid, breakage.Kernel{Rate: rate, SizeExponent: 1.1, RotorSize: 0.08, RotorExponent: 3, Phi: 0.35, Gamma: 0.9, Beta: 3.5},
		breakage.Screen{Hole: 0.004, OpenShare: 0.3, Rate: screen}, breakage.Power{Net: full, MinHeld: 0.02}, 1e-4)
	if err != nil {
		t.Fatal(err)
	}
	c := breakage.NewCharge(grid)
	c.Held[2], c.Held[4] = 0.03, 0.04
	const longest = 900.0
	var course breakage.Course
	for x := 0.0; x <= longest; x += 0.5 {
		course.Time = append(course.Time, x)
	}
	course.Power = make([]float64, len(course.Time))
	if err := mill.Run(c, longest, &course); err != nil {
		t.Fatal(err)
	}
	r := rendered{start: 40 + chance.Float64(), idle: idle, step: step}
	over := longest
	for i, p := range course.Power {
		if p < 0.1*idle {
			over = course.Time[i]
			break
		}
	}
	r.end, r.stop = r.start+over, r.start+over+90+5*chance.Float64()
	at := func(time float64) float64 { // the power of the model
		if time < r.start || time > r.stop {
			return 0
		}
		i := min(int((time-r.start)/0.5), len(course.Power)-1)
		return idle + course.Power[i]
	}
	for x := r.start; x < r.stop; x += 0.1 {
		r.drawn += at(x) * 0.1
		r.net += (at(x) - idle) * 0.1
	}
	wander := 0.0
	for x := step * chance.Float64(); x < r.stop+60; x += step {
		wander = memory*wander + math.Sqrt(1-memory*memory)*ruffle*chance.NormFloat64()
		mean := 0.0 // a plug shows the mean of about a second
		for k := range 10 {
			mean += at(x-float64(k)/10) / 10
		}
		if time := x - r.start; time > 0 && time < 2 { // the inrush of a series motor
			mean *= 1.1
		}
		r.readings = append(r.readings, trace.Reading{At: x, Value: math.Max(0, math.Round(mean*(1+wander)))})
	}
	return r
}
