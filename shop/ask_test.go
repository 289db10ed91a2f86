package shop

import (
	"errors"
	"math"
	"testing"
	"time"
)

// questions are entries that are kept and asked about: what is asked, of which
// field, and what was likely meant (0: nothing is offered).
var questions = map[string]struct {
	body  Body
	code  AskCode
	field string
	meant float64
}{
	"charge above the lot":     {run(func(g *Ground) { g.Charge, g.Product = 0.5, nil; g.From = "S3" }), MoreThanLot, "charge_kg", 0},
	"ten charges":              {run(func(g *Ground) { g.Charge = 1.4; g.From = "S2"; g.Product = nil }), ChargeOverChamber, "charge_kg", 0.14},
	"three charges":            {run(func(g *Ground) { g.Charge = 0.65; g.Product = kg(0.6) }), ChargeOverUsual, "charge_kg", 0},
	"a charge of crumbs":       {run(func(g *Ground) { g.Charge = 0.00024; g.Product = kg(0.0002) }), ChargeUnderUsual, "charge_kg", 0.24},
	"product above the charge": {run(func(g *Ground) { g.Product = kg(0.26) }), MoreOutThanIn, "product_kg", 0.24},
	"product of ten":           {run(func(g *Ground) { g.Product = kg(2.3) }), MoreOutThanIn, "product_kg", 0.23},
	"charge of a tenth":        {run(func(g *Ground) { g.Charge = 0.024 }), MoreOutThanIn, "charge_kg", 0.24},
	"left of ten":              {run(func(g *Ground) { g.Left = kg(0.1) }), MoreOutThanIn, "left_kg", 0.01},
	"left and swept above it":  {run(func(g *Ground) { g.Product = nil; g.Left = kg(0.2); g.Swept = kg(0.1) }), MoreOutThanIn, "swept_kg", 0.01},
	"product of a tenth":       {run(func(g *Ground) { g.Product = kg(0.023); g.Left = kg(0.01) }), MassMissing, "product_kg", 0.23},
	"first product, a digit":   {run(func(g *Ground) { g.Product = kg(0.0221) }), LittleOut, "product_kg", 0.221},
	"product of a gram":        {run(func(g *Ground) { g.Product = kg(0.00023) }), LittleOut, "product_kg", 0.23},
	"level too high":           {run(func(g *Ground) { g.Level = level(6) }), LevelOverLast, "level", 0},
	"level of ten":             {run(func(g *Ground) { g.Level = level(40) }), LevelOverLast, "level", 4},
	"level of none":            {run(func(g *Ground) { g.Mill = "plain"; g.Level = level(2) }), LevelOverLast, "level", 0},
	"minutes for seconds":      {run(func(g *Ground) { g.Run = 10800 }), RunLong, "run_s", 180},
	"colder after":             {run(func(g *Ground) { g.WallBefore, g.WallAfter = kg(313), kg(295) }), ColderAfter, "wall_after_k", 0},
	"colder than the room":     {run(func(g *Ground) { g.Room, g.ChargeAfter = kg(295), kg(280) }), ColderThanRoom, "charge_after_k", 0},
	"hot as a stove":           {run(func(g *Ground) { g.WallAfter = kg(450) }), HotterThanPower, "wall_after_k", 0},
	"watt-hours for kilowatt":  {run(func(g *Ground) { g.Energy = kg(40e6) }), EnergyOverPower, "energy_j", 40e3},
	"hardly any energy":        {run(func(g *Ground) { g.Energy = kg(40) }), EnergyUnderIdle, "energy_j", 40e3},

	"print above the lot":  {&Printed{From: "R1", Mass: 0.3}, MoreThanLot, "mass_kg", 0},
	"print of ten":         {&Printed{From: "R1", Mass: 2}, MoreThanLot, "mass_kg", 0.2},
	"thrown too much":      {&Discarded{Lot: "S1", Mass: 0.9}, MoreThanLot, "mass_kg", 0},
	"heaps too heavy":      {&Sorted{From: "S1", Into: []Part{{Mass: 0.5}, {Mass: 0.4}}}, MoreThanLot, "into", 0},
	"blended too much":     {&Blended{From: []Portion{{"R1", 0.1}, {"S1", 0.9}}}, MoreThanLot, "from.1.mass_kg", 0},
	"weighed too much":     {&Weighed{Lot: "R2", Mass: 0.3}, MoreThanGround, "mass_kg", 0},
	"sieved too much":      {stack(func(b *Sieved) { b.Charge = 0.3 }), MoreThanLot, "charge_kg", 0},
	"more metal than lot":  {&PassedMagnet{Lot: "R1", Metal: 0.3}, MoreThanLot, "metal_kg", 0},
	"passed too much":      {&PassedMagnet{Lot: "R1", Passed: kg(0.3)}, MoreThanLot, "passed_kg", 0},
	"more dust than lot":   {&Dedusted{Lot: "R1", Dust: 0.3}, MoreThanLot, "dust_kg", 0},
	"wetter after":         {dried(func(b *Dried) { b.Out = kg(0.21) }), HeavierDried, "out_kg", 0.2},
	"half gone":            {dried(func(b *Dried) { b.Out = kg(0.09) }), MuchDriedOff, "out_kg", 0},
	"dried too much":       {dried(func(b *Dried) { b.In, b.Out = kg(0.3), nil }), MoreThanLot, "in_kg", 0},
	"jar of too much":      {&JarWeighed{Lot: "R1", Jar: 5e-4, Poured: 0.3}, MoreThanLot, "poured_kg", 0},
	"jar of solid plastic": {&JarWeighed{Lot: "R1", Jar: 2e-4, Poured: 0.188}, JarTooDense, "poured_kg", 0},
	"looser by tapping":    {&JarWeighed{Lot: "R1", Jar: 3e-4, Poured: 0.15, Tapped: kg(0.14)}, TappedLighter, "tapped_kg", 0},
	"tapped too much":      {&JarWeighed{Lot: "R1", Jar: 4e-4, Poured: 0.2, Tapped: kg(0.26)}, MoreThanLot, "tapped_kg", 0},
	"extruded too much":    {nozzle(func(b *FlowTested) { b.Extruded = kg(0.3) }), MoreThanLot, "lot", 0},
}

// asked is the workbench with a small lot of scrap beside it.
func asked(t testing.TB) *State {
	t.Helper()
	return write(t, workbench(t), Record{Body: &TakenIn{Lot: "S3", Class: Scrap, Polymer: "PLA", Mass: 0.3}})
}

// TestQuestions: each entry is kept, asked about under the field the slip is in, and
// asked no more once it is confirmed or mended.
func TestQuestions(t *testing.T) {
	t.Parallel()
	s := asked(t)
	for name, c := range questions {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			now := monday.Add(9 * time.Hour)
			k, err := s.Admit(now, Record{Body: c.body})
			if err != nil {
				t.Fatal(err)
			}
			id := k.Newest().ID
			list := k.AsksOf(id)
			if len(list) == 0 || list[0].Code != c.code || list[0].Field != c.field {
				t.Fatalf("asked %+v, wanted %s of %s", list, c.code, c.field)
			}
			a := list[0]
			if (a.Meant == nil) != (c.meant == 0) || a.Meant != nil && math.Abs(*a.Meant-c.meant) > 1e-9*c.meant {
				t.Errorf("%g was meant, offered %+v", c.meant, a)
			}
			if again := mustFold(t, k.History.List()); !sameState(k, again) {
				t.Error("folding the history again asks something else")
			}
			yes, err := k.Admit(now, Record{Body: &Confirmed{Record: id}})
			if err != nil {
				t.Fatal(err)
			}
			if left := yes.AsksOf(id); len(left) > 0 {
				t.Errorf("confirmed, and still asked: %+v", left)
			}
			if _, err := yes.Admit(now, Record{Body: &Confirmed{Record: id}}); err == nil {
				t.Error("an answer to nothing was kept")
			}
			// Corrected to the same again it is another record, and asked about anew.
			redone, err := yes.Admit(now, Record{Corrects: id, Body: c.body})
			if err != nil {
				t.Fatal(err)
			}
			if len(redone.AsksOf(id)) == 0 {
				t.Error("the answer outlived what it was about")
			}
		})
	}
}

// TestAnswerToNoRecord: an answer names a record that is there.
func TestAnswerToNoRecord(t *testing.T) {
	t.Parallel()
	_, err := bench(t).Admit(monday.Add(9*time.Hour), Record{Body: &Confirmed{Record: 99}})
	var e *Error
	if !errors.As(err, &e) || e.Code != NotFound || e.Field != "record" {
		t.Errorf("got %v", err)
	}
}

// TestSlipIsNamedNeverTheTruth: a charge ten times too large is asked about, the true
// runs after it are not, though the lot seems empty and the mill full; and it teaches the usual charge nothing.
func TestSlipIsNamedNeverTheTruth(t *testing.T) {
	t.Parallel()
	s := bench(t)
	s = write(t, s, Record{Body: run(func(g *Ground) { g.Charge = 0.72; g.Product = kg(0.07) })})
	slip := s.Newest().ID
	if len(s.AsksOf(slip)) == 0 {
		t.Fatal("the slip is not asked about")
	}
	for range 5 {
		s = write(t, s, Record{Body: run(func(g *Ground) { g.Charge = 0.09; g.Product = kg(0.08) })})
		if a := s.AsksOf(s.Newest().ID); len(a) > 0 {
			t.Errorf("the truth is asked about: %+v", a)
		}
	}
	if all := s.Asks(); len(all) != 1 || all[0].Record != slip {
		t.Errorf("asked is %+v", all)
	}
	m, _ := s.Mill("shredder")
	if m.usual.most != 0.24 {
		t.Errorf("the largest charge is taken to be %g kg", m.usual.most)
	}
	// Mended, the lot has what it should and nothing is asked.
	s = write(t, s, Record{Corrects: slip, Body: run(func(g *Ground) { g.Charge = 0.072; g.Product = kg(0.07) })})
	if all := s.Asks(); len(all) > 0 {
		t.Errorf("mended, and asked %+v", all)
	}
	wantMass(t, "S1", s.Lots.At("S1").Mass, 1-0.24-0.072-5*0.09)
}

// TestWhatStayedComesOut: 75 g went in and 55 g came out, nobody weighed the rest; 80 g
// out of the next 80 g is true and neither refused nor asked about, and the books close.
func TestWhatStayedComesOut(t *testing.T) {
	t.Parallel()
	s := write(t, bench(t),
		Record{Body: &Ground{Mill: "plain", From: "S1", Charge: 0.075, Product: kg(0.055), Run: 120}},
		Record{Body: &Ground{Mill: "plain", From: "S2", Charge: 0.08, Product: kg(0.095), Run: 120}})
	if a := s.Asks(); len(a) > 0 {
		t.Fatalf("asked %+v", a)
	}
	laws(t, s)
	m, _ := s.Mill("plain")
	wantMass(t, "booked in the mill", m.Held, 0)
	wantMass(t, "at most in the mill", m.HeldMost, 0.005)
	// 15 of the 95 g are of S1's 20 g, of which 5 g are lost or still there.
	wantMass(t, "lost in grinding", BalanceOf(s).Losses[LostGrinding], 0.005+0.005)
	for _, e := range s.Lots.At("R3").Parents {
		if want := map[LotID]float64{"S1": 0.015, "S2": 0.08}[e.Lot]; math.Abs(e.Mass-want) > 1e-12 {
			t.Errorf("%g kg came from %s, want %g", e.Mass, e.Lot, want)
		}
	}
	// A weighing of what was left ends the not knowing.
	s = write(t, s, Record{Body: &Ground{Mill: "plain", From: "S2", Charge: 0.08, Product: kg(0.075), Left: kg(0), Run: 120}})
	if m, _ := s.Mill("plain"); m.HeldMost != 0 {
		t.Errorf("emptied, and %g kg may be inside", m.HeldMost)
	}
	s = write(t, s, Record{Body: &Ground{Mill: "plain", From: "S2", Charge: 0.08, Product: kg(0.095), Run: 120}})
	if a := s.Asks(); len(a) != 1 || a[0].Code != MoreOutThanIn {
		t.Errorf("out of an empty mill came more than went in, asked was %+v", a)
	}
}

// TestPrintedFromWhatWasNotWeighed: what was printed of a lot came out of the mill, even if
// nobody weighed it before.
func TestPrintedFromWhatWasNotWeighed(t *testing.T) {
	t.Parallel()
	s := write(t, bench(t), Record{Body: &Ground{Mill: "plain", From: "S2", Charge: 0.24, Run: 180}},
		Record{Body: &Printed{From: "R2", Print: "x", Mass: 0.1}})
	if a := s.Asks(); len(a) > 0 {
		t.Errorf("asked %+v", a)
	}
	laws(t, s)
	m, _ := s.Mill("plain")
	wantMass(t, "waits", m.Held, 0.14)
	s = write(t, s, Record{Body: &Weighed{Lot: "R2", Mass: 0.13}})
	wantMass(t, "lost in grinding", BalanceOf(s).Losses[LostGrinding], 0.005+0.01)
	laws(t, s)
}

// TestTimesAgainstTheDay: two runs at one time are asked about where both times
// were typed, and the later one's rest against the time between them.
func TestTimesAgainstTheDay(t *testing.T) {
	t.Parallel()
	at := func(minute int, rest *float64) Record {
		when := monday.Add(3*time.Hour + time.Duration(minute)*time.Minute)
		return Record{At: when, NotedAt: monday.Add(8 * time.Hour), Body: run(func(g *Ground) { g.Run, g.RestBefore = 300, rest })}
	}
	for name, c := range map[string]struct {
		rs   []Record
		want AskCode
	}{
		"one after the other": {[]Record{at(0, nil), at(6, nil)}, ""},
		"both at once":        {[]Record{at(0, nil), at(2, nil)}, RunsOverlap},
		"written down at one": {[]Record{at(0, nil), at(0, nil)}, ""},
		"rest too long":       {[]Record{at(0, nil), at(20, kg(3600))}, RestTooLong},
		"rest that fits":      {[]Record{at(0, nil), at(20, kg(900))}, ""},
	} {
		s := write(t, bench(t), c.rs...)
		got := AskCode("")
		if a := s.AsksOf(s.Newest().ID); len(a) > 0 {
			got = a[0].Code
		}
		if got != c.want {
			t.Errorf("%s: asked %q, wanted %q", name, got, c.want)
		}
	}
}

// TestDoubtedReadingsAreLeftOut, but for those on the dangerous side.
func TestDoubtedReadingsAreLeftOut(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		change func(*Ground)
		usable bool
		wall   bool
		energy bool
	}{
		"nothing":        {func(g *Ground) { g.WallAfter, g.Energy = kg(310), kg(40e3) }, true, true, true},
		"cold wall":      {func(g *Ground) { g.WallBefore, g.WallAfter, g.Energy = kg(320), kg(300), kg(40e3) }, true, false, true},
		"hot wall":       {func(g *Ground) { g.WallAfter, g.Energy = kg(460), kg(40e3) }, true, true, true},
		"much energy":    {func(g *Ground) { g.WallAfter, g.Energy = kg(310), kg(40e6) }, true, true, false},
		"product of ten": {func(g *Ground) { g.Product = kg(2.3) }, false, false, false},
		"product lost":   {func(g *Ground) { g.Product, g.WallAfter, g.Energy = kg(0.0221), kg(310), kg(40e3) }, true, true, true},
	} {
		s := write(t, bench(t), Record{Body: run(c.change)})
		r := s.Newest()
		got, usable := s.Believed(r, r.Body.(*Ground))
		if usable != c.usable || usable && ((got.WallAfter != nil) != c.wall || (got.Energy != nil) != c.energy) {
			t.Errorf("%s: usable %t, wall %v, energy %v", name, usable, got.WallAfter, got.Energy)
		}
		if usable && (got.Product == nil) != (name == "product lost") {
			t.Errorf("%s: product %v", name, got.Product)
		}
	}
}

// TestALittleProductIsNotTooDense: the mill's jar is asked about when it holds more
// than loose grains can, never when next to nothing came out.
func TestALittleProductIsNotTooDense(t *testing.T) {
	t.Parallel()
	jar := 3e-4
	s := write(t, workbench(t), Record{Body: &MillSet{Mill: Mill{Name: "shredder", Chamber: kg(0.002), Jar: &jar, Controller: &Control{Levels: 5}}}})
	for product, wanted := range map[float64]bool{0: false, 0.001: false, 0.003: false, 0.2: false, 0.2395: true} {
		k, err := s.Admit(monday.Add(9*time.Hour), Record{Body: run(func(g *Ground) { g.Product, g.Left = kg(product), nil })})
		if err != nil {
			t.Fatal(err)
		}
		got := false
		for _, a := range k.AsksOf(k.Newest().ID) {
			got = got || a.Code == JarTooDense
		}
		if got != wanted {
			t.Errorf("%g kg in a jar of %g m³: asked as too dense %v, wanted %v", product, jar, got, wanted)
		}
	}
}

// A first charge of which next to nothing came out is asked about, for a digit may be lost;
// where what was found inside is all the rest, two weighings bear each other out.
func TestTwoWeighingsBearEachOtherOut(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		left  *float64
		asked AskCode
	}{
		"nothing else weighed":    {nil, LittleOut},
		"the rest is inside":      {kg(0.220), ""},
		"nearly all of it inside": {kg(0.205), ""},
		"a fifth is nowhere":      {kg(0.175), LittleOut},
		"most is nowhere":         {kg(0.010), MassMissing},
	} {
		s := write(t, asked(t), Record{Body: run(func(g *Ground) { g.Product, g.Left = kg(0.018), c.left })})
		got := AskCode("")
		if all := s.AsksOf(s.Newest().ID); len(all) > 0 {
			got = all[0].Code
		}
		if got != c.asked {
			t.Errorf("%s: asked %q, wanted %q", name, got, c.asked)
		}
	}
}

// A mill in which much lies gives as much as goes in; emptied, or run for a quarter of the
// time, it gives a quarter or less of that. That is the truth, and not asked about; a digit
// lost is.
func TestAnEmptiedMillMayGiveLittle(t *testing.T) {
	t.Parallel()
	s := asked(t)
	for range 4 {
		s = write(t, s, Record{Body: run(func(g *Ground) { g.Charge, g.Product = 0.05, kg(0.05) })})
	}
	for name, c := range map[string]struct {
		product, run float64
		emptied      bool
		asked        bool
	}{
		"as always":                    {0.05, 180, false, false},
		"a quarter of it, emptied":     {0.008, 180, true, false},
		"in a quarter of the time":     {0.006, 45, false, false},
		"a digit lost":                 {0.005, 180, false, true},
		"a digit lost in an empty one": {0.0008, 180, true, true},
	} {
		k, err := s.Admit(monday.Add(9*time.Hour), Record{Body: run(func(g *Ground) {
			g.Charge, g.Product, g.Run, g.Emptied, g.Left = 0.05, kg(c.product), c.run, c.emptied, nil
		})})
		if err != nil {
			t.Fatal(err)
		}
		if list := k.AsksOf(k.Newest().ID); (len(list) > 0) != c.asked {
			t.Errorf("%s: asks %+v", name, list)
		}
	}
}

// What was taken out of a mill unweighed is missing from no charge after it; what is missing
// of that charge itself is asked about.
func TestWhatWasEmptiedUnweighedIsNotMissing(t *testing.T) {
	t.Parallel()
	s := asked(t)
	s = write(t, s, Record{Body: run(func(g *Ground) { g.Charge, g.Product, g.Left = 0.08, kg(0.02), kg(0.06) })})
	for name, c := range map[string]struct {
		product, left float64
		swept         *float64
		asked         bool
	}{
		"all of the charge is there":     {0.005, 0.034, nil, false},
		"most of the charge is nowhere":  {0.005, 0.005, nil, true},
		"swept up and weighed":           {0.005, 0.034, kg(0.06), false},
		"weighed, and most is somewhere": {0.005, 0.034, kg(0.001), true},
	} {
		k, err := s.Admit(monday.Add(9*time.Hour), Record{Body: run(func(g *Ground) {
			g.Charge, g.Product, g.Left, g.Swept, g.Emptied = 0.04, kg(c.product), kg(c.left), c.swept, true
		})})
		if err != nil {
			t.Fatal(err)
		}
		missing := false
		for _, a := range k.AsksOf(k.Newest().ID) {
			missing = missing || a.Code == MassMissing
		}
		if missing != c.asked {
			t.Errorf("%s: asked about what is missing %v, wanted %v", name, missing, c.asked)
		}
	}
}
