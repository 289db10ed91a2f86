package fit

// Parts of a check by themselves, with what they should be worked out by hand.

import (
	"errors"
	"math"
	"slices"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// All goes well at once where nothing goes wrong: each thing that can, by itself, spoils it.
func TestOneThingWrongSpoilsAll(t *testing.T) {
	t.Parallel()
	well := run{want: 0.5, metal: 1e-6, d95: 2e-3, feed: 3e-3, fines: 0.05, borne: 0.1, water: 1e-4, dryLimit: 2e-4, mean: 1e-5, peak: 2e-5,
		takesIn: 3e-5, pumps: 4e-5, melts: 5e-5, pressure: 5e6, bears: 9e6, warm: true, strength: 0.9, opens: true, rightOne: true}
	chance := func(facts lotFacts, items []Item, runs ...run) float64 {
		j := &job{state: &shop.State{}, lot: &shop.Lot{Mass: 1}, req: Request{Strength: shoptest.P(0.8)}, facts: facts, runs: runs}
		return j.allWell(items).Value
	}
	for name, wrong := range map[string]func(*run){
		"too little": func(r *run) { r.want = 1.1 }, "another plastic": func(r *run) { r.rightOne = false }, "metal": func(r *run) { r.metal = 11e-6 }, "coarse": func(r *run) { r.d95 = 3.1e-3 },
		"dust": func(r *run) { r.fines = 0.11 }, "wet": func(r *run) { r.water = 3e-4 }, "bridges": func(r *run) { r.bridge.Sticks = true }, "starves": func(r *run) { r.takesIn = 1.9e-5 },
		"melts too little": func(r *run) { r.melts = 0.9e-5 }, "cold": func(r *run) { r.warm = false }, "pressure": func(r *run) { r.pressure = 10e6 }, "floods": func(r *run) { r.pumps = 0.9e-5 },
		"blocks": func(r *run) { r.opens = false }, "weak": func(r *run) { r.strength = 0.79 },
	} {
		bad := well
		wrong(&bad)
		if got := chance(lotFacts{}, nil, bad, well, well, bad); got != 0.5 {
			t.Errorf("%s in half of the draws: all is well in %g", name, got)
		}
	}
	no := []Item{{Key: "polymer", Verdict: answer.No}}
	if got := chance(lotFacts{}, no, well); got != 0 {
		t.Errorf("of the wrong plastic it is %g", got)
	}
	for _, items := range [][]Item{{{Key: "polymer", Verdict: answer.Open}}, {{Key: "sizes", Verdict: answer.No}}} {
		if got := chance(lotFacts{}, items, well); got != 1 {
			t.Errorf("%s: %g", items[0].Key, got)
		}
	}
	// Half of the draws have enough of it; of all the rest a quarter goes well, which counts as four prints: (4·0.25 + 3)/(4 + 3 + 2) = 4/9.
	much, spoilt := well, well
	much.want, spoilt.warm = 2, false
	if got, want := chance(lotFacts{ranSince: 3, failedSince: 2}, nil, well, spoilt, func() run { r := spoilt; r.want = 2; return r }(), func() run { r := spoilt; r.want = 2; return r }()), 0.5*4/9; math.Abs(got-want) > 1e-12 {
		t.Errorf("with prints %g, by hand %g", got, want)
	}
	if got, want := chance(lotFacts{failedSince: 1}, nil, well), 4.0/5; math.Abs(got-want) > 1e-12 {
		t.Errorf("after one that failed %g, by hand %g", got, want)
	}
}

// What blocked teaches the rate and the metal: the metal by the root of what it taught the rate, up to half of all; a draw that sees no chips keeps
// its metal, and where nothing was printed or nothing was to be expected, all stays.
func TestWhatBlockedNozzlesTeach(t *testing.T) {
	t.Parallel()
	teach := func(f lotFacts, runs ...run) []run {
		got := slices.Clone(runs)
		if err := (&job{facts: f}).learnChips(got); err != nil {
			t.Fatal(err)
		}
		return got
	}
	some := []run{{rate: 1, metal: 1e-5}, {rate: 0, metal: 2e-5}, {rate: 0.5, metal: 0.4}}
	if got := teach(lotFacts{}, some...); got[0] != some[0] || got[2] != some[2] {
		t.Errorf("nothing on record teaches %+v", got)
	}
	got := teach(lotFacts{blocked: []int64{1, 2, 3}, printed: 0.2}, some...)
	for i, r := range got {
		want := some[i].metal
		if some[i].rate > 0 {
			want = math.Min(want*math.Sqrt(r.rate/some[i].rate), 0.5)
		}
		if math.Abs(r.metal-want) > 1e-12 || r.rate <= some[i].rate {
			t.Errorf("draw %d: rate %g after %g, metal %g, by hand %g", i, r.rate, some[i].rate, r.metal, want)
		}
	}
	if got[2].metal != 0.5 || !(got[1].rate < got[2].rate && got[2].rate < got[0].rate) {
		t.Errorf("%+v", got)
	}
	if less := teach(lotFacts{printed: 5}, some...); less[0].rate >= 1 || less[0].metal >= 1e-5 || less[2].rate >= 0.5 {
		t.Errorf("five clean kilograms leave %+v", less)
	}
	none := []run{{rate: 0, metal: 1e-6}, {rate: leastChips, metal: 1e-6}}
	if got := teach(lotFacts{printed: 50}, none...); got[0] != none[0] || got[1] != none[1] {
		t.Errorf("none expected, none found: %+v", got)
	}
	// Three in 50 g of which no draw saw anything: a gamma of shape 3.5 over 0.15 kg, whose median is that of chi-square with
	// seven degrees of freedom, 6.3458 (tables), over twice 0.15 kg.
	if got := teach(lotFacts{blocked: []int64{1, 2, 3}, printed: 0.05}, run{metal: 1e-6}); math.Abs(got[0].rate-6.345811/0.3) > 1e-4 || got[0].metal != 1e-6 {
		t.Errorf("three blocked out of the blue: %g a kilogram", got[0].rate)
	}
	if got := teach(lotFacts{blocked: []int64{1}}, none...); got[0].rate <= leastChips || got[0].metal != 1e-6 || got[1].metal != 1e-6 {
		t.Errorf("none expected, one found: %+v", got)
	}
}

// Which dryers answer: the one asked for, the shop's that stand there, or every kind.
func TestWhichDryersAnswer(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.DryerSet{Dryer: shop.Dryer{Name: "Oven", Way: shop.Oven}}, &shop.DryerSet{Dryer: shop.Dryer{Name: "Old", Way: shop.Dehydrator, Retired: true}},
		&shop.DryerSet{Dryer: shop.Dryer{Name: "Second oven", Way: shop.Oven}}, &shop.DryerSet{Dryer: shop.Dryer{Name: "Tower", Way: shop.DryAir}})
	for i, c := range []struct {
		s    *shop.State
		way  shop.Way
		want []string
	}{
		{s, "", []string{"Oven", "Second oven", "Tower"}}, {s, shop.Oven, []string{"Oven"}}, {s, shop.DryAir, []string{"Tower"}}, {s, shop.Dehydrator, []string{""}},
		{shoptest.Bin(t), "", []string{"", "", "", ""}}, {shoptest.Bin(t), shop.DesiccantBox, []string{""}},
	} {
		var names []string
		for k, d := range dryersFor(c.s, DryRequest{Way: c.way}) {
			names = append(names, d.Name)
			if c.way != "" && d.Way != c.way || c.way == "" && len(c.want) == 4 && d.Way != ways[k] {
				t.Errorf("case %d: %s for %q", i, d.Way, c.way)
			}
		}
		if !slices.Equal(names, c.want) {
			t.Errorf("case %d: %q answer, wanted %q", i, names, c.want)
		}
	}
	if all := DryWays(); !slices.Equal(all, ways) || &all[0] == &ways[0] {
		t.Errorf("%v", all)
	}
	for way, code := range map[shop.Way]string{shop.Oven: "dry.in_oven", shop.Dehydrator: "dry.in_dehydrator", shop.DesiccantBox: "dry.in_box", shop.DryAir: "dry.in_dry_air", shop.OtherWay: "dry.in_dryer"} {
		if got := In(way).Code; got != code {
			t.Errorf("%s is %s", way, got)
		}
	}
}

// How a kilogram of a plastic is dried, in a line: nothing where it is barred, unknown or needs none.
func TestHowAPlasticIsDriedInALine(t *testing.T) {
	t.Parallel()
	bare, tower := shoptest.Bin(t), shoptest.Bin(t, &shop.DryerSet{Dryer: shop.Dryer{Name: "Tower", Way: shop.DryAir}})
	arid := shoptest.Bin(t, &shop.ShopSet{RoomHumidity: shoptest.P(0)})
	for i, c := range []struct {
		s       *shop.State
		plastic string
		want    string
	}{
		{bare, "PVC", ""}, {bare, "cheese", ""}, {bare, "PLA", "do.describe_dryer_for"}, {tower, "PLA", "do.dry"}, {arid, "PLA", ""},
	} {
		if got := DryingOf(c.s, c.plastic, shoptest.Noon); got.Code != c.want {
			t.Errorf("case %d: %q for %s, wanted %q", i, got.Code, c.plastic, c.want)
		}
	}
}

// A printer nobody has is answered with those there are, the retired left out.
func TestWhichPrinterIsTaken(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.PrinterSet{Printer: shop.Printer{Name: "Old", Retired: true}}, &shop.PrinterSet{Printer: shop.Printer{Name: "Puddle"}}, &shop.PrinterSet{Printer: shop.Printer{Name: "Brook"}})
	gone := shoptest.Bin(t, &shop.PrinterSet{Printer: shop.Printer{Name: "Old", Retired: true}})
	for i, c := range []struct {
		s          *shop.State
		name, want string
		hint       string
	}{{s, "", "Puddle", ""}, {s, "Brook", "Brook", ""}, {s, "Old", "Old", ""}, {s, "Pond", "", "fit.has_printers"}, {gone, "", "", ""}, {gone, "Pond", "", "fit.has_no_printer"}} {
		p, err := pickPrinter(c.s, c.name)
		var refused *shop.Error
		if p.Name != c.want || (err != nil) != (c.hint != "") || err != nil && (!errors.As(err, &refused) || refused.Advice.Code != c.hint) {
			t.Errorf("case %d: %q, %v", i, p.Name, err)
		}
	}
	if one := shoptest.Bin(t, &shop.PrinterSet{Printer: shop.Printer{Name: "Puddle"}}); true {
		var refused *shop.Error
		if _, err := pickPrinter(one, "Pond"); !errors.As(err, &refused) || refused.Advice.Code != "fit.has_printers" {
			t.Errorf("one printer: %v", err)
		}
	}
}

// A melt of which nothing is known is taken at 210 °C and flows as a usual one does (judgement).
func TestAMeltNobodyKnows(t *testing.T) {
	t.Parallel()
	j := &job{state: &shop.State{}}
	if err := j.warm(); err != nil || math.Abs(j.temperature-483.15) > 1e-9 || j.usualTemperature() != j.temperature || j.law.How != "law.usual" || !j.law.Guess() {
		t.Fatalf("%v: %g K, %+v", err, j.temperature, j.law)
	}
	// Grades flow a quarter as fast to four times as fast.
	if math.Abs(j.law.low-0.25) > 1e-12 || math.Abs(j.law.high-4) > 1e-12 || math.Abs(j.law.power.N-0.6) > 1e-12 || math.Abs(j.law.power.Fold-60) > 1e-9 || j.law.power.T0 != 483.15 {
		t.Errorf("%+v, %+v", j.law, j.law.power)
	}
	// 8 g in ten minutes through a melt-flow tester of 2.16 kg, as it was drawn through.
	if k, m := FlowTestOf(polymer.Value{}, 500); k != 500 || m != 2.16 {
		t.Errorf("%g K, %g kg", k, m)
	}
	f, err := j.setTemperature()
	if err != nil || f.Basis != figure.Books || len(f.Sources) != 1 || f.Sources[0].Key != "judgement" {
		t.Errorf("%v %+v", err, f)
	}
}

// A first layer is 1.3 bores wide and 0.4 high; the head's pressure is asked for only where nobody said.
func TestAdviceBesideTheNumbers(t *testing.T) {
	t.Parallel()
	j := &job{beliefs: prior()}
	j.beliefs.know(fNozzle, shoptest.P(2e-3))
	all := j.advice()
	if len(all) != 4 || math.Abs(factOf(all[0], "wide")-2.6e-3) > 1e-12 || math.Abs(factOf(all[0], "high")-0.8e-3) > 1e-12 || all[3].Code != "fit.look_up_head" {
		t.Errorf("%+v", all)
	}
	j.beliefs.know(fMostPressure, shoptest.P(9e6))
	if all := j.advice(); len(all) != 3 {
		t.Errorf("%+v", all)
	}
}

// What may spoil it: what is marked, doubted or failed before; only where none is, the second worst answer, and never more than there is room for.
func TestWhatMaySpoilIt(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 1})
	lot, _ := s.Lot("R1")
	item := func(code string, chance float64) Item { return Item{Says: fact.Say(code), Chance: chance} }
	bad := []Item{item("a", 0.1), item("b", 0.3), item("c", 0.4)}
	of := func(f lotFacts, doubts int, bad []Item) []answer.Finding {
		j := &job{state: s, lot: lot, facts: f}
		for range doubts {
			j.doubts = append(j.doubts, answer.Found(fact.Say("doubt")))
		}
		var d answer.Document
		j.spoilers(&d, bad)
		return d.Spoilers
	}
	if got := of(lotFacts{}, 0, bad[:1]); len(got) != 0 {
		t.Errorf("the worst is told in the head: %+v", got)
	}
	for _, n := range []int{2, 3} {
		if got := of(lotFacts{}, 0, bad[:n]); len(got) != 1 || got[0].Code != "b" || math.Abs(got[0].Weight-0.7) > 1e-12 || len(got[0].Lots) != 1 || got[0].Lots[0] != "R1" {
			t.Errorf("of %d: %+v", n, got)
		}
	}
	if got := of(lotFacts{failed: []string{"thin", "older"}}, 0, bad); len(got) != 1 || got[0].Code != "fit.failed_before" || got[0].Text("why") != "thin" {
		t.Errorf("after one that failed: %+v", got)
	}
	if got := of(lotFacts{failed: []string{"thin"}}, 1, bad); len(got) != 2 || got[0].Code != "doubt" {
		t.Errorf("doubted: %+v", got)
	}
	if got := of(lotFacts{}, 9, bad); len(got) != answer.MostSpoilers {
		t.Errorf("%d of nine doubts", len(got))
	}
}

// Half a second is told as well as an hour; nothing is no time.
func TestHowLongARemedyTakes(t *testing.T) {
	t.Parallel()
	for seconds, told := range map[float64]float64{0: 0, -3: 0, 0.5: 0.5, 3600: 3600} {
		if got := (&Remedy{Time: seconds}).takes("takes"); got.Value != told {
			t.Errorf("%g s are told as %g", seconds, got.Value)
		}
	}
	for share, code := range map[float64]string{0.01: "fit.never_so_slow", 0.03: "fit.print_slower", 3: "fit.print_slower"} {
		got := slowWords(share)
		if got.Code != code || code == "fit.print_slower" && factOf(got, "share") != math.Min(share, 0.99) {
			t.Errorf("a share of %g: %+v", share, got)
		}
	}
	j := &job{runs: []run{{takesIn: 1e-13, peak: 0}, {takesIn: 2, peak: 4}}}
	// A flow of nothing counts as a picogram a second: 0.1 and 0.5.
	if got := j.slower(func(r run) float64 { return r.takesIn }, func(r run) float64 { return r.peak }); got < 0.1-1e-9 || got > 0.5 {
		t.Errorf("slower to %g", got)
	}
	// No more than a gram less than there is can be missing.
	for missing, told := range map[float64]float64{-1: 1e-3, 0.2: 0.2} {
		if got := (&job{}).more(missing); factOf(got, "missing") != told {
			t.Errorf("%g missing is told as %g", missing, factOf(got, "missing"))
		}
	}
}

// A sieving at its ends: no dust counts as a hundred parts in a million, all dust as 99 %; d95 above the top sieve is half as large again.
func TestSievingsAtTheirEnds(t *testing.T) {
	t.Parallel()
	of := func(top, mid, pan float64) beliefs {
		s := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 1}, &shop.Sieved{Lot: "R1", Charge: 0.1, Series: shop.OwnSet, Holes: shop.WovenWire, Sieves: []shop.OnSieve{{Opening: 2e-3, Mass: top}, {Opening: 0.5e-3, Mass: mid}}, Pan: pan})
		lot, _ := s.Lot("R1")
		j := &job{state: s, lot: lot, facts: factsOf(s, lot), beliefs: prior()}
		if err := j.sized(); err != nil {
			t.Fatal(err)
		}
		return j.beliefs
	}
	for i, c := range []struct{ top, mid, pan, fines, low, high, d95, ratio float64 }{
		{0.1, 0, 0, 1e-4, 0.8e-4, 1.25e-4, 3e-3, 0},  // half of it lies above the top sieve too: no ratio is told
		{0, 0, 0.1, 0.99, 0.792, 0.995, 0.5e-3, 0},   // all of it fell through the finest
		{0.01, 0.05, 0.04, 0.4, 0.32, 0.5, 3e-3, -1}, // the top tenth is beyond, half of it within
	} {
		b := of(c.top, c.mid, c.pan)
		f, top, ratio := b[fFines], b[fTop], b[fMean]
		if math.Abs(f.Median-c.fines) > 1e-9 || math.Abs(f.Low-c.low) > 1e-9 || math.Abs(f.High-c.high) > 1e-9 || math.Abs(top.Median-c.d95) > 1e-9 || math.Abs(top.Low*1.06-c.d95) > 1e-9 || math.Abs(top.High/1.06-c.d95) > 1e-9 {
			t.Errorf("case %d: dust %g (%g to %g), d95 %g (%g to %g)", i, f.Median, f.Low, f.High, top.Median, top.Low, top.High)
		}
		if told := len(ratio.Records) > 0; told != (c.ratio != 0) || told && (ratio.Median >= 1 || math.Abs(ratio.Low*1.05-ratio.Median) > 1e-9 || math.Abs(ratio.High/1.05-ratio.Median) > 1e-9) {
			t.Errorf("case %d: mean to d95 %+v", i, ratio)
		}
	}
	if mean, spread := meanAndSpread([]float64{1, 3}); mean != 2 || math.Abs(spread-math.Sqrt2) > 1e-12 {
		t.Errorf("1 and 3: %g, %g", mean, spread)
	}
	if mean, spread := meanAndSpread([]float64{5}); mean != 5 || spread != 0 {
		t.Errorf("5: %g, %g", mean, spread)
	}
}

// What lies open after drying: kept a month it stays dry, minutes are told as a minute at the least.
func TestHowLongItMayLieOpen(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		low, value float64
		code       string
		time       float64
	}{
		{31 * 24 * 3600, 32 * 24 * 3600, "dry.stays_dry", 0}, {29 * 24 * 3600, 40 * 24 * 3600, "dry.print_within", 29 * 24 * 3600}, {3, 500, "dry.keep_closed_from_then", 500},
		{3, 59, "dry.keep_closed_at_once", 0}, {3, 60, "dry.keep_closed_from_then", 60}, {3, 700, "dry.print_within", 60}, {400, 700, "dry.print_within", 400},
	} {
		f := figure.Figure{Kind: quantity.Duration, Low: c.low, Value: c.value, High: c.value * 2}
		if got := keep(f); got.Code != c.code || factOf(got, "time") != c.time {
			t.Errorf("case %d: %s %g", i, got.Code, factOf(got, "time"))
		}
	}
}

// Water and metal of lots for a blend: nothing of what nobody knows.
func TestWhatNobodyKnowsBringsNothing(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	s := shoptest.Bin(t, &shop.MillSet{Mill: shop.Mill{Name: "Rattle"}}, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "unknown", Mass: 1}, &shop.TakenIn{Lot: "R2", Class: shop.Regrind, Polymer: "PLA", Mass: 1},
		&shop.TakenIn{Lot: "R3", Class: shop.Regrind, Polymer: "PLA", Metal: "a spring", Mass: 1}, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Mass: 1},
		&shop.TakenIn{Lot: "R4", Class: shop.Regrind, Polymer: "PLA", Mass: 1}, &shop.PassedMagnet{Lot: "R4", Metal: 0}, &shop.TakenIn{Lot: "R5", Class: shop.Regrind, Polymer: "unknown", Mass: 1}, &shop.Dried{Lot: "R5", Way: shop.Oven, Temperature: 330, Time: 3600},
		&shop.TakenIn{Lot: "R6", Class: shop.Regrind, Polymer: "PLA", Mass: 1}, &shop.PassedMagnet{Lot: "R6", Metal: 0.004, Passed: p(0.5)})
	b, err := NewBrings(s, time.Time{})
	if err != nil || !b.now.Equal(s.Last) {
		t.Fatalf("%v: %s, the last record is of %s", err, b.now, s.Last)
	}
	lot := func(id shop.LotID) *shop.Lot { l, _ := s.Lot(id); return l }
	for id, known := range map[shop.LotID]bool{"R1": false, "R5": false, "R2": true, "V1": true} {
		if w, err := b.Water(lot(id)); err != nil || (w != nil) != known {
			t.Errorf("%s: water %+v, %v", id, w, err)
		}
	}
	if w, err := b.Water(&shop.Lot{ID: "R9", Polymer: "cheese"}); w != nil || err != nil {
		t.Errorf("of no plastic: %+v, %v", w, err)
	}
	for id, known := range map[shop.LotID]bool{"R2": false, "R3": true, "V1": true, "R4": true, "R6": true} {
		f, err := b.Metal(lot(id))
		if err != nil || (f != nil) != known {
			t.Errorf("%s: metal %+v, %v", id, f, err)
			continue
		}
		if f != nil && !(f.Low < f.Value && f.Value < f.High) {
			t.Errorf("%s: %g to %g around %g", id, f.Low, f.High, f.Value)
		}
	}
	// What is dried is never wetter than it was, nor drier than the dryer leaves it or its plastic wants.
	w, err := b.Water(lot("R2"))
	if err != nil || w.Dried.Value > w.Now.Value || math.Abs(w.Dried.Value-math.Min(w.Now.Value, math.Max(w.Wants, w.Rest))) > 1e-12 || w.Dried.Low > w.Dried.Value || w.Dried.High < w.Dried.Value {
		t.Errorf("%v %+v", err, w)
	}
}

// A nozzle known to be wider than a barrel known is refused; of one that is only assumed nothing is known.
func TestWhichPrintersCannotBe(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		nozzle, barrel *float64
		code           string
	}{
		{shoptest.P(0.017), nil, ""}, {nil, shoptest.P(0.001), "screw_m"}, {shoptest.P(0.016), shoptest.P(0.016), "nozzle_m"}, {shoptest.P(0.0159), shoptest.P(0.016), ""},
		{shoptest.P(0.02), shoptest.P(0.016), "nozzle_m"}, {nil, nil, ""},
	} {
		j := &job{state: &shop.State{}, beliefs: prior()}
		j.beliefs.know(fNozzle, c.nozzle)
		j.beliefs.know(fScrew, c.barrel)
		err := j.possible()
		var refused *shop.Error
		if (err != nil) != (c.code != "") || err != nil && (!errors.As(err, &refused) || refused.Field != c.code) {
			t.Errorf("case %d: %v", i, err)
		}
	}
}

// A curve is drawn through sixty draws; those beyond do not show.
func TestCurvesTakeSixtyDraws(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Sure: shoptest.P(1), Mass: 1})
	d, err := newDryJob(s, DryRequest{Lot: "R1", Way: shop.DryAir, Start: shoptest.P(0.003), Now: shoptest.Noon, Draws: 64})
	if err != nil {
		t.Fatal(err)
	}
	if err := d.prepare(); err != nil {
		t.Fatal(err)
	}
	plan, err := d.plan()
	if err != nil || !plan.Possible {
		t.Fatal(plan.By, err)
	}
	all := plan.charts
	d.rows = d.rows[:60]
	sixty, err := d.charts(plan)
	if err != nil {
		t.Fatal(err)
	}
	d.rows = d.rows[:50]
	fifty, err := d.charts(plan)
	if err != nil || !slices.Equal(all[0].Curves[0].Mid, sixty[0].Curves[0].Mid) || slices.Equal(sixty[0].Curves[0].Mid, fifty[0].Curves[0].Mid) {
		t.Errorf("%v: drying is drawn as %v, through sixty as %v", err, all[0].Curves[0].Mid, sixty[0].Curves[0].Mid)
	}
	lot, _ := s.Lot("R1")
	j := &job{state: s, lot: lot, beliefs: prior(), polymer: d.polymer, temperature: 473.15}
	if j.law, err = LawOf(d.polymer, j.temperature); err != nil {
		t.Fatal(err)
	}
	row := j.medians()
	j.rows = slices.Repeat([][]float64{row}, 60)
	like, err := j.pressureChart()
	if err != nil {
		t.Fatal(err)
	}
	wide := slices.Clone(row)
	wide[fNozzle] *= 3
	j.rows = append(j.rows, slices.Repeat([][]float64{wide}, 100)...)
	if more, err := j.pressureChart(); err != nil || !slices.Equal(more.Curves[0].Mid, like.Curves[0].Mid) {
		t.Errorf("%v: the pressure is drawn as %v, through the first sixty as %v", err, more.Curves[0].Mid, like.Curves[0].Mid)
	}
	// Each of fourteen points is as far on, up to twice the peak: 2 · 15 · 1.5 mm³/s.
	if x := like.Curves[0].X; len(x) != 14 || math.Abs(x[13]-45e-9) > 1e-15 || math.Abs(x[0]-45e-9/14) > 1e-15 {
		t.Errorf("drawn at %v", x)
	}
}
