package fit_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/fit"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// puddle is a granule printer of our own invention.
func puddle() shop.Printer {
	return shop.Printer{Name: "Puddle", Nozzle: shoptest.P(1.2e-3), ScrewBore: shoptest.P(16e-3), HeaterWatt: shoptest.P(220), HopperExit: shoptest.P(30e-3), LargestIn: shoptest.P(3e-3)}
}

// ground is a shop with a lot R1 of regrind out of Rattle, and more.
func ground(t testing.TB, polymer string, more ...shop.Body) *shop.State {
	t.Helper()
	s := shoptest.Scrap(polymer, "black", 3)
	s.Lot = "S1"
	return shoptest.Bin(t, append([]shop.Body{&shop.PrinterSet{Printer: puddle()}, s,
		&shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.6, Product: shoptest.P(0.55), Run: 120},
		&shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.6, Product: shoptest.P(0.55), Run: 120}}, more...)...)
}

// vase is a typed need with its flows.
func vase(mass float64, polymer string) shop.Need {
	return shop.Need{Name: "vase", From: "typed", Mass: shoptest.P(mass), Polymer: polymer, MeanFlow: shoptest.P(12e-9), PeakFlow: shoptest.P(20e-9)}
}

func judge(t testing.TB, s *shop.State, req fit.Request) fit.Fitness {
	t.Helper()
	if req.Now.IsZero() {
		req.Now = shoptest.Noon
	}
	if req.Draws == 0 {
		req.Draws = 50
	}
	f, err := fit.Judge(s, req)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func itemOf(t testing.TB, f fit.Fitness, key string) fit.Item {
	t.Helper()
	for _, x := range f.Items {
		if x.Key == key {
			return x
		}
	}
	t.Fatalf("no item %s in %q", key, f.Document.Head.Code)
	return fit.Item{}
}

var questions = []string{"enough", "polymer", "metal", "sizes", "dry", "runs", "takes_in", "melts", "pressure", "open", "strength"}

// says reports whether a saying is that, or is made of it.
func says(s fact.Saying, code string) bool {
	if s.Code == code {
		return true
	}
	for _, f := range s.Facts {
		for _, p := range f.Parts {
			if says(p, code) {
				return true
			}
		}
	}
	return false
}

// whole holds what every answer must be.
func whole(t testing.TB, f fit.Fitness) {
	t.Helper()
	var keys []string
	for _, x := range f.Items {
		keys = append(keys, x.Key)
		if x.Figure == nil || x.Figure.Limit == nil || figure.Check(*x.Figure) != nil {
			t.Errorf("%s has no sound figure with a limit", x.Key)
		}
		if x.Chance < 0 || x.Chance > 1 || x.Question.Empty() || x.Says.Empty() || x.Change != nil && x.Change.Do.Empty() {
			t.Errorf("%s: chance %g, %q %q", x.Key, x.Chance, x.Question.Code, x.Says.Code)
		}
		if !x.Known && (x.Verdict == answer.Yes || x.Verdict == answer.No) {
			t.Errorf("%s: %s from books alone", x.Key, x.Verdict)
		}
		if (x.Verdict == answer.Yes) != (x.Change == nil) {
			t.Errorf("%s: %s with the remedy %v", x.Key, x.Verdict, x.Change)
		}
		if x.Verdict == answer.Unknown && (x.Change.Kind != fit.Measure || x.Change.Time <= 0) {
			t.Errorf("%s is not known yet and no test is named: %+v", x.Key, *x.Change)
		}
		// All at once is never likelier than any single answer, but for the
		// hopper, whose records speak beside the draws.
		if x.Key != "runs" && f.Chance.Value > x.Chance+0.1 {
			t.Errorf("%s has a chance of %g, all of it %g", x.Key, x.Chance, f.Chance.Value)
		}
	}
	if !slices.Equal(keys, questions) {
		t.Errorf("questions %v", keys)
	}
	if !slices.Contains(keys, f.Decides) || itemOf(t, f, f.Decides).Verdict != f.Verdict {
		t.Errorf("%q decides %s", f.Decides, f.Verdict)
	}
	d := f.Document
	if len(d.Steps) == 0 || len(d.Spoilers) > 3 || len(d.Figures) > 6 || len(f.Settings) < len(d.Figures) || len(d.Charts) == 0 || len(d.Cautions) == 0 || len(d.Limits) != len(f.Items) || len(d.Tables[len(d.Tables)-1].Rows) != len(f.Items) {
		t.Errorf("%d steps, %d spoilers, %d figures, %d charts, %d cautions", len(d.Steps), len(d.Spoilers), len(d.Figures), len(d.Charts), len(d.Cautions))
	}
	if _, err := json.Marshal(f); err != nil {
		t.Error(err)
	}
}

func TestFitAsksEveryQuestionOfEveryPolymer(t *testing.T) {
	t.Parallel()
	for _, polymer := range []string{"PLA", "PETG", "PET", "ABS", "ASA", "HIPS", "PC", "PP", "PE-HD", "PA6", "PA12", "TPU", "PVA"} {
		t.Run(polymer, func(t *testing.T) {
			t.Parallel()
			whole(t, judge(t, ground(t, polymer), fit.Request{Lot: "R1", Need: vase(0.3, polymer), Draws: 40}))
		})
	}
}

// A lot of which only the name is known, in a shop that knows nothing else, for
// a print of which only the mass is known.
func TestFitWithoutAnyData(t *testing.T) {
	t.Parallel()
	s, err := shop.Fold([]shop.Record{{ID: 1, At: shoptest.Noon, Body: &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 0.5}}})
	if err != nil {
		t.Fatal(err)
	}
	f := judge(t, s, fit.Request{Lot: "R1", Need: shop.Need{From: "typed", Mass: shoptest.P(0.2)}, Now: shoptest.Noon.AddDate(0, 0, 1)})
	whole(t, f)
	for _, x := range f.Items {
		if x.Key != "enough" && (x.Known || x.Verdict == answer.Yes || x.Verdict == answer.No) {
			t.Errorf("%s is %s though nobody knows anything", x.Key, x.Verdict)
		}
	}
	if itemOf(t, f, "polymer").Verdict != answer.Unknown {
		t.Errorf("nobody said how sure the polymer is: %s", itemOf(t, f, "polymer").Verdict)
	}
}

func TestFitIsTheSameForTheSameSeed(t *testing.T) {
	t.Parallel()
	s := ground(t, "PETG")
	var texts [2]string
	for i := range texts {
		text, err := json.Marshal(judge(t, s, fit.Request{Lot: "R1", Need: vase(0.3, "PETG"), Seed: 7}))
		if err != nil {
			t.Fatal(err)
		}
		texts[i] = string(text)
	}
	if texts[0] != texts[1] {
		t.Error("the same seed gave two answers")
	}
}

// proven are the records after which nothing is left to doubt: virgin PP,
// weighed, sieved, tested and printed.
func proven(t testing.TB, sure float64) *shop.State {
	t.Helper()
	all := []shop.Body{&shop.ScaleSet{Scale: shop.Scale{Name: "fine", Resolution: 1e-6, Capacity: shoptest.P(0.2)}},
		&shop.PrinterSet{Printer: shop.Printer{Name: "Puddle", Nozzle: shoptest.P(3e-3), ScrewBore: shoptest.P(20e-3), HeaterWatt: shoptest.P(400), HopperExit: shoptest.P(60e-3), LargestIn: shoptest.P(6e-3)}},
		&shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PP", Sure: shoptest.P(sure), Halogen: shop.No, Mass: 25},
		&shop.Sieved{Lot: "V1", Charge: 0.1, Series: shop.OwnSet, Holes: shop.WovenWire, Sieves: []shop.OnSieve{{Opening: 5e-3, Mass: 0}, {Opening: 4e-3, Mass: 0.03}, {Opening: 3e-3, Mass: 0.06}, {Opening: 0.5e-3, Mass: 0.0099}}, Pan: 1e-4},
		&shop.PassedMagnet{Lot: "V1", Metal: 0, Passed: shoptest.P(1)},
		&shop.Dried{Lot: "V1", Way: shop.Oven, Temperature: 330, Time: 7200},
		&shop.FlowTested{Lot: "V1", Load: shoptest.P(2.16), Temperature: shoptest.P(503.15), CutTime: shoptest.P(30), Cuts: []float64{0.5e-3, 0.5e-3, 0.49e-3, 0.51e-3}},
	}
	for range 3 {
		all = append(all, &shop.FlowTested{Lot: "V1", Printer: "Puddle", Screw: shoptest.P(3), Time: shoptest.P(60), Extruded: shoptest.P(0.012)})
	}
	for i := range 30 {
		all = append(all, &shop.Printed{From: "V1", Print: fmt.Sprintf("cup %d", i), Mass: 0.4, Good: shop.Yes})
	}
	return shoptest.Bin(t, all...)
}

func TestEveryVerdictCanBeReached(t *testing.T) {
	t.Parallel()
	sure := func(share float64) *shop.State {
		return shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PP", Sure: shoptest.P(share), Mass: 1})
	}
	cup := shop.Need{Name: "cup", From: "typed", Mass: shoptest.P(0.3), Polymer: "PP", MeanFlow: shoptest.P(20e-9), PeakFlow: shoptest.P(30e-9)}
	for _, c := range []struct {
		name string
		s    *shop.State
		req  fit.Request
		want answer.Verdict
	}{
		{"all proven", proven(t, 1), fit.Request{Lot: "V1", Need: cup, Draws: 240}, answer.Yes},
		{"all proven but the polymer", proven(t, 0.85), fit.Request{Lot: "V1", Need: cup, Draws: 240}, answer.Likely},
		{"nothing measured", ground(t, "PP"), fit.Request{Lot: "R1", Need: vase(0.3, "PP")}, answer.Unknown},
		{"too little pressure to spare", ground(t, "PP"), fit.Request{Lot: "R1", Need: vase(0.3, "PP"), Nozzle: shoptest.P(0.3e-3)}, answer.Unlikely},
		{"too little of it", sure(0.99), fit.Request{Lot: "R1", Need: shop.Need{From: "typed", Mass: shoptest.P(3)}}, answer.No},
	} {
		f := judge(t, c.s, c.req)
		whole(t, f)
		if f.Verdict != c.want {
			t.Errorf("%s: %s, want %s: %s", c.name, f.Verdict, c.want, f.Document.Head.Code)
		}
		if (f.Verdict == answer.Yes) != (f.Document.Head.Code == "fit.is_fit") {
			t.Errorf("%s: %q", c.name, f.Document.Head.Code)
		}
	}
}

// What makes things worse never makes an answer better.
func TestFitIsMonotone(t *testing.T) {
	t.Parallel()
	humid := func(rh float64) *shop.State {
		return ground(t, "PETG", &shop.ShopSet{Name: "Test bench", RoomTemperature: shoptest.P(293.15), RoomHumidity: shoptest.P(rh)})
	}
	exit := func(d float64) *shop.State {
		one := puddle()
		one.HopperExit = shoptest.P(d)
		return ground(t, "PETG", &shop.PrinterSet{Printer: one})
	}
	screen := func(hole float64) *shop.State {
		return ground(t, "PETG", &shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.5, Product: shoptest.P(0.45), Run: 60, Hole: shoptest.P(hole)})
	}
	ask := fit.Request{Lot: "R1", Need: vase(0.3, "PETG"), Draws: 20}
	with := func(change func(*fit.Request)) fit.Request { r := ask; change(&r); return r }
	plain := humid(0.5)
	for _, c := range []struct {
		name, item string
		steps      []func() fit.Fitness // each worse than the one before
	}{
		{"wetter air", "dry", runs(t, ask, humid(0), humid(0.1), humid(0.3), humid(0.6), humid(1))},
		{"smaller exit", "runs", runs(t, ask, exit(0.08), exit(0.05), exit(0.03), exit(0.02), exit(0.01))},
		{"coarser screen", "open", runs(t, ask, screen(0.003), screen(0.004), screen(0.006))},
		{"finer nozzle", "open", asks(t, plain, with(func(r *fit.Request) { r.Nozzle = shoptest.P(4e-3) }), with(func(r *fit.Request) { r.Nozzle = shoptest.P(2e-3) }), with(func(r *fit.Request) { r.Nozzle = shoptest.P(1e-3) }), with(func(r *fit.Request) { r.Nozzle = shoptest.P(0.4e-3) }))},
		{"finer nozzle", "pressure", asks(t, plain, with(func(r *fit.Request) { r.Nozzle = shoptest.P(4e-3) }), with(func(r *fit.Request) { r.Nozzle = shoptest.P(1e-3) }), with(func(r *fit.Request) { r.Nozzle = shoptest.P(0.4e-3) }))},
		{"colder melt", "pressure", asks(t, plain, with(func(r *fit.Request) { r.Temperature = shoptest.P(540) }), with(func(r *fit.Request) { r.Temperature = shoptest.P(515) }), with(func(r *fit.Request) { r.Temperature = shoptest.P(495) }))},
		{"larger print", "open", asks(t, plain, with(func(r *fit.Request) { r.Need = vase(0.1, "PETG") }), with(func(r *fit.Request) { r.Need = vase(0.5, "PETG") }), with(func(r *fit.Request) { r.Need = vase(5, "PETG") }))},
		{"larger print", "enough", asks(t, plain, with(func(r *fit.Request) { r.Need = vase(0.1, "PETG") }), with(func(r *fit.Request) { r.Need = vase(1.05, "PETG") }), with(func(r *fit.Request) { r.Need = vase(5, "PETG") }))},
		{"faster print", "takes_in", asks(t, plain, with(fast(5e-9)), with(fast(50e-9)), with(fast(400e-9)), with(fast(5e-6)))},
		{"faster print", "melts", asks(t, plain, with(fast(5e-9)), with(fast(100e-9)), with(fast(400e-9)), with(fast(5e-6)))},
		{"more asked of it", "strength", asks(t, plain, with(func(r *fit.Request) { r.Strength = shoptest.P(0.5) }), with(func(r *fit.Request) { r.Strength = shoptest.P(0.95) }), with(func(r *fit.Request) { r.Strength = shoptest.P(1) }))},
	} {
		before := 1.0
		for i, f := range c.steps {
			x := itemOf(t, f(), c.item)
			if x.Chance > before+1e-12 {
				t.Errorf("%s, step %d: %s rose from %g to %g", c.name, i, c.item, before, x.Chance)
			}
			before = x.Chance
		}
	}
}

func fast(flow float64) func(*fit.Request) {
	return func(r *fit.Request) { r.Need.MeanFlow, r.Need.PeakFlow = shoptest.P(flow), shoptest.P(1.5*flow) }
}

func runs(t testing.TB, req fit.Request, states ...*shop.State) []func() fit.Fitness {
	var all []func() fit.Fitness
	for _, s := range states {
		all = append(all, func() fit.Fitness { return judge(t, s, req) })
	}
	return all
}

func asks(t testing.TB, s *shop.State, reqs ...fit.Request) []func() fit.Fitness {
	var all []func() fit.Fitness
	for _, r := range reqs {
		all = append(all, func() fit.Fitness { return judge(t, s, r) })
	}
	return all
}

func TestFitRefusesToMelt(t *testing.T) {
	t.Parallel()
	lot := func(l shop.TakenIn) *shop.State {
		l.Lot, l.Class, l.Mass = "R1", shop.Regrind, 1
		return shoptest.Bin(t, &l)
	}
	blend := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Sure: shoptest.P(1), Mass: 1}, &shop.TakenIn{Lot: "R2", Class: shop.Regrind, Polymer: "ABS", Sure: shoptest.P(1), Mass: 1},
		&shop.Blended{From: []shop.Portion{{Lot: "R1", Mass: 0.5}, {Lot: "R2", Mass: 0.1}}, Into: "B1", Polymer: "PLA"})
	for _, c := range []struct {
		name string
		s    *shop.State
		lot  shop.LotID
		says string
	}{
		{"halogen", lot(shop.TakenIn{Polymer: "ABS", Halogen: shop.Yes}), "R1", "bar.halogen"},
		{"nobody knows", lot(shop.TakenIn{}), "R1", "bar.unknown"},
		{"called unknown", lot(shop.TakenIn{Polymer: "unknown"}), "R1", "bar.unknown"},
		{"PVC", lot(shop.TakenIn{Polymer: "PVC"}), "R1", "bar.plastic"},
		{"PLA with ABS", blend, "B1", "fit.mixed"},
	} {
		f := judge(t, c.s, fit.Request{Lot: c.lot, Need: shop.Need{From: "typed", Mass: shoptest.P(0.1)}})
		if (f.Refused != nil) == f.Mixed || f.Verdict != answer.No || len(f.Items) != 0 || len(f.Settings) != 0 || !says(f.Document.Head.Saying, c.says) || len(f.Document.Cautions) == 0 {
			t.Errorf("%s: %s %q", c.name, f.Verdict, f.Document.Head.Code)
		}
		if _, err := json.Marshal(f); err != nil {
			t.Error(err)
		}
	}
}

func TestFitRefusesWhatCannotBe(t *testing.T) {
	t.Parallel()
	s := ground(t, "PLA")
	mass := shop.Need{From: "typed", Mass: shoptest.P(0.1)}
	for _, c := range []struct {
		req         fit.Request
		field, says string
	}{
		{fit.Request{Lot: "R9", Need: mass}, "lot", "fit.no_lot"},
		{fit.Request{Lot: "R1"}, "mass_kg", "need.no_amount"},
		{fit.Request{Lot: "R1", Need: shop.Need{Mass: shoptest.P(-1)}}, "mass_kg", "fit.outside"},
		{fit.Request{Lot: "R1", Need: mass, Printer: "Pudle"}, "printer", "fit.no_printer"},
		{fit.Request{Lot: "R1", Need: mass, Temperature: shoptest.P(273.15 + 260)}, "temperature_k", "fit.too_hot"},
		{fit.Request{Lot: "R1", Need: mass, Temperature: shoptest.P(0)}, "temperature_k", "fit.outside"},
		{fit.Request{Lot: "R1", Need: mass, Nozzle: shoptest.P(0)}, "nozzle_m", "fit.outside"},
		{fit.Request{Lot: "R1", Need: mass, Nozzle: shoptest.P(0.02)}, "nozzle_m", "fit.nozzle_too_wide"},
		{fit.Request{Lot: "R1", Need: mass, Strength: shoptest.P(1.5)}, "strength", "fit.outside"},
		{fit.Request{Lot: "R1", Need: mass, Draws: 1e9}, "draws", "fit.draws_outside"},
	} {
		_, err := fit.Judge(s, c.req)
		var refused *shop.Error
		if !errors.As(err, &refused) || refused.Field != c.field || refused.What.Code != c.says {
			t.Errorf("%+v: %v", c.req, err)
		}
		if c.says == "fit.too_hot" && (refused == nil || !strings.HasPrefix(refused.Advice.Code, "caution.pla_")) {
			t.Errorf("too hot says nothing of fumes: %v", err)
		}
	}
}

func BenchmarkFit(b *testing.B) {
	s := ground(b, "PLA")
	for b.Loop() {
		if _, err := fit.Judge(s, fit.Request{Lot: "R1", Need: vase(0.3, "PLA"), Now: shoptest.Noon}); err != nil {
			b.Fatal(err)
		}
	}
}
