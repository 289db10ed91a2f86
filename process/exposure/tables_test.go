package exposure

import (
	"math"
	"testing"
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
