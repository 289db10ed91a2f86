package moisture

// What dryers answer and refuse.

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"hopperful/process"
)

var thin = Bed{Mass: 1, Depth: 0.01, Density: 600}

func TestDryersRefuseWithTheReason(t *testing.T) {
	t.Parallel()
	room, err := VapourPressure(293.15, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	oven, err := NewOven(323.15, room)
	if err != nil {
		t.Fatal(err)
	}
	need := Need{0.002, 0.00025}
	var wet *TooWetError
	if _, err := DryingTime(plaLike, threeMM, oven, thin, need); !errors.As(err, &wet) || !strings.Contains(err.Error(), "keeps 758 ppm") {
		t.Errorf("an oven in a normal room: %v", err)
	}
	hot, err := NewDehydrator(335.15, room, 1e-3)
	if err != nil {
		t.Fatal(err)
	}
	var soft *TooHotError
	if _, err := DryingTime(plaLike, threeMM, hot, thin, need); !errors.As(err, &soft) || !strings.Contains(err.Error(), "at 62 °C the grains stick") {
		t.Errorf("a dehydrator at 62 °C: %v", err)
	}
	box, err := NewDesiccantBox(323.15, 0.01)
	if err != nil {
		t.Fatal(err)
	}
	var deep *TooDeepError
	d, err := DryingTime(plaLike, threeMM, box, Bed{1, 0.2, 600}, need)
	if !errors.As(err, &deep) || d.Binding != ByBed || !strings.Contains(err.Error(), "spread it to 45 mm or less") {
		t.Errorf("a heap of 200 mm: %+v, %v", d, err)
	}
	// The depth it names is not refused.
	if _, err := DryingTime(plaLike, threeMM, box, Bed{1, deep.Deepest * (1 - 1e-9), 600}, need); err != nil {
		t.Errorf("the deepest bed: %v", err)
	}
}

// Blown through, depth no longer counts; too little air does.
func TestDryAirCarries(t *testing.T) {
	t.Parallel()
	need := Need{0.002, 0.00025}
	var last float64
	for i, flow := range []float64{1e-6, 1e-4, 1e-2} {
		dryer, err := NewDryAir(323.15, 233.15, flow)
		if err != nil {
			t.Fatal(err)
		}
		d, err := DryingTime(plaLike, threeMM, dryer, Bed{1, 0.3, 600}, need)
		if err != nil {
			t.Fatal(err)
		}
		if i > 0 && d.Time >= last {
			t.Errorf("%g m³/s: %g s, with less air %g s", flow, d.Time, last)
		}
		if want := map[bool]Part{true: ByAir, false: ByGrain}[i == 0]; d.Binding != want {
			t.Errorf("%g m³/s: %s binds, wanted %s", flow, d.Binding, want)
		}
		last = d.Time
	}
}

// Drier air, a higher limit, less water: never longer. What dries and stands in
// the same air is never wetter than both its start and its equilibrium.
func TestDryingIsMonotone(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(9, 10))
	answered := 0
	for range 2 * draws {
		p, g := drawPlastic(r), drawGrains(r)
		temperature := min(p.Softening-1, 300+60*r.Float64())
		base := Need{Now: p.Saturated * (0.3 + 0.5*r.Float64())}
		base.Limit = base.Now * (0.3 + 0.5*r.Float64())
		ask := func(humidity float64, n Need) (float64, bool) {
			box, err := NewDesiccantBox(temperature, humidity)
			if err != nil {
				t.Fatal(err)
			}
			d, err := DryingTime(p, g, box, Bed{1, 1e-4, 300}, n)
			var out *process.RangeError
			if err != nil && errors.As(err, &out) {
				t.Fatalf("%+v %+v: %v", p, n, err)
			}
			return d.Time, err == nil && !math.IsNaN(d.Time) && !math.IsInf(d.Time, 0)
		}
		time, ok := ask(0.05, base)
		drier, okDrier := ask(0.01, base)
		easier, okEasier := ask(0.05, Need{base.Now, base.Limit * 1.1})
		if !ok || !okDrier || !okEasier {
			continue // the heap is slower than very fine grains
		}
		answered++
		if drier > time*(1+1e-9) || easier > time*(1+1e-9) {
			t.Errorf("%+v: %g s, drier air %g s, easier limit %g s", p, time, drier, easier)
		}
		box, _ := NewDesiccantBox(temperature, 0.05)
		w, err := WaterAfter(p, g, box, Stay{base.Now, time})
		if err != nil || w > base.Limit*(1+1e-6) || w < p.Saturated*0.05*(1-1e-9) {
			t.Errorf("%+v: %g after the drying time, limit %g, %v", p, w, base.Limit, err)
		}
	}
	if answered < draws {
		t.Errorf("only %d of %d draws were answered", answered, 2*draws)
	}
}

func TestOpenTimeSaysWhatBecomes(t *testing.T) {
	t.Parallel()
	room, err := NewRoom(296.15, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	for want, n := range map[Standing]Need{
		WillPass: {0.0002, 0.0005}, StaysDry: {0.0002, 0.005}, PassedNow: {0.001, 0.0005},
	} {
		o, err := OpenTime(plaLike, threeMM, room, n)
		if err != nil || o.Standing != want || (o.Time > 0) != (want == WillPass) {
			t.Errorf("%+v: %+v, %v; wanted %q", n, o, err, want)
		}
		if want != WillPass {
			continue
		}
		if w, err := WaterAfter(plaLike, threeMM, room, Stay{n.Now, o.Time}); err != nil || math.Abs(w-n.Limit) > 1e-9 {
			t.Errorf("after the open time %g, limit %g, %v", w, n.Limit, err)
		}
	}
}

func TestScaleSaysWhatItCannotSee(t *testing.T) {
	t.Parallel()
	kitchen, err := LossOnDrying(Weighing{Before: 0.5, After: 0.499, Resolution: 0.001})
	if err != nil || kitchen.Seen || kitchen.CanSee(250e-6) || kitchen.Low > 1e-12 || kitchen.High < 0.0039 {
		t.Errorf("a 1 g scale: %+v, %v", kitchen, err)
	}
	fine, err := LossOnDrying(Weighing{Before: 0.10235, After: 0.1019, Resolution: 1e-5})
	if err != nil || !fine.Seen || !fine.CanSee(250e-6) || !(fine.Low < fine.Wet && fine.Wet < fine.High) {
		t.Errorf("a 0.01 g scale: %+v, %v", fine, err)
	}
	if w := (fine.High - fine.Low) / 2; math.Abs(w-fine.Detectable) > 0.01*fine.Detectable {
		t.Errorf("half the range %g, one digit %g", w, fine.Detectable)
	}
}

func TestRefusals(t *testing.T) {
	t.Parallel()
	nan := math.NaN()
	box := Dryer{Temperature: 323.15, Vapour: 100}
	need := Need{0.002, 0.00025}
	drying := func(p Plastic, g Grains, d Dryer, b Bed, n Need) error {
		_, err := DryingTime(p, g, d, b, n)
		return err
	}
	heavy, soggy := plaLike, plaLike
	heavy.Density, soggy.Saturated = 1e5, nan
	second := func(_ any, err error) error { return err }
	for name, err := range map[string]error{
		"density":         drying(heavy, threeMM, box, thin, need),
		"NaN saturation":  drying(soggy, threeMM, box, thin, need),
		"no grains":       drying(plaLike, Grains{}, box, thin, need),
		"unknown shape":   drying(plaLike, Grains{7, []float64{1e-3}, []float64{1}}, box, thin, need),
		"uneven lists":    drying(plaLike, Grains{Sphere, []float64{1e-3, 2e-3}, []float64{1}}, box, thin, need),
		"foggy dryer":     drying(plaLike, threeMM, Dryer{323.15, 1e5, 0}, thin, need),
		"negative flow":   drying(plaLike, threeMM, Dryer{323.15, 100, -1}, thin, need),
		"no depth":        drying(plaLike, threeMM, box, Bed{1, 0, 600}, need),
		"solid bed":       drying(plaLike, threeMM, box, Bed{1, 0.01, 1240}, need),
		"limit above now": drying(plaLike, threeMM, box, thin, Need{0.001, 0.002}),
		"no limit":        drying(plaLike, threeMM, box, thin, Need{0.001, 0}),
		"NaN time":        second(LotLost(threeMM, Motion{1e-11, math.Inf(1)}, nan)),
		"NaN transfer":    second(LotLost(threeMM, Motion{1e-11, nan}, 1)),
		"no room":         second(OpenTime(plaLike, threeMM, Dryer{}, need)),
		"wet start":       second(WaterAfter(plaLike, threeMM, box, Stay{0.5, 1})),
		"no desiccant":    second(NewDesiccantBox(323.15, 2)),
		"dew above":       second(NewDryAir(323.15, 330, 1e-3)),
		"no blower":       second(NewDehydrator(323.15, 100, 0)),
		"blank scale":     second(LossOnDrying(Weighing{0.1, 0.1, 0})),
	} {
		var out *process.RangeError
		if !errors.As(err, &out) {
			t.Errorf("%s: got %v, wanted a RangeError", name, err)
		}
	}
}

func TestAskingALotAllocatesNothing(t *testing.T) {
	l, err := NewLot(threeMM, Motion{4.5e-11, math.Inf(1)})
	if err != nil {
		t.Fatal(err)
	}
	if n := testing.AllocsPerRun(20, func() {
		if _, err := l.Time(0.9); err != nil {
			t.Error(err)
		}
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

// Grains of a fifth of a millimetre dry sooner than they warm, those of three do not. Time in
// the grains begins once they are warm, and runs as the grains' share of the rest.
func TestWarmingCanTakeLongest(t *testing.T) {
	t.Parallel()
	box, err := NewDesiccantBox(323.15, 0.01)
	if err != nil {
		t.Fatal(err)
	}
	p := plaLike
	p.Heat, p.Comes = 1300, 293.15
	fine := Grains{Shape: Sphere, Size: []float64{0.2e-3}, Share: []float64{1}}
	for _, c := range []struct {
		g    Grains
		heat bool
	}{{threeMM, false}, {fine, true}} {
		d, err := DryingTime(p, c.g, box, Bed{1, 1e-3, 600}, Need{0.002, 0.00025})
		if err != nil || (d.Binding == ByHeat) != c.heat || (d.Warm > d.Grain) != c.heat || math.Abs(d.Time-d.Warm-d.Grain-d.Bed) > 1e-6 {
			t.Errorf("%v: %+v, %v", c.g.Size, d, err)
		}
	}
	d := Drying{Time: 500, Warm: 100, Grain: 300, Bed: 100}
	for time, want := range map[float64]float64{0: 0, 100: 0, 300: 150, 500: 300, 900: 600} {
		if got := d.InGrains(time); math.Abs(got-want) > 1e-9 {
			t.Errorf("%g s in the dryer are %g s in the grains, wanted %g", time, got, want)
		}
	}
	if got := (Drying{Time: 100, Warm: 100}).InGrains(70); got != 70 { // nothing but warming: the grains are as far as the clock
		t.Errorf("%g s", got)
	}
}
