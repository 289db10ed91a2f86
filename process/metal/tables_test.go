package metal

import (
	"math"
	"testing"
)

// The metals: densities within a tenth of their chief element's (from memory), what a
// magnet catches in order and inside its range; never caught is never caught.
func TestKindsArePlausible(t *testing.T) {
	t.Parallel()
	elements := []float64{7870, 7900, 7900, 8450, 2700} // iron, stainless, stainless, brass, aluminium
	kinds := Kinds()
	for i, k := range kinds {
		if math.Abs(k.Density/elements[i]-1) > 0.1 {
			t.Errorf("%s: %g kg/m³", k.Name, k.Density)
		}
		if k.Low > k.Catch || k.Catch > k.High || k.High >= 1 || k.Low < 0 || i > 0 && (k.Catch > kinds[i-1].Catch || k.High > kinds[i-1].High || k.Low > kinds[i-1].Low) {
			t.Errorf("%s: caught %g to %g, mostly %g", k.Name, k.Low, k.High, k.Catch)
		}
	}
	for _, k := range []Kind{Brass, Aluminium} {
		if k.Catch != 0 || k.Low != 0 || k.High != 0 {
			t.Errorf("%s is caught", k.Name)
		}
	}
}

// What is expected of blades as the comment says: 1 to 100 mg/kg over all states, each
// three times the one before, a range of about three to either side.
func TestPriorsRise(t *testing.T) {
	t.Parallel()
	var before Expected
	for i, b := range []Blade{Sharp, Worn, Chipped} {
		e, ok := b.Prior()
		if !ok || e.Low < 0.9e-6 || e.High > 101e-6 || math.Abs(math.Log(e.Median/e.Low)-math.Log(3.16)) > 0.1 || math.Abs(math.Log(e.High/e.Median)-math.Log(3.16)) > 0.1 {
			t.Errorf("state %d: %+v", b, e)
		}
		if r := e.Median / before.Median; i > 0 && (r < 2.9 || r > 3.5) {
			t.Errorf("state %d: %g times the one before", b, r)
		}
		before = e
	}
	if _, ok := Blade(3).Prior(); ok {
		t.Error("an unknown state has a prior")
	}
}

// What lies between two chips is told from one chip in a thousand tonnes on; rarer is none.
func TestRareChips(t *testing.T) {
	t.Parallel()
	m := Metal{Wear: 1e-5, Parts: []Part{{Brass, 1}}, Sizes: WearSpectrum, Screen: 3e-3, Slip: 1}
	p := Print{Mass: 0.2, Nozzle: 8e-4}
	usual, err := PrintRisk(m, p)
	if err != nil {
		t.Fatal(err)
	}
	for rate, want := range map[float64]float64{1.5e-6: 1 / 1.5e-6, 1.01e-6: 1 / 1.01e-6, 0.99e-6: 0} {
		m.Wear = 1e-5 * rate / usual.Rate
		o, err := PrintRisk(m, p)
		if err != nil || math.Abs(o.Rate/rate-1) > 1e-9 || math.Abs(o.MeanMass-want) > 1e-6*want || (o.Sample > 0) != (want > 0) {
			t.Errorf("%g chips a kilogram: %+v, %v", rate, o, err)
		}
		if want > 0 && math.Abs(o.Sample/(want*-math.Log(0.05))-1) > 1e-9 { // 3/λ, the rule of three
			t.Errorf("%g chips a kilogram are excluded after %g kg", rate, o.Sample)
		}
	}
}
