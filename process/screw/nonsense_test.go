package screw

// Nonsense in: an error or a finite number out, never a panic or a NaN.

import (
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/process/melt"
)

var nonsense = []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1), 1e-300, 1e300, 1e-9, 1e-6, 1e-4, 1e-3, 2e-3, 0.01, 0.016, 0.1, 0.25, 0.5, 1, 5, 50, 300, 480, 1e3, 1e5, 1e7, 1e9}

// spoil overwrites one of the numbers with nonsense.
func spoil(rng *rand.Rand, all ...*float64) {
	*all[rng.IntN(len(all))] = nonsense[rng.IntN(len(nonsense))]
}

func TestNonsenseIsRefused(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(12, 21))
	v := func() float64 { return nonsense[rng.IntN(len(nonsense))] }
	good := func(name string, err error, values ...float64) {
		for _, x := range values {
			if err == nil && (math.IsNaN(x) || math.IsInf(x, 0)) {
				t.Errorf("%s gives %v without an error", name, values)
			}
		}
	}
	for range 300 {
		l, omega := plausible(t, rng)
		s, z := &l.Head.Screw, &l.Head.Nozzle
		for range 1 + rng.IntN(2) {
			spoil(rng, &s.Diameter, &s.Lead, &s.Flight, &s.Clearance, &s.FeedDepth, &s.DepthIn, &s.DepthOut, &s.Pump, &s.Heated,
				&z.Bore, &z.Land, &z.Entry, &z.Taper, &l.Head.Loss, &l.Feed.Bulk, &l.Feed.Filling, &l.Density, &l.MostSpeed, &l.MostPressure,
				&l.Heating.Heaters, &l.Heating.Efficiency, &l.Heating.Heat, &omega)
		}
		p, err := Operating(l.Head, omega)
		good("Operating", err, p.Flow, p.Pressure, p.Back, p.Leak)
		y, err := SpeedFor(l.Head, v(), l.MostSpeed)
		good("SpeedFor", err, y)
		bounds, err := LargestFlows(l)
		for _, b := range bounds {
			good("LargestFlows", err, b.Flow)
		}
		set, err := RunAt(l, 1e-5)
		good("RunAt", err, set.Omega, set.Pressure, set.Shaft, set.Duty)
		y, err = ShaftPower(*s, omega, Against{v(), v(), v()})
		good("ShaftPower", err, y)
	}
	for range 2000 {
		y, err := AgedShare(v())
		good("AgedShare", err, y)
		y, err = AgedTime(v())
		good("AgedTime", err, y)
		m, err := PurgeMass(v(), v(), v())
		good("PurgeMass", err, m.Low, m.High)
		y, err = HoldTime(Hot{v(), v(), v(), v()})
		good("HoldTime", err, y)
		y, err = LeastFlow(Hot{v(), v(), v(), v()})
		good("LeastFlow", err, y)
		y, err = DegradeTime(Ageing{v(), v(), v()}, v())
		good("DegradeTime", err, y)
		y, span, err := FlowFactor(v(), v(), melt.Mean{Value: v(), Range: melt.Span{Low: v(), High: v()}})
		good("FlowFactor", err, y, span.Low, span.High)
		y, err = HeaterDuty(Heating{v(), v(), v(), v(), v()}, v())
		good("HeaterDuty", err, y)
		if found, err := Fits(Passage{v(), v(), v(), v()}); err == nil {
			for _, f := range found {
				good("Fits", nil, f.Wide, f.Narrow)
			}
		}
	}
}
