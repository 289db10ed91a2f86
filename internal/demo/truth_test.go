package demo

import (
	"math"
	"slices"
	"testing"

	"hopperful/estimate"
	"hopperful/shop"
)

// A charge in an empty mill comes out as package estimate reckons it for the
// same parameters: two ways through the same models.
func TestTruthIsTheModels(t *testing.T) {
	t.Parallel()
	for _, polymer := range []string{"PLA", "PETG", "ABS"} {
		mill := truthOf(t, 0)
		lot := &shop.Lot{Polymer: polymer, Pieces: pieces(34e-3, 1.2e-3, 0.2)}
		got, err := mill.run(lot, 0.08, 7, 100)
		if err != nil {
			t.Fatal(err)
		}
		row, err := truthOf(t, 0).of(polymer)
		if err != nil {
			t.Fatal(err)
		}
		want, err := estimate.Reckon(row, mill.area, estimate.Run{Polymer: polymer, Charge: 0.08, Time: 100, Load: mill.loads[7],
			Largest: 34e-3, Thickness: 1.2e-3, Room: celsius(19), Product: known(0.07), WallAfter: known(celsius(25)), Resolution: 0.001})
		if err != nil {
			t.Fatal(err)
		}
		// The two cut sizes into classes of their own, which moves masses a little.
		for _, c := range []struct {
			name      string
			got, want float64
			off       float64
		}{
			{"product [kg]", sum(got.passed) * (1 - got.dust), want.Product, 0.001},
			{"left [kg]", got.left, want.Left, 0.001},
			{"energy [J]", got.energy, want.Energy, 0.01 * want.Energy},
			{"wall [K]", got.wall, want.Wall, 0.2},
		} {
			if math.Abs(c.got-c.want) > c.off {
				t.Errorf("%s: %s is %g, wanted %g", polymer, c.name, c.got, c.want)
			}
		}
	}
}

func truthOf(t *testing.T, since float64) *truth {
	t.Helper()
	mill, err := rattleTruth()
	if err != nil {
		t.Fatal(err)
	}
	mill.coldStart(celsius(19))
	mill.since = since
	return mill
}

// A blade that has ground four kilograms gives less in the same time; nothing
// is made or lost inside the mill.
func TestBladeWearsAndMassStays(t *testing.T) {
	t.Parallel()
	lot := &shop.Lot{Polymer: "PLA", Pieces: pieces(34e-3, 1.2e-3, 0.2)}
	var passed []float64
	for _, since := range []float64{0, 4} {
		mill := truthOf(t, since)
		in := 0.0
		for range 3 {
			out, err := mill.run(lot, 0.08, 7, 90)
			if err != nil {
				t.Fatal(err)
			}
			in += 0.08
			passed = append(passed, sum(out.passed))
			in -= sum(out.passed)
			if math.Abs(out.left-in) > 1e-6 {
				t.Fatalf("%g kg are in the mill, wanted %g", out.left, in)
			}
			if err := mill.rest(300); err != nil {
				t.Fatal(err)
			}
		}
	}
	if passed[3] > 0.98*passed[0] {
		t.Errorf("a worn blade passes %g kg, a sharp one %g kg", passed[3], passed[0])
	}
}

// The runs look like a workshop's: what it would fill in, how long it would
// grind, what its meter would show, how warm the wall gets.
func TestRunsLookLikeAWorkshops(t *testing.T) {
	t.Parallel()
	watts := map[int]float64{}
	for _, at := range millRattle().Controller.Watts {
		watts[at.Level] = at.Watts
	}
	for seed := range uint64(10) {
		var rises []float64
		for _, r := range records(t, seed) {
			g, ok := r.Body.(*shop.Ground)
			if !ok || g.Mill != rattle || g.Stalled {
				continue
			}
			draw := watts[*g.Level]
			if g.Charge < 0.055 || g.Charge > 0.1 || g.Run < 80 || g.Run > 480 || draw < 250 || draw > 450 {
				t.Errorf("seed %d, record %d: %g kg for %g s at %g W", seed, r.ID, g.Charge, g.Run, draw)
			}
			if g.Energy != nil && (*g.Energy > 1.05*draw*g.Run || *g.Energy < 0.35*draw*g.Run) {
				t.Errorf("seed %d, record %d: %g J in %g s", seed, r.ID, *g.Energy, g.Run)
			}
			if g.WallAfter != nil && g.WallBefore != nil {
				rises = append(rises, *g.WallAfter-*g.WallBefore)
			}
		}
		slices.Sort(rises)
		if n := len(rises); rises[n/10] < 2 || rises[n-1-n/10] > 18 || rises[n/2] < 6 || rises[n/2] > 14 {
			t.Errorf("seed %d: the wall rises by %.3g K", seed, rises)
		}
	}
}

// One product is a slip nobody has noticed: far below what went in, though the
// shop's checks let it pass.
func TestOneSlipIsLeft(t *testing.T) {
	t.Parallel()
	for seed := range uint64(10) {
		odd, before := 0, 0.0
		for _, r := range records(t, seed) {
			g, ok := r.Body.(*shop.Ground)
			if !ok || r.Corrects != 0 {
				continue
			}
			if g.Left == nil { // nobody could tell
				before = 0
				continue
			}
			if *g.Product+*g.Left < before+g.Charge-0.012 {
				odd++
			}
			before = *g.Left
		}
		if odd != 2 { // the slip that was mended stays in the history too
			t.Errorf("seed %d: %d products fall short of their charge by far, wanted 2", seed, odd)
		}
	}
}

// The shop writes as a maker does: the product always, the rest now and then.
func TestTheBookIsRough(t *testing.T) {
	t.Parallel()
	runs, left, walls, charges, energies := 0, 0, 0, 0, 0
	for _, r := range records(t, 1) {
		g, ok := r.Body.(*shop.Ground)
		if !ok || r.Corrects != 0 {
			continue
		}
		runs++
		if g.Product == nil {
			t.Errorf("record %d has no product", r.ID)
		}
		for _, one := range []struct {
			read  bool
			count *int
		}{{g.Left != nil && *g.Left > 0, &left}, {g.WallAfter != nil, &walls}, {g.ChargeAfter != nil, &charges}, {g.Energy != nil, &energies}} {
			if one.read {
				*one.count++
			}
		}
	}
	if 2*left > runs || left == 0 || 4*charges > runs || charges == 0 || 3*energies > runs || energies == 0 || walls == runs || 3*walls < runs {
		t.Errorf("of %d runs %d have what was left, %d the wall, %d the charge, %d the energy", runs, left, walls, charges, energies)
	}
}
