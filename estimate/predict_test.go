package estimate

import (
	"math"
	"testing"
)

// A wall that hardly warms is read as far off as one that rises by four kelvin, less so at
// a lower level, and the fit is held to no such rise.
func TestAWallThatHardlyWarmsIsForecastWidely(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ share, rise, want float64 }{{0.6, 1, 3}, {0, 1, 3}, {0.3, 1, 1}, {0.9, -1, 4}, {0.6, 9, 0}} {
		r := Run{Load: Load{Watts: 300, Share: c.share}}
		if got := r.unread(c.rise); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("at %g of the scale and a rise of %g K it errs by that of %g K more, not %g", c.share, c.rise, got, c.want)
		}
	}
	r := Run{Polymer: "PLA", Charge: 0.02, Time: 30, Room: 293, Resolution: 0.001, Largest: 0.03, Thickness: 0.0016, Load: Load{Watts: 200, Spread: 1.35}}
	r.WallAfter = &r.Room
	_, workers, err := workshop(r.Largest, fitTolerance)
	if err != nil {
		t.Fatal(err)
	}
	b := Prior()
	wall := func(ahead bool, off float64) float64 {
		o := outlook{row: b.Medians(), ahead: ahead}
		o.errs[errorOfHeat] = off
		out, err := workers[0].outcome(&r, &o, 0.05)
		if err != nil {
			t.Fatal(err)
		}
		return out.Wall
	}
	if read, fitted := wall(true, 0.3)-wall(true, 0), wall(false, 0.3)-wall(false, 0); read < 0.9 || fitted > 0.5*read {
		t.Errorf("an error of 0.3 moves a reading by %.2f K, the fit by %.2f K", read, fitted)
	}
}
