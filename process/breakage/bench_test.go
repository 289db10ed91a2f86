package breakage

import "testing"

// brittle is a kernel to try a mill out with, from no mill in particular; what
// forecasts start from are the priors of package estimate.
var brittle = Kernel{Rate: 2e-4, SizeExponent: 1.1, RotorSize: 0.08, RotorExponent: 3, Phi: 0.35, Gamma: 0.9, Beta: 3.5}

// benchMill is a bench mill with a 2 mm screen and 100 g of scrap up to 60 mm.
func benchMill(tb testing.TB, tolerance float64) (*Mill, Grid) {
	tb.Helper()
	g, err := NewGrid(0.30)
	if err != nil {
		tb.Fatal(err)
	}
	m, err := NewMill(g, brittle, Screen{Hole: 0.002, OpenShare: 0.2, Rate: 0.25}, Power{Net: 250, MinHeld: 0.02}, tolerance)
	if err != nil {
		tb.Fatal(err)
	}
	return m, g
}

func benchRun(b *testing.B, tolerance float64, looks int) {
	m, g := benchMill(b, tolerance)
	feed := NewCharge(g)
	if err := AddFeed(g, feed.Held, 0.1, 0.06, 0.03, 0.002); err != nil {
		b.Fatal(err)
	}
	c := NewCharge(g)
	course := &Course{Time: make([]float64, looks)}
	for i := range looks {
		course.Time[i] = 180 * float64(i+1) / float64(looks)
	}
	for _, s := range []*[]float64{&course.Held, &course.Passed, &course.Power, &course.Energy} {
		*s = make([]float64, looks)
	}
	b.ReportAllocs()
	for b.Loop() {
		copy(c.Held, feed.Held)
		clear(c.Passed)
		c.Energy = 0
		if err := m.Run(c, 180, course); err != nil {
			b.Fatal(err)
		}
	}
}

// One charge of 180 s on 26 classes, at plan tolerance and at check tolerance.
func BenchmarkRunPlan(b *testing.B)        { benchRun(b, 1e-3, 0) }
func BenchmarkRunPlanLooks18(b *testing.B) { benchRun(b, 1e-3, 18) }
func BenchmarkRunFine(b *testing.B)        { benchRun(b, 1e-6, 18) }

func BenchmarkReset(b *testing.B) {
	m, _ := benchMill(b, 1e-3)
	b.ReportAllocs()
	for b.Loop() {
		if err := m.Reset(brittle, Screen{Hole: 0.002, OpenShare: 0.2, Rate: 0.25}, Power{Net: 250, MinHeld: 0.02}); err != nil {
			b.Fatal(err)
		}
	}
}
