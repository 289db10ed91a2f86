package fit_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"hopperful/figure"
	"hopperful/plan/fit"
	"hopperful/plan/traceability"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// known finds a figure of the answer by its key, among items, inputs and the
// background.
func known(t testing.TB, f fit.Fitness, key string) figure.Figure {
	t.Helper()
	all := append([]figure.Figure{}, figuresOf(f)...)
	for _, x := range f.Items {
		all = append(all, *x.Figure)
		all = append(all, x.Figure.Inputs...)
	}
	for _, x := range append(all, f.Settings...) {
		if x.Key == key {
			return x
		}
	}
	t.Fatalf("no figure %s", key)
	return figure.Figure{}
}

func width(f figure.Figure) float64 { return math.Log(f.High / f.Low) }

var vasePLA = fit.Request{Lot: "R1", Need: vase(0.3, "PLA")}

// figuresOf are the figures behind a check, in the reasons of its answer.
func figuresOf(f fit.Fitness) []figure.Figure {
	var all []figure.Figure
	for _, r := range f.Document.Reasons {
		all = append(all, r.Figures...)
	}
	return all
}

func TestBlockedNozzlesTeach(t *testing.T) {
	t.Parallel()
	base := judge(t, ground(t, "PLA", &shop.Printed{From: "R1", Print: "a", Mass: 0.1, Good: shop.Yes}), vasePLA)
	worse := judge(t, ground(t, "PLA", &shop.Printed{From: "R1", Print: "a", Mass: 0.1, Good: shop.Yes},
		&shop.Happened{What: shop.BlockedNozzle, Printer: "Puddle", Lot: "R1"}, &shop.Happened{What: shop.BlockedNozzle, Printer: "Puddle", Lot: "R1"}), vasePLA)
	better := judge(t, ground(t, "PLA", &shop.Printed{From: "R1", Print: "a", Mass: 0.7, Good: shop.Yes}), vasePLA)
	b, w, g := itemOf(t, base, "open"), itemOf(t, worse, "open"), itemOf(t, better, "open")
	if !(w.Chance < b.Chance && b.Chance < g.Chance) {
		t.Errorf("chances %g after two blocks, %g, %g after more clean grams", w.Chance, b.Chance, g.Chance)
	}
	if before, after := itemOf(t, base, "metal"), itemOf(t, worse, "metal"); after.Figure.Value <= before.Figure.Value || after.Chance > before.Chance {
		t.Errorf("metal %g after two blocks, %g before", after.Figure.Value, before.Figure.Value)
	}
	if !(w.Figure.Value > b.Figure.Value) || len(w.Figure.Records) != 2 || !says(w.Says, "fit.blocked") {
		t.Errorf("rate %g after %g, records %v, %q", w.Figure.Value, b.Figure.Value, w.Figure.Records, w.Says.Code)
	}
}

func TestFlowTestsTeach(t *testing.T) {
	t.Parallel()
	plainly := judge(t, ground(t, "PLA"), vasePLA)
	cuts := judge(t, ground(t, "PLA", &shop.FlowTested{Lot: "R1", Load: shoptest.P(2.16), Temperature: shoptest.P(483.15), CutTime: shoptest.P(20), Cuts: []float64{0.6e-3, 0.62e-3, 0.59e-3}}), vasePLA)
	was, is := known(t, plainly, "runny"), known(t, cuts, "runny")
	if width(is) > width(was)/3 || is.Basis != figure.Learned {
		t.Errorf("runny %g to %g, was %g to %g", is.Low, is.High, was.Low, was.High)
	}
	if !itemOf(t, cuts, "pressure").Known {
		t.Error("a melt-flow test leaves the pressure unknown")
	}
	// 20 turns of 0.15 g: a melt of 0.9 to 1.2 g/cm³ is 0.12 to 0.17 ml a turn.
	turned := judge(t, ground(t, "PLA", &shop.FlowTested{Lot: "R1", Printer: "Puddle", Screw: shoptest.P(2 * math.Pi / 3), Time: shoptest.P(60), Extruded: shoptest.P(0.003)},
		&shop.FlowTested{Lot: "R1", Printer: "Puddle", Screw: shoptest.P(2 * math.Pi / 3), Time: shoptest.P(60), Extruded: shoptest.P(0.00305)}), vasePLA)
	turn := known(t, turned, "per_turn")
	if turn.Value < 0.12e-6 || turn.Value > 0.17e-6 || turn.Basis != figure.Measured {
		t.Errorf("a turn gives %g m³, %s", turn.Value, turn.Basis)
	}
	if x := itemOf(t, turned, "takes_in"); !x.Known || width(*x.Figure) >= width(*itemOf(t, plainly, "takes_in").Figure) {
		t.Errorf("weighed turns leave the intake as it was: %+v", x)
	}
}

func TestDryingTeaches(t *testing.T) {
	t.Parallel()
	fine := &shop.ScaleSet{Scale: shop.Scale{Name: "fine", Resolution: 1e-5, Capacity: shoptest.P(2)}}
	dried := func(in, out *float64, hours float64) fit.Fitness {
		return judge(t, ground(t, "PLA", fine, &shop.Dried{Lot: "R1", Way: shop.DryAir, Temperature: 320.15, Time: hours * 3600, In: in, Out: out}), vasePLA)
	}
	wet := itemOf(t, judge(t, ground(t, "PLA"), vasePLA), "dry")
	short, long := itemOf(t, dried(nil, nil, 0.05), "dry"), itemOf(t, dried(nil, nil, 24), "dry")
	if !(wet.Chance <= short.Chance && short.Chance < long.Chance && long.Known) {
		t.Errorf("dry: %g undried, %g after minutes, %g after a day", wet.Chance, short.Chance, long.Chance)
	}
	// Half a gram out of a kilogram in half an hour: slower than the books say.
	slow := dried(shoptest.P(1), shoptest.P(0.99970), 0.5)
	books := dried(nil, nil, 0.5)
	if a, b := known(t, slow, "water_diffusivity"), known(t, books, "water_diffusivity"); a.Value >= b.Value || width(a) >= width(b) {
		t.Errorf("diffusivity %g (%g to %g), the books have %g (%g to %g)", a.Value, a.Low, a.High, b.Value, b.Low, b.High)
	}
	// More water left than the books' plastic holds: it was wetter.
	soaked := dried(shoptest.P(1), shoptest.P(0.990), 24)
	if a, b := known(t, soaked, "water"), known(t, books, "water"); a.Value <= b.Value {
		t.Errorf("water %g, the books have %g", a.Value, b.Value)
	}
}

func TestSievesAndJarsTeach(t *testing.T) {
	t.Parallel()
	sieved := judge(t, ground(t, "PLA", &shop.Sieved{Lot: "R1", Charge: 0.1, Series: shop.OwnSet, Holes: shop.WovenWire,
		Sieves: []shop.OnSieve{{Opening: 4e-3, Mass: 0.01}, {Opening: 2e-3, Mass: 0.05}, {Opening: 1e-3, Mass: 0.02}, {Opening: 0.5e-3, Mass: 0.01}}, Pan: 0.01}), vasePLA)
	// A tenth is coarser than 4 mm and the top class is open: half as much again.
	if top := known(t, sieved, "d95"); top.Value < 4e-3 || !itemOf(t, sieved, "sizes").Known {
		t.Errorf("d95 %g", top.Value)
	}
	if fines := known(t, sieved, "fines"); math.Abs(fines.Value-0.1) > 1e-9 {
		t.Errorf("fines %g", fines.Value)
	}
	after := judge(t, ground(t, "PLA", &shop.Sieved{Lot: "R1", Charge: 0.1, Series: shop.OwnSet, Holes: shop.WovenWire, Sieves: []shop.OnSieve{{Opening: 0.5e-3, Mass: 0.09}}, Pan: 0.01},
		&shop.Dedusted{Lot: "R1", Dust: 0.1, Opening: shoptest.P(0.5e-3)}), vasePLA)
	if fines := known(t, after, "fines"); fines.Value > 0.02 {
		t.Errorf("fines %g after the dust was taken off", fines.Value)
	}
	light := known(t, judge(t, ground(t, "PLA", &shop.JarWeighed{Lot: "R1", Jar: 200e-6, Poured: 0.07}, &shop.JarWeighed{Lot: "R1", Jar: 200e-6, Poured: 0.072}), vasePLA), "bulk_density")
	if math.Abs(light.Value-355) > 2 || light.Basis != figure.Measured || len(light.Records) != 2 {
		t.Errorf("bulk density %g, %s", light.Value, light.Basis)
	}
	books := known(t, judge(t, ground(t, "PLA"), vasePLA), "bulk_density")
	heavy := judge(t, ground(t, "PLA", &shop.JarWeighed{Lot: "R1", Jar: 200e-6, Poured: 0.188}), vasePLA)
	if got := known(t, heavy, "bulk_density"); got.Value != books.Value {
		t.Errorf("a jar that cannot be counts: %g", got.Value)
	}
	if s := heavy.Document.Spoilers[0]; s.Code == "" || len(s.Remedies) == 0 || strings.HasPrefix(s.Code, "fit.") {
		t.Errorf("the jar is not asked about: %q", s.Code)
	}
}

func TestMetalIsFollowed(t *testing.T) {
	t.Parallel()
	clean := itemOf(t, judge(t, ground(t, "PLA"), vasePLA), "metal")
	s := shoptest.Scrap("PLA", "black", 3)
	s.Lot, s.Metal = "S1", "brass inserts"
	uncut := judge(t, shoptest.Bin(t, &shop.PrinterSet{Printer: puddle()}, s, &shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.9, Product: shoptest.P(0.85), Run: 120}), vasePLA)
	x := itemOf(t, uncut, "metal")
	if x.Chance >= clean.Chance || x.Says.Text("metal") != "brass inserts" || x.Change.Do.Code != "fit.pick_over" {
		t.Errorf("uncut inserts: %+v, clean %g", x, clean.Chance)
	}
	passed := itemOf(t, judge(t, ground(t, "PLA", &shop.PassedMagnet{Lot: "R1", Metal: 0, Passed: shoptest.P(1.1)}), vasePLA), "metal")
	if passed.Chance < clean.Chance {
		t.Errorf("a pass by the magnet made it worse: %g after %g", passed.Chance, clean.Chance)
	}
	if itemOf(t, uncut, "open").Says.Empty() {
		t.Error("nothing said")
	}
	plainly := itemOf(t, judge(t, ground(t, "PLA"), fit.Request{Lot: "R1", Need: vase(0.3, "PLA"), Nozzle: shoptest.P(1e-3)}), "open")
	if !says(plainly.Says, "fit.nozzle_below_screen") {
		t.Errorf("a nozzle below the screen hole is not named: %q", plainly.Says.Code)
	}
}

func TestBridgesAndGoodPrintsSpeak(t *testing.T) {
	t.Parallel()
	base := itemOf(t, judge(t, ground(t, "PLA"), vasePLA), "runs")
	bridged := itemOf(t, judge(t, ground(t, "PLA", &shop.Happened{What: shop.BridgedHopper, Printer: "Puddle", Lot: "R1"},
		&shop.Happened{What: shop.BridgedHopper, Printer: "Puddle", Lot: "R1"}), vasePLA), "runs")
	var good []shop.Body
	for i := range 8 {
		good = append(good, &shop.Printed{From: "R1", Print: fmt.Sprint("clip ", i), Mass: 0.02, Good: shop.Yes})
	}
	ran := itemOf(t, judge(t, ground(t, "PLA", good...), vasePLA), "runs")
	if !(bridged.Chance < base.Chance && ran.Chance >= base.Chance && bridged.Known && ran.Known) {
		t.Errorf("runs: %g bridged, %g, %g after good prints", bridged.Chance, base.Chance, ran.Chance)
	}
	failed := judge(t, ground(t, "PLA", &shop.Printed{From: "R1", Print: "lid", Mass: 0.1, Good: shop.No, Why: "bubbles"}), vasePLA)
	if failed.Document.Spoilers[0].Text("why") != "bubbles" {
		t.Errorf("the failed print is not named: %v", failed.Document.Spoilers)
	}
}

// Water in the melt weakens a polyester, as the age of the lot says, and does
// nothing to ABS; the answer says so.
func TestDampPrintsWeaken(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		polymer string
		weaker  bool
	}{{"PLA", true}, {"ABS", false}} {
		var kept [2]fit.Item
		for i, water := range []float64{0.0002, 0.006} {
			s := shoptest.Bin(t, &shop.PrinterSet{Printer: puddle()}, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: c.polymer, Sure: shoptest.P(1), Mass: 5},
				&shop.Printed{From: "V1", Into: "P1", Print: "cup", Mass: 1, Moisture: &water, Good: shop.No, Why: "warped"},
				&shop.Sorted{From: "P1", Into: []shop.Part{{Lot: "S1", Mass: 1}}},
				&shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.9, Product: shoptest.P(0.9), Run: 120})
			kept[i] = itemOf(t, judge(t, s, fit.Request{Lot: "R1", Need: vase(0.1, c.polymer)}), "strength")
			age, err := traceability.AgeOf(s, "R1")
			if err != nil {
				t.Fatal(err)
			}
			// The age adds its ends by squares, wider than the draws of something as lopsided.
			if a, b := age.Strength, kept[i].Figure; math.Abs(a.Value-b.Value) > 0.03 || b.Low < a.Low-0.02 || b.High > a.High+0.02 {
				t.Errorf("%s with %g of water: the age says %.3f (%.3f to %.3f), the check %.3f (%.3f to %.3f)", c.polymer, water, a.Value, a.Low, a.High, b.Value, b.Low, b.High)
			}
		}
		dry, wet := kept[0], kept[1]
		if damp := says(wet.Says, "fit.past_wet"); damp != c.weaker || says(dry.Says, "fit.past_wet") {
			t.Errorf("%s: %q, dry %q", c.polymer, wet.Says.Code, dry.Says.Code)
		}
		if loses := dry.Figure.Value-wet.Figure.Value > 0.05; loses != c.weaker {
			t.Errorf("%s keeps %g printed dry, %g damp", c.polymer, dry.Figure.Value, wet.Figure.Value)
		}
	}
}

// A print that is ground and printed again has one pass more, by record.
func TestPassesAreCounted(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.PrinterSet{Printer: puddle()}, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "ABS", Sure: shoptest.P(1), Mass: 5},
		&shop.Printed{From: "V1", Into: "P1", Print: "cup", Mass: 1, Good: shop.No, Why: "warped"},
		&shop.Sorted{From: "P1", Into: []shop.Part{{Lot: "S1", Mass: 1}}},
		&shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.9, Product: shoptest.P(0.9), Run: 120},
		&shop.Printed{From: "R1", Into: "P2", Print: "cup", Mass: 0.5, Good: shop.No, Why: "warped"},
		&shop.Sorted{From: "P2", Into: []shop.Part{{Lot: "S2", Mass: 0.5}}},
		&shop.Weighed{Lot: "R1", Mass: 0.45},
		&shop.Ground{Mill: "Rattle", From: "S2", Into: "R2", Charge: 0.5, Product: shoptest.P(0.45), Run: 120, Left: shoptest.P(0)})
	for lot, want := range map[shop.LotID]float64{"V1": 0, "R1": 1, "R2": 2} {
		f := judge(t, s, fit.Request{Lot: lot, Need: vase(0.1, "ABS")})
		if got := known(t, f, "passes").Value; math.Abs(got-want) > 0.05 { // what stayed in the mill mixes with the next charge
			t.Errorf("%s: %g passes, want %g", lot, got, want)
		}
	}
	one, two := itemOf(t, judge(t, s, fit.Request{Lot: "R1", Need: vase(0.1, "ABS")}), "strength"), itemOf(t, judge(t, s, fit.Request{Lot: "R2", Need: vase(0.1, "ABS")}), "strength")
	if two.Figure.Value > one.Figure.Value {
		t.Errorf("two passes leave %g, one %g", two.Figure.Value, one.Figure.Value)
	}
	// Cress2021 a tenth weaker after three rounds, Researcherlife2026 5.93 % after one,
	// Perez2010, of mouldings, which count a quarter, the same after ten: (0.9 × 0.9407 × 1)^(1/6.5) = 0.975 a pass.
	if one.Figure.Value < 0.967 || one.Figure.Value > 0.982 {
		t.Errorf("one pass leaves %g", one.Figure.Value)
	}
}

// A lot that a damaged part may have spoilt says so first, with how to check it, until
// it is checked.
func TestAMarkedLotSaysSo(t *testing.T) {
	t.Parallel()
	run := &shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.5, Product: shoptest.P(0.5), Run: 120}
	torn := &shop.Serviced{Mill: "Rattle", Part: shop.ScreenPart, What: shop.FoundDamaged, Sound: shop.No}
	sieved := &shop.Sieved{Lot: "R1", Charge: 0.02, Series: shop.OwnSet, Holes: shop.WovenWire, Pan: 0.005, Sieves: []shop.OnSieve{{Opening: 4e-3, Mass: 0}, {Opening: 1e-3, Mass: 0.015}}}
	first := func(more ...shop.Body) string {
		s := shoptest.Bin(t, append([]shop.Body{shoptest.Scrap("PLA", "black", 3), run}, more...)...)
		f, err := fit.Judge(s, fit.Request{Lot: "R1", Need: shop.Need{Name: "hook", Mass: shoptest.P(0.1)}})
		if err != nil {
			t.Fatal(err)
		}
		if len(f.Document.Spoilers) == 0 {
			return ""
		}
		return f.Document.Spoilers[0].Code
	}
	if got := first(torn); got != "fit.marked" {
		t.Errorf("after a torn screen: %s", got)
	}
	if first() == "fit.marked" || first(torn, sieved) == "fit.marked" {
		t.Error("marked without damage, or although it was sieved since")
	}
}
