package sieving

// Stacks and their records by hand, where sieves stand, what spoils an analysis, and odd stacks whole.

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"hopperful/answer"
	"hopperful/internal/checkrow"
	"hopperful/process/sieve"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// The stack around a hole, by hand from the series, which begins at 8 mm: the coarsest at or above 1.3 holes, then down to the first below half a millimetre; of more than
// eight every second one below the hole stays out, from the finest but one up.
func TestTheStackAroundAHole(t *testing.T) {
	t.Parallel()
	for hole, want := range map[float64]string{
		0.2e-3: "0.355 0.25 0.18", 0.3e-3: "0.5 0.355 0.25", 1e-3: "1.4 1 0.71 0.5", 2e-3: "2.8 2 1.4 1 0.71 0.5", 3e-3: "4 2.8 2 1.4 1 0.71 0.5", 5e-3: "8 5.6 4 2.8 2 1.4 1 0.5", 8e-3: "8 5.6 4 2.8 2 1.4 1 0.5",
	} {
		var told []string
		for _, one := range aroundHole(hole) {
			told = append(told, fmt.Sprintf("%.4g", one.Opening*1e3))
		}
		if got := strings.Join(told, " "); got != want {
			t.Errorf("around %g mm stand %s mm, wanted %s", hole*1e3, got, want)
		}
	}
}

// The hole a lot went through: as its latest run noted it, else that of its mill, else that of the first mill in use with one, else three millimetres.
func TestWhichHoleALotWentThrough(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	scrap := shoptest.Scrap("PLA", "black", 9)
	scrap.Lot = "S1"
	run := func(mill string, into shop.LotID, hole *float64) *shop.Ground {
		return &shop.Ground{Mill: mill, From: "S1", Into: into, Charge: 0.1, Product: p(0.09), Run: 60, Hole: hole}
	}
	pan := &shop.MillSet{Mill: shop.Mill{Name: "Pan", Screen: shop.Screen{Hole: p(4e-3)}}}
	bare := &shop.MillSet{Mill: shop.Mill{Name: "Bare"}}
	s := shoptest.Bin(t, scrap, pan, bare, run("Rattle", "R1", p(5e-3)), run("Rattle", "R1", p(2e-3)), run("Pan", "R2", nil), run("Bare", "R3", nil), run("Pan", "R4", p(1e-3)), run("Rattle", "R5", p(1.5e-3)), run("Bare", "R5", nil),
		&shop.Ground{Mill: "Pan", From: "R1", Into: "R6", Charge: 0.01, Product: p(0.009), Run: 60, Hole: p(0.7e-3)})
	for lot, want := range map[shop.LotID]float64{"R1": 2e-3, "R2": 4e-3, "R3": 3e-3, "R4": 1e-3, "R5": 3e-3, "R6": 0.7e-3, "S1": 3e-3, "": 3e-3, "R99": 3e-3} {
		if got := holeOf(s, lot); got != want {
			t.Errorf("%s went through %g mm, wanted %g", lot, got*1e3, want*1e3)
		}
	}
	first := &shop.State{Mills: []shop.MillState{{Mill: shop.Mill{Name: "Bare"}}, {Mill: shop.Mill{Name: "Pan", Screen: shop.Screen{Hole: p(4e-3)}}}}}
	if got := holeOf(first, ""); got != 4e-3 {
		t.Errorf("%g mm", got*1e3)
	}
	if got := holeOf(&shop.State{}, ""); got != 3e-3 {
		t.Errorf("nobody knows: %g mm", got*1e3)
	}
}

// A stack becomes a record and a record a stack: masses with their sieves are kept as they were weighed, several portions without them and added up.
func TestStacksBecomeRecords(t *testing.T) {
	t.Parallel()
	own := func(mm ...float64) (list []sieve.Sieve) {
		for _, x := range mm {
			one, err := sieve.Own(x*1e-3, sieve.Woven)
			if err != nil {
				t.Fatal(err)
			}
			list = append(list, one)
		}
		return list
	}
	rows := func(pairs ...float64) (list []sieve.Row) {
		for i := 0; i < len(pairs); i += 2 {
			list = append(list, sieve.Row{Mass: pairs[i], Tare: pairs[i+1]})
		}
		return list
	}
	st := func(portions ...sieve.Portion) Stack {
		return Stack{Stack: sieve.Stack{Sieves: own(3.3, 1.1), Portions: portions}, Lot: "R1"}
	}
	for i, c := range []struct {
		of     Stack
		charge float64
		gross  bool
		many   int
		masses [3]float64
		tares  [3]float64
	}{
		{st(sieve.Portion{Charge: 0.1, Rows: rows(0.03, 0, 0.05, 0, 0.02, 0)}), 0.1, false, 0, [3]float64{0.03, 0.05, 0.02}, [3]float64{}},
		{st(sieve.Portion{Charge: 0.1, Rows: rows(0.43, 0.4, 0.45, 0.4, 0.02, 0)}), 0.1, true, 0, [3]float64{0.43, 0.45, 0.02}, [3]float64{0.4, 0.4, 0}},
		{st(sieve.Portion{Charge: 0.1, Rows: rows(0.43, 0.4, 0.45, 0.4, 0.32, 0.3)}, sieve.Portion{Charge: 0.2, Rows: rows(0.05, 0, 0.1, 0, 0.05, 0)}), 0.3, false, 2, [3]float64{0.08, 0.15, 0.07}, [3]float64{}},
	} {
		b, err := c.of.Body()
		if err != nil {
			t.Fatal(err)
		}
		got := [3]float64{b.Sieves[0].Mass, b.Sieves[1].Mass, b.Pan}
		tare := func(v *float64) float64 {
			if (v != nil) != c.gross {
				t.Errorf("case %d: an empty sieve weighs %v", i, v)
			}
			if v == nil {
				return 0
			}
			return *v
		}
		tares := [3]float64{tare(b.Sieves[0].Tare), tare(b.Sieves[1].Tare), tare(b.PanTare)}
		for k := range got {
			if math.Abs(got[k]-c.masses[k]) > 1e-12 || math.Abs(tares[k]-c.tares[k]) > 1e-12 {
				t.Errorf("case %d: %v kept beside %v, wanted %v and %v", i, got, tares, c.masses, c.tares)
				break
			}
		}
		if math.Abs(b.Charge-c.charge) > 1e-12 || b.Gross != c.gross || b.Portions != c.many || b.Series != shop.OwnSet || b.Holes != shop.WovenWire {
			t.Errorf("case %d: %+v", i, b)
		}
		back, err := stackOn(7, b)
		if err != nil {
			t.Fatal(err)
		}
		for k, r := range back.Portions[0].Rows {
			want := 0.0
			if c.gross {
				want = c.tares[k]
			}
			if r.Tare != want || math.Abs(r.Mass-c.masses[k]) > 1e-12 {
				t.Errorf("case %d: row %d came back as %+v", i, k, r)
			}
		}
	}
	// A tare that stands beside masses weighed without their sieves is not taken off.
	net, err := stackOn(7, &shop.Sieved{Lot: "R1", Charge: 0.1, Series: shop.OwnSet, Holes: shop.WovenWire, Sieves: []shop.OnSieve{{Opening: 1e-3, Mass: 0.06, Tare: shoptest.P(0.4)}}, Pan: 0.04})
	if err != nil || net.Portions[0].Rows[0].Tare != 0 {
		t.Errorf("%+v, %v", net.Portions, err)
	}
	iso, astm := sieve.Openings(sieve.R20x3), sieve.Openings(sieve.ASTME11)
	plate, err := sieve.Own(iso[3].Opening, sieve.PlateRound)
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range []struct {
		sieves []sieve.Sieve
		series shop.Series
		holes  shop.Holes
	}{
		{iso[3:6], shop.R20x3, shop.WovenWire}, {append(own(3.21), iso[8]), shop.OwnSet, shop.WovenWire}, {append([]sieve.Sieve{iso[3]}, own(0.123)...), shop.OwnSet, shop.WovenWire}, {[]sieve.Sieve{plate}, shop.OwnSet, shop.RoundHoles}, {[]sieve.Sieve{iso[2], plate}, shop.OwnSet, shop.WovenWire}, {own(3.3, 1.1), shop.OwnSet, shop.WovenWire},
	} {
		x := Stack{Stack: sieve.Stack{Sieves: c.sieves}}
		if x.series() != c.series || x.holes() != c.holes {
			t.Errorf("case %d: %s with %s", i, x.series(), x.holes())
		}
	}
	if len(astm) == 0 {
		t.Error("no sieves of ASTM E 11")
	}
	for _, x := range []Stack{{}, {Stack: sieve.Stack{Sieves: own(1)}}, {Stack: sieve.Stack{Portions: []sieve.Portion{{}}}}, st(sieve.Portion{Rows: rows(0.1, 0)})} {
		if _, err := x.Body(); err == nil {
			t.Errorf("%+v is kept", x)
		}
	}
}

// What spoils an analysis, the worst first: how much each weighs.
func TestWhatSpoilsAnAnalysis(t *testing.T) {
	t.Parallel()
	at := func(mm ...float64) (list []sieve.Sieve) {
		for _, x := range mm {
			list = append(list, sieve.Sieve{Opening: x * 1e-3})
		}
		return list
	}
	for code, c := range map[string]struct {
		a      sieve.Analysis
		simple bool
		weight float64
	}{
		"sieving.gained":         {sieve.Analysis{Warnings: []sieve.Code{sieve.Gain}}, false, 0.8},
		"sieving.lost":           {sieve.Analysis{Warnings: []sieve.Code{sieve.Loss}}, false, 0.7},
		"sieving.mixed_forms":    {sieve.Analysis{Warnings: []sieve.Code{sieve.MixedForms}}, false, 0.5},
		"sieving.coarse_top":     {sieve.Analysis{Warnings: []sieve.Code{sieve.CoarseTop}, Retained: []float64{0.03, 0.01}, Recovered: 0.04}, false, 0.4},
		"sieving.full_pan":       {sieve.Analysis{Warnings: []sieve.Code{sieve.FullPan}, Retained: []float64{0.01, 0.03}, Recovered: 0.04, Sieves: at(1)}, false, 0.4},
		"sieving.charge_unknown": {sieve.Analysis{Warnings: []sieve.Code{sieve.ChargeUnknown}}, false, 0.2},
		"sieving.wide_step":      {sieve.Analysis{Warnings: []sieve.Code{sieve.WideStep}, Sieves: at(4, 1)}, false, 0.3},
		"sieving.simple":         {sieve.Analysis{}, true, 0.25},
		"sieving.tare_forgotten": {sieve.Analysis{Doubts: make([]sieve.Doubt, 1), Warnings: []sieve.Code{sieve.Gain}}, false, 1},
	} {
		f := &sifting{a: c.a}
		f.out.Simple = c.simple
		if f.doubts(); len(f.out.Spoilers) != 1 || f.out.Spoilers[0].Code != code || f.out.Spoilers[0].Weight != c.weight {
			t.Errorf("%s: %+v", code, f.out.Spoilers)
			continue
		}
		if share, ok := f.out.Spoilers[0].Fact("share"); ok && strings.HasSuffix(code, "top") != (share.Value == 0.75) && strings.HasSuffix(code, "pan") != (share.Value == 0.75) {
			t.Errorf("%s: a share of %g", code, share.Value)
		}
	}
	all := &sifting{a: sieve.Analysis{Sieves: at(4, 1), Retained: []float64{0.1, 0, 0}, Recovered: 0.1, Warnings: []sieve.Code{sieve.WideStep, sieve.ChargeUnknown, sieve.MixedForms, sieve.Loss, sieve.CoarseTop}}}
	all.doubts()
	var told []string
	for _, x := range all.out.Spoilers {
		told = append(told, x.Code)
	}
	if got := strings.Join(told, " "); got != "sieving.lost sieving.mixed_forms sieving.coarse_top" {
		t.Errorf("%s lead", got)
	}
	narrow := &sifting{a: sieve.Analysis{Warnings: []sieve.Code{sieve.WideStep}, Sieves: at(1)}}
	if narrow.doubts(); len(narrow.out.Spoilers) != 0 {
		t.Errorf("one sieve has a gap: %+v", narrow.out.Spoilers)
	}
}

// Ticks stand at 1, 2 and 5 of each power, up to one beyond either end; those of the shares within half a decade.
func TestTicksOfTheNet(t *testing.T) {
	t.Parallel()
	for ends, want := range map[[2]float64]string{{0.9e-4, 1.1e-2}: "0.05 0.1 0.2 0.5 1 2 5 10 20", {1e-3, 1e-3}: "0.5 1 2", {3e-3, 4e-3}: "2 5", {0.98e-3, 1.02e-3}: "0.5 1 2"} {
		x, _ := netTicks([]answer.Points{{X: []float64{math.Log10(ends[0]), math.Log10(ends[1])}, Y: []float64{netY(0.5), netY(0.5)}}})
		var told []string
		for _, one := range x {
			told = append(told, fmt.Sprintf("%.3g", math.Pow(10, one.At)*1e3))
		}
		if got := strings.Join(told, " "); got != want {
			t.Errorf("from %g to %g m stand %s mm, wanted %s", ends[0], ends[1], got, want)
		}
	}
}

// How much lies within a doubling of size: of passing 0.1, 0.4 and 0.9 at 1, 2 and 8 mm it is 0.3, and 0.25 over each of two doublings.
func TestMassPerDoubling(t *testing.T) {
	t.Parallel()
	f := &sifting{a: sieve.Analysis{Sieves: []sieve.Sieve{{Opening: 8e-3}, {Opening: 2e-3}, {Opening: 1e-3}}, Passing: []float64{0.9, 0.4, 0.1}}}
	c := f.histogram()
	for i, want := range []float64{0.3, 0.3, 0.25, 0.25} {
		if math.Abs(c.Curves[0].Mid[i]-want) > 1e-12 {
			t.Errorf("heights %v", c.Curves[0].Mid)
			break
		}
	}
	for i, want := range []float64{1e-3, 2e-3, 0.1, 0.1} { // most of it from 1 to 2 mm, a tenth in the pan and a tenth on the top
		if math.Abs(c.Facts[i].Value-want) > 1e-12 {
			t.Errorf("%s is %g, by hand %g", c.Facts[i].Name, c.Facts[i].Value, want)
		}
	}
	f.a.Passing = []float64{0.9, 0.2, 0.1}
	if c := f.histogram(); c.Facts[0].Value != 2e-3 || c.Facts[1].Value != 8e-3 {
		t.Errorf("most of it from %g to %g m", c.Facts[0].Value, c.Facts[1].Value)
	}
}

// Odd stacks with every option are as approved: one or two sieves, no charge, losses, gains, tares, plates, portions, runs, pictures and lots laid over.
func TestOddStacksAreAsApproved(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	scrap := shoptest.Scrap("PLA", "black", 9)
	scrap.Lot = "S1"
	sieved := func(lot shop.LotID, charge, top, pan float64) *shop.Sieved {
		return &shop.Sieved{Lot: lot, Charge: charge, Series: shop.OwnSet, Holes: shop.WovenWire, Hole: p(3e-3), Sieves: []shop.OnSieve{{Opening: 2.8e-3, Mass: top}, {Opening: 2e-3, Mass: 0.03}, {Opening: 1e-3, Mass: 0.04}, {Opening: 0.5e-3, Mass: 0.028 - top - pan}}, Pan: pan}
	}
	run := func(into shop.LotID) *shop.Ground {
		return &shop.Ground{Mill: "Rattle", From: "S1", Into: into, Charge: 0.1, Product: p(0.095), Run: 90}
	}
	var all []shop.Body
	all = append(all, scrap, &shop.ScaleSet{Scale: shop.Scale{Name: "fine", Resolution: 1e-5}})
	for i := range 6 {
		lot := shop.LotID(fmt.Sprint("R", i+1))
		all = append(all, run(lot), sieved(lot, 0.1, 0.001*float64(i), 0.005), &shop.PassedMagnet{Lot: lot, Metal: 1e-6 * float64(1+i*i), Passed: p(0.09)})
	}
	all = append(all, sieved("R1", 0.1, 0.002, 0.006), sieved("R1", 0.099, 0.003, 0.004))
	s := shoptest.Bin(t, all...)
	stack := func(form sieve.Form, openings []float64, portions ...sieve.Portion) Stack {
		st := Stack{Stack: sieve.Stack{Portions: portions}, Name: "odd", Lot: "R1"}
		for _, x := range openings {
			one, err := sieve.Own(x, form)
			if err != nil {
				t.Fatal(err)
			}
			st.Sieves = append(st.Sieves, one)
		}
		return st
	}
	rows := func(charge float64, masses ...float64) sieve.Portion {
		po := sieve.Portion{Charge: charge}
		for _, m := range masses {
			po.Rows = append(po.Rows, sieve.Row{Mass: m})
		}
		return po
	}
	five := []float64{4e-3, 2.8e-3, 2e-3, 1e-3, 0.5e-3}
	pictured := stack(sieve.Woven, five, rows(0.1, 0, 0.01, 0.04, 0.04, 0.008, 0.002))
	pictured.Photo = &shop.Photographed{Grains: 300, Effective: 90, Shape: 0.8, Spread: 0.1, Seen: 0.3e-3, Weighed: true}
	few := pictured
	few.Photo = &shop.Photographed{Grains: 3, Effective: 0.6, Shape: 0.8, Spread: 0.3, Seen: 0.3e-3}
	long := stack(sieve.Woven, five, rows(0.1, 0, 0.01, 0.04, 0.04, 0.008, 0.002))
	long.Long, long.Hole, long.Run = new(int), p(2.5e-3), s.Lots.At("R1").Records[0]
	*long.Long = 4
	var out strings.Builder
	for i, st := range []Stack{
		stack(sieve.Woven, five, rows(0.1, 0, 0.01, 0.04, 0.04, 0.008, 0.002)), stack(sieve.PlateRound, five, rows(0.1, 0.02, 0.01, 0.03, 0.03, 0.008, 0.002)), stack(sieve.PlateSquare, five, rows(0, 0, 0.01, 0.04, 0.04, 0.008, 0.002)),
		stack(sieve.Woven, five, rows(0.1, 0, 0.01, 0.04, 0.03, 0.008, 0.002)), stack(sieve.Woven, five, rows(0.1, 0, 0.01, 0.04, 0.045, 0.008, 0.002)), stack(sieve.Woven, []float64{1e-3}, rows(0.1, 0.07, 0.03)), stack(sieve.Woven, []float64{2e-3, 0.5e-3}, rows(0.1, 0.05, 0.04, 0.01)),
		stack(sieve.Woven, []float64{2e-3, 0.5e-3}, rows(0, 0.05, 0.04, 0.01)), stack(sieve.Woven, five, rows(0.1, 0.01, 0.01, 0.03, 0.04, 0.008, 0.002), rows(0.05, 0, 0.005, 0.02, 0.02, 0.004, 0.001)), stack(sieve.Woven, []float64{8e-3, 1e-3, 0.1e-3}, rows(0.1, 0, 0.06, 0.039, 0.001)),
		stack(sieve.Woven, five, rows(0.1, 0.099, 0.0005, 0.0005, 0, 0, 0)), pictured, few, long, stack(sieve.Woven, []float64{4e-3, 2e-3, 1e-3}, rows(0.1, 0, 0.09, 0.009, 0.001)),
	} {
		for k, o := range []Options{{Fines: 0.9e-3, Coarse: 2.5e-3, Equal: true, With: []shop.LotID{"R2", "R5"}}, {Books: true, Pool: true, With: []shop.LotID{"R1"}}} {
			a, err := Of(s, st, o)
			if err != nil {
				fmt.Fprintf(&out, "%d %d refused %s\n", i, k, strings.Fields(err.Error() + " -")[0])
				continue
			}
			fmt.Fprintf(&out, "%d %d %s: %s; %s; %s\n", i, k, a.Head.Code, checkrow.Whole(t, a.Document), checkrow.Whole(t, []any{a.Rows, a.Sizes, a.Fits}), checkrow.Whole(t, a.Screen))
		}
	}
	for _, e := range s.Sievings("R1") {
		a, err := OfRecord(s, e.ID, Options{Pool: true, With: []shop.LotID{"R1", "R3"}})
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&out, "record %d: %s; %d charts of %d points\n", e.ID, checkrow.Whole(t, a), len(a.Charts), len(a.Charts[0].Points))
	}
	state, err := Screen(s, "Rattle")
	if err != nil {
		t.Fatal(err)
	}
	if state.Metal == nil || math.Abs(state.Metal.FalseAlarm.Value-falseAlarm) > 1e-15 || state.Metal.Passes != 6 {
		t.Errorf("%+v", state.Metal)
	}
	fmt.Fprintf(&out, "screen %s\n", checkrow.Whole(t, state))
	checkrow.ApprovedText(t, "odd", out.String())
}
