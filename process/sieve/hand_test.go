package sieve

import (
	"math"
	"strings"
	"testing"
)

// What is usual of the metal, by hand: the shares before the last run have the middle of their logarithms, and for one run
// more scatter by their own, wider by the root of 1 + 1/n, a tenth at the least; 1.2816 of it is the tenth on either side.
func TestUsualMetalByHand(t *testing.T) {
	t.Parallel()
	for _, found := range [][]float64{{2e-6, 4e-6, 3e-6, 8e-6, 5e-6}, {2e-6, 2e-6, 2e-6, 2e-6, 2e-6}, {1e-6, 9e-6, 2e-6, 4e-6, 6e-6, 3e-6}} {
		m, n := Metal{Resolution: 1e-9}, float64(len(found)-1)
		mean, s := 0.0, 0.0
		for i, f := range found {
			m.Runs = append(m.Runs, MetalRun{Ground: 0.5, Found: f})
			if i < len(found)-1 {
				mean += math.Log(f/0.5) / n
			}
		}
		for _, f := range found[:len(found)-1] {
			s += math.Pow(math.Log(f/0.5)-mean, 2) / (n - 1)
		}
		scatter := math.Max(math.Sqrt(s), 0.1) * math.Sqrt(1+1/n)
		c, err := m.Test(0)
		if err != nil {
			t.Fatal(err)
		}
		for name, x := range map[string][2]float64{"middle": {c.Usual.Value, math.Exp(mean)}, "low": {c.Usual.Low, math.Exp(mean - 1.2816*scatter)}, "high": {c.Usual.High, math.Exp(mean + 1.2816*scatter)}, "last": {c.Last, found[len(found)-1] / 0.5}, "alarms": {c.FalseAlarm, 0.005}} {
			if math.Abs(x[0]/x[1]-1) > 1e-9 {
				t.Errorf("%v: %s is %g, wanted %g", found, name, x[0], x[1])
			}
		}
	}
}

// A tare from 30 g to 3 kg may have been forgotten, where a twentieth too much was found; less or more is none.
func TestWhichTaresAreForgotten(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		tare, charge float64
		rows         int
		asked        bool
	}{
		{2.99, 0.2, 2, true}, {3.01, 0.2, 2, false}, {0.031, 0.1, 1, true}, {0.029, 0.1, 1, false}, {0.4, 0.2, 2, true}, {0.05, 1, 1, true}, {0.049, 1, 1, false},
	} {
		net := []float64{c.charge / 2, c.charge / 2}
		for i := range c.rows {
			net[i] += c.tare
		}
		a, err := Weigh(Stack{Sieves: []Sieve{{Opening: 1e-3}}, Portions: []Portion{{Charge: c.charge, Rows: []Row{{Mass: net[0]}, {Mass: net[1]}}}}})
		if err != nil {
			t.Fatal(err)
		}
		if (len(a.Doubts) == 1) != c.asked {
			t.Errorf("%d times %g kg too much on %g kg: %v", c.rows, c.tare, c.charge, a.Doubts)
		}
		if c.asked && (a.Doubts[0].Rows != c.rows || math.Abs(a.Doubts[0].Value-c.tare) > 1e-9 || a.Doubts[0].Portion != 1) {
			t.Errorf("%d times %g kg: told %+v", c.rows, c.tare, a.Doubts[0])
		}
	}
}

// What a stack cannot say is told with the share that lies beyond it, in percent.
func TestWhatLiesBeyondIsTold(t *testing.T) {
	t.Parallel()
	for text, e := range map[string]*BeyondError{"12.5 %": {Side: "below", Edge: 1e-3, Held: 0.125}, "40 %": {Side: "above", Edge: 2e-3, Held: 0.4}} {
		if said := e.Error(); !strings.Contains(said, text) {
			t.Errorf("%q does not tell %s", said, text)
		}
	}
}
