package plan

import (
	"math"
	"slices"
	"testing"
	"time"

	"hopperful/estimate"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/process/breakage"
	"hopperful/quantity"
	"hopperful/shop"
	"hopperful/shop/shoptest"
	"hopperful/source"
)

// What a plan is made of and no tuning moves: geometry, energy of the rotor, balances, counts.

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) && !(math.IsInf(got, 1) && math.IsInf(want, 1)) {
		t.Errorf("%s is %.12g, wanted %.12g", what, got, want)
	}
}

// A cylinder as tall as it is wide: π/4 m³ are a metre across, with π m² of side and π/4 of floor.
func TestTheChamberIsACylinder(t *testing.T) {
	t.Parallel()
	near(t, "its width", chamberWidth(math.Pi/4), 1)
	near(t, "its face", wallArea(math.Pi/4), math.Pi+math.Pi/4)
	near(t, "a mill's own", chamberOf(shop.Mill{Chamber: shoptest.P(0.004)}), 0.004)
	near(t, "an unknown one", chamberOf(shop.Mill{}), 0.001)
	// A third of a metre goes in, unless the inlet is narrower; nothing known takes anything.
	near(t, "the largest piece", pieceLimit(shop.Mill{Chamber: shoptest.P(math.Pi / 4 / 1000)}), 0.1/3)
	near(t, "through an inlet", pieceLimit(shop.Mill{Chamber: shoptest.P(math.Pi / 4 / 1000), Inlet: shoptest.P(0.02)}), 0.02)
	near(t, "through a wide inlet", pieceLimit(shop.Mill{Chamber: shoptest.P(math.Pi / 4 / 1000), Inlet: shoptest.P(0.5)}), 0.1/3)
	near(t, "into a mill nobody knows", pieceLimit(shop.Mill{}), math.Inf(1))
}

// ½ I ω² of a disc, I = ½ m r²: 2 kg, 20 cm across, 100 rad/s are 50 J. What nobody said is an
// ordinary bench mill's.
func TestTheRotorsEnergy(t *testing.T) {
	t.Parallel()
	of := func(mass, diameter, speed *float64) float64 {
		return (&bench{mill: shop.Mill{RotorMass: mass, RotorDiameter: diameter, RotorSpeed: speed}}).rotorEnergy()
	}
	p := shoptest.P
	near(t, "the energy", of(p(2), p(0.2), p(100)), 50)
	near(t, "twice the mass", of(p(4), p(0.2), p(100)), 100)
	near(t, "twice the width", of(p(2), p(0.4), p(100)), 200)
	near(t, "twice the speed", of(p(2), p(0.2), p(200)), 200)
	near(t, "nobody said", of(nil, nil, nil), 0.25*0.3*0.07*0.07*2094*2094)
	// The section that has to break: a wall of 2 mm, no wider than ten walls.
	b := &bench{mill: shop.Mill{RotorMass: p(2), RotorDiameter: p(0.2), RotorSpeed: p(100)}, thickness: 2e-3, impact: 5e3}
	b.largest = 0.01
	near(t, "a narrow piece", b.energyRatio(), 5e3*2e-3*0.01/50)
	b.largest = 0.1
	near(t, "a wide piece", b.energyRatio(), 5e3*2e-3*0.02/50)
	b.impact = 1e20
	near(t, "what cannot break", b.energyRatio(), 1e6)
}

// 0.1 kg of 1000 kg/m³ packed to a fifth are half a litre: half of a chamber of one. What earlier
// charges left lies there as grains; a charge that cannot be fits nowhere.
func TestHowFullAChargeIs(t *testing.T) {
	t.Parallel()
	row := row(map[estimate.Param]float64{estimate.SolidDensity: 1000, estimate.ScrapPacking: 0.2, estimate.GrainBulk: 400})
	b := &bench{mill: shop.Mill{Chamber: shoptest.P(0.001)}, bounds: usual}
	near(t, "a charge", b.fillOf(row, 0.1, 0), 0.5)
	near(t, "with 40 g left before", b.fillOf(row, 0.1, 0.04), 0.6)
	near(t, "less than nothing", b.fillOf(row, -1, 0), math.Inf(1))
	near(t, "the limit", b.fillFor(0.1), 1.0/3)
}

// A size below which a share lies is the other way round of the share below a size.
func TestSizesAndSharesAreOneCurve(t *testing.T) {
	t.Parallel()
	grid, err := breakage.NewGrid(0.02)
	if err != nil {
		t.Fatal(err)
	}
	mass := make([]float64, grid.Classes())
	for c := range mass {
		mass[c] = 1 + float64(c%3)
	}
	b, passing, last := &bench{grid: grid}, []float64{0}, 0.0
	for _, share := range []float64{0.1, 0.3, 0.5, 0.7, 0.9} {
		size := b.sizeAt(mass, share)
		if err := grid.Passing(mass, []float64{size}, passing); err != nil || math.Abs(passing[0]-share) > 1e-6 || size <= last {
			t.Errorf("below %g m lies %g, wanted %g (%v)", size, passing[0], share, err)
		}
		last = size
	}
}

// What easing a limit saves is told from half a minute on.
func TestPricesAreToldFromHalfAMinute(t *testing.T) {
	t.Parallel()
	for saves, want := range map[float64]string{0: "", 29.9: "", 30: "plan.eased_shorter", 600: "plan.eased_shorter", math.Inf(1): "plan.eased_possible"} {
		if got := (price{ease: eases[0], saves: saves}).saying().Code; got != want {
			t.Errorf("%g s: %q, wanted %q", saves, got, want)
		}
	}
	// Each is a loosening: more room for what it is named after.
	names := map[string]bool{}
	for _, e := range eases {
		b := bench{bounds: usual, room: 293, thickness: 2e-3, within: 3600}
		b.bounds.controller, b.bounds.motor, b.bounds.jar = 400, 500, 0.002
		was := b
		e.by(&b)
		looser := b.room < was.room || b.bounds.touch > was.bounds.touch || b.bounds.fill > was.bounds.fill || b.bounds.controller > was.bounds.controller || b.bounds.motor > was.bounds.motor ||
			b.bounds.jar > was.bounds.jar || b.thickness < was.thickness || b.bounds.noise > was.bounds.noise || b.within > was.within
		tighter := b.room > was.room || b.bounds.touch < was.bounds.touch || b.bounds.fill < was.bounds.fill || b.bounds.controller < was.bounds.controller || b.bounds.motor < was.bounds.motor ||
			b.bounds.jar < was.bounds.jar || b.thickness > was.thickness || b.bounds.noise < was.bounds.noise || b.within < was.within
		if !looser || tighter || names[e.limit] || limitNames[e.limit] == "" {
			t.Errorf("%s: looser %t, tighter %t", e.limit, looser, tighter)
		}
		names[e.limit] = true
	}
}

// Whose word a number is: taught by runs, entered, judged, or a book's.
func TestWhoseWordABeliefIs(t *testing.T) {
	t.Parallel()
	for want, one := range map[figure.Basis]estimate.Belief{
		figure.Learned: {Runs: 3, FromUser: true}, figure.Entered: {FromUser: true}, figure.Assumed: {Source: source.Cite("judgement", "x")}, figure.Books: {Source: source.Cite("EU2003", "x")},
	} {
		one.Key, one.Name, one.Kind, one.Median, one.Low, one.High = "k", "n", quantity.Number, 2, 1, 3
		var b estimate.Beliefs
		b[estimate.Hole] = one
		f := belief(&b, estimate.Hole)
		if f.Basis != want || f.Value != 2 || f.Low != 1 || f.High != 3 || f.Runs != one.Runs || (len(f.Sources) > 0) != (one.Source.Key != "") {
			t.Errorf("%+v is %s", one, f.Basis)
		}
	}
}

// A meter's word between two of its levels is on the line between them, beyond them it has none.
func TestMeterReadings(t *testing.T) {
	t.Parallel()
	list := []shop.LevelWatts{{Level: 10, Watts: 400}, {Level: 2, Watts: 80}, {Level: 6, Watts: 200}}
	for level, want := range map[int]struct {
		watts     float64
		exact, ok bool
	}{1: {0, false, false}, 2: {80, true, true}, 3: {110, false, true}, 6: {200, true, true}, 9: {350, false, true}, 10: {400, true, true}, 11: {0, false, false}} {
		if watts, exact, ok := read(list, level); watts != want.watts || exact != want.exact || ok != want.ok {
			t.Errorf("level %d: %g %t %t, wanted %+v", level, watts, exact, ok, want)
		}
	}
	near(t, "the angle at half", angleAt(4, 8), math.Pi/2)
	near(t, "the angle at full", angleAt(8, 8), 0)
	near(t, "half the angle is half the power", levelShare(4, 8), 0.5) // of a resistive load, by symmetry of the sine
	near(t, "all of it", levelShare(8, 8), 1)
}

// What happened to a mill before a run, by hand: three runs in two days, a blade, a screen.
func TestTallyOfAMill(t *testing.T) {
	t.Parallel()
	mill := shop.Mill{Name: "Pot", RotorDiameter: shoptest.P(0.15), Screen: shop.Screen{Hole: shoptest.P(3e-3), OpenShare: shoptest.P(0.4)}}
	run := func(charge float64, wall *float64) *shop.Ground {
		return &shop.Ground{Mill: "Pot", From: "S1", Into: "R1", Charge: charge, Product: shoptest.P(0.9 * charge), Run: 60, WallBefore: wall}
	}
	other := mill
	other.RotorDiameter = shoptest.P(0.16)
	finer, sheet := other, other
	finer.Screen = shop.Screen{Hole: shoptest.P(2e-3), OpenShare: shoptest.P(0.3)}
	sheet.Screen = shop.Screen{Hole: shoptest.P(3e-3), OpenShare: shoptest.P(0.5)}
	var records []shop.Record
	at := shoptest.Noon.AddDate(0, 0, -10)
	state := func(body shop.Body, later time.Duration) tally {
		at = at.Add(later)
		records = append(records, shop.Record{ID: shop.RecordID(len(records) + 1), At: at, Body: body})
		s, err := shop.Fold(records)
		if err != nil {
			t.Fatal(err)
		}
		return (*marks.Of(s))["Pot"].now
	}
	day, minute := 24*time.Hour, 10*time.Minute
	state(&shop.MillSet{Mill: mill}, 0)
	state(shoptest.Scrap("PLA", "black", 5), minute)
	a := state(run(0.1, shoptest.P(294)), minute)
	if a.count != 1 || a.days != 1 || a.ofDay != 1 || a.since != 0.1 || a.room == nil || *a.room != 294 || a.chapter != 0 || a.last != 3 {
		t.Errorf("after a run %+v", a)
	}
	if a = state(run(0.2, shoptest.P(300)), minute); a.count != 2 || a.days != 1 || a.ofDay != 2 || math.Abs(a.since-0.3) > 1e-12 || *a.room != 294 || *a.coolest != 294 {
		t.Errorf("after two of a sitting %+v", a)
	}
	if a = state(run(0.1, shoptest.P(310)), day); a.days != 2 || a.ofDay != 1 || *a.room != 294 || *a.coolest != 310 { // 37 °C is no room's: it is what it was
		t.Errorf("the day after %+v", a)
	}
	if a = state(&shop.Serviced{Mill: "Pot", Part: shop.BladePart, What: shop.Inspected, Sound: shop.Yes}, minute); a.chapter != 0 || a.since == 0 {
		t.Errorf("after a look %+v", a)
	}
	if a = state(&shop.Serviced{Mill: "Pot", Part: shop.BladePart, What: shop.Sharpened}, minute); a.chapter != 1 || a.since != 0 {
		t.Errorf("after sharpening %+v", a)
	}
	if a = state(&shop.Serviced{Mill: "Pot", Part: shop.ScreenPart, What: shop.Replaced}, minute); a.chapter != 1 || a.sheets != 1 {
		t.Errorf("after another screen %+v", a)
	}
	if a = state(&shop.MillSet{Mill: other}, minute); a.chapter != 2 || a.sheets != 1 {
		t.Errorf("with another rotor %+v", a)
	}
	if a = state(&shop.MillSet{Mill: finer}, minute); a.chapter != 2 || a.sheets != 1 { // a hole is a name of its own
		t.Errorf("with finer holes %+v", a)
	}
	state(&shop.MillSet{Mill: other}, minute)
	if a = state(&shop.MillSet{Mill: sheet}, minute); a.chapter != 2 || a.sheets != 2 {
		t.Errorf("with another sheet of the same holes %+v", a)
	}
}

// Of 1300 runs the latest 1024 are learned from and some more: they begin at the last mark, each
// 256 runs, that leaves so many.
func TestWhereLearningBegins(t *testing.T) {
	t.Parallel()
	records := []shop.Record{{ID: 1, At: shoptest.Noon.AddDate(0, 0, -100), Body: &shop.MillSet{Mill: shop.Mill{Name: "Pot"}}},
		{ID: 2, At: shoptest.Noon.AddDate(0, 0, -100), Body: shoptest.Scrap("PLA", "black", 500)}}
	for i := range 1300 {
		records = append(records, shop.Record{ID: shop.RecordID(i + 3), At: shoptest.Noon.AddDate(0, 0, -99).Add(time.Duration(i) * time.Hour),
			Body: &shop.Ground{Mill: "Pot", From: "S1", Into: "R1", Charge: 0.1, Product: shoptest.P(0.09), Run: 60}})
	}
	s, err := shop.Fold(records)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ runs, count, from int }{{1300, 256, 258}, {1280, 256, 258}, {1279, 0, 0}, {1024, 0, 0}} {
		var l logbook
		from, last, at := l.begin(s, "Pot", 2+c.runs)
		if from != c.from || l.count != c.count || (last != nil) != (c.count > 0) {
			t.Errorf("of %d runs it begins at record %d after %d, last %v; wanted %d after %d", c.runs, from, l.count, last, c.from, c.count)
		}
		if c.count > 0 && (!at.Equal(records[257].At) || math.Abs(l.since-25.6) > 1e-9) {
			t.Errorf("the last before it ran at %v, %g kg since the blade", at, l.since)
		}
	}
}

// How warm the room is: as the shop says; else as read last at this mill, whose wall is as warm as
// the room where it stood for long, and not where the sun or a run before had warmed it.
func TestHowWarmTheRoomIs(t *testing.T) {
	t.Parallel()
	run := func(mill string, wall, room *float64) *shop.Ground {
		return &shop.Ground{Mill: mill, From: "S1", Into: "R1", Charge: 0.1, Product: shoptest.P(0.09), Run: 60, WallBefore: wall, Room: room}
	}
	p, day, soon := shoptest.P, 24*time.Hour, 5*time.Minute
	for i, c := range []struct {
		said *float64
		runs []*shop.Ground
		gaps []time.Duration
		want float64
		from shop.RecordID
	}{
		{p(298), []*shop.Ground{run("Pot", p(291), nil)}, []time.Duration{day}, 298, 0},
		{nil, []*shop.Ground{run("Pot", p(291), nil)}, []time.Duration{day}, 291, 4},
		{nil, []*shop.Ground{run("Pot", p(291), nil), run("Pot", p(300), nil)}, []time.Duration{day, soon}, 291, 4}, // still warm of the first
		{nil, []*shop.Ground{run("Pot", p(291), nil), run("Pot", p(289), nil)}, []time.Duration{day, day}, 289, 5},
		{nil, []*shop.Ground{run("Pot", p(304), nil)}, []time.Duration{day}, 0, 0}, // no room is 31 °C
		{nil, []*shop.Ground{run("Pot", p(300), p(292))}, []time.Duration{day}, 292, 4},
		{nil, []*shop.Ground{run("Pot", p(291), nil), run("Pot", p(300), p(295))}, []time.Duration{day, soon}, 295, 5},
		{nil, []*shop.Ground{run("Pan", p(291), nil)}, []time.Duration{day}, 0, 0},
		{nil, []*shop.Ground{run("Pot", p(291), nil), run("Pot", nil, nil)}, []time.Duration{day, day}, 291, 4},     // nobody read it since
		{nil, []*shop.Ground{run("Pot", p(291), nil), run("Pot", p(290), nil)}, []time.Duration{day, soon}, 290, 4}, // a wall is no cooler
		{nil, []*shop.Ground{run("Pot", p(291), nil), run("Pot", p(304), p(295)), run("Pot", p(294), nil)}, []time.Duration{day, day, day}, 294, 6},
	} {
		all := []shop.Body{&shop.MillSet{Mill: shop.Mill{Name: "Pot"}}, &shop.MillSet{Mill: shop.Mill{Name: "Pan"}}, shoptest.Scrap("PLA", "black", 5)}
		at := shoptest.Noon.AddDate(0, 0, -20)
		records := []shop.Record{}
		for _, b := range all {
			records = append(records, shop.Record{ID: shop.RecordID(len(records) + 1), At: at, Body: b})
		}
		for k, b := range c.runs {
			at = at.Add(c.gaps[k])
			records = append(records, shop.Record{ID: shop.RecordID(len(records) + 1), At: at, Body: b})
		}
		if c.said != nil {
			records = append(records, shop.Record{ID: shop.RecordID(len(records) + 1), At: at, Body: &shop.ShopSet{Name: "Shed", RoomTemperature: c.said}})
		}
		s, err := shop.Fold(records)
		if err != nil {
			t.Fatal(err)
		}
		if room, from, ok := roomOf(s, "Pot"); ok != (c.want > 0) || ok && (room != c.want || from != c.from) {
			t.Errorf("case %d: %g K from record %d (%t), wanted %g from %d", i, room, from, ok, c.want, c.from)
		}
	}
}

// The largest piece and the thickest wall of the scrap, as far as known; pieces the mill does not
// take are broken first, and a wall is no thicker than half a piece.
func TestHowLargeTheScrapIs(t *testing.T) {
	t.Parallel()
	lot := func(largest, wall *float64) scrapLot {
		return scrapLot{Lot: &shop.Lot{Pieces: shop.Pieces{Largest: largest, Wall: wall}}}
	}
	p := shoptest.P
	inlet := shop.Mill{Inlet: p(0.05)}
	for i, c := range []struct {
		lots          []scrapLot
		mill          shop.Mill
		largest, wall float64
	}{
		{[]scrapLot{lot(p(0.03), p(2e-3)), lot(p(0.02), p(3e-3))}, shop.Mill{}, 0.03, 3e-3},
		{[]scrapLot{lot(p(0.08), p(2e-3))}, inlet, 0.05, 2e-3},
		{[]scrapLot{lot(p(0.004), p(3e-3))}, shop.Mill{}, 0.004, 2e-3},
		{[]scrapLot{lot(nil, p(1e-3)), lot(p(0.04), nil)}, shop.Mill{}, 0.04, 1e-3},
		{nil, shop.Mill{}, defaultLargest, defaultWall},
	} {
		if largest, wall := scrapSize(c.lots, c.mill); largest != c.largest || wall != c.wall {
			t.Errorf("case %d: %g and %g m, wanted %g and %g", i, largest, wall, c.largest, c.wall)
		}
	}
	if v := unlimited(nil); !math.IsInf(v, 1) || unlimited(p(3)) != 3 {
		t.Errorf("%g", v)
	}
	for i, c := range []struct {
		left, swept *float64
		is          bool
	}{{p(0), p(0.002), true}, {p(0.001), p(0.002), false}, {p(0), p(0), false}, {nil, p(0.002), false}, {p(0), nil, false}, {nil, nil, false}} {
		if got := brushedOut(&shop.Ground{Left: c.left, Swept: c.swept}); got != c.is {
			t.Errorf("case %d: brushed out %t", i, got)
		}
	}
}

// The stack that belongs to a run: shares from the pan up, the latest, sieves before pictures.
func TestTheStackOfARun(t *testing.T) {
	t.Parallel()
	run := &shop.Ground{Mill: "Pot", From: "S1", Into: "R1", Charge: 0.1, Product: shoptest.P(0.09), Run: 60}
	stack := func(of shop.RecordID, pan float64, photo bool) *shop.Sieved {
		b := &shop.Sieved{Lot: "R1", Run: of, Charge: 0.04, Series: shop.OwnSet, Holes: shop.WovenWire, Pan: pan, Sieves: []shop.OnSieve{{Opening: 2e-3, Mass: 0.01}, {Opening: 1e-3, Mass: 0.03 - pan}}}
		if photo {
			b.Photo = &shop.Photographed{Pictures: 1, Grains: 100, Effective: 50, Shape: 0.9, Spread: 0.05, Seen: 1e-4}
		}
		return b
	}
	of := func(all ...shop.Body) *estimate.Sieved {
		s := shoptest.Bin(t, append([]shop.Body{&shop.MillSet{Mill: shop.Mill{Name: "Pot"}}, shoptest.Scrap("PLA", "black", 5), run}, all...)...)
		var id shop.RecordID
		for _, r := range s.Records.NewestOf(shop.Lately, (*shop.Ground)(nil)) {
			id = r.ID
		}
		return sieved(stacksFrom(s, 0)[id])
	}
	var id shop.RecordID
	for _, r := range shoptest.Bin(t, &shop.MillSet{Mill: shop.Mill{Name: "Pot"}}, shoptest.Scrap("PLA", "black", 5), run).Records.NewestOf(shop.Lately, (*shop.Ground)(nil)) {
		id = r.ID
	}
	got := of(stack(id, 0.005, false), stack(0, 0.02, false))
	if got == nil || math.Abs(got.Mass-0.04) > 1e-12 || got.Spread != 0 || len(got.Openings) != 2 || got.Openings[0] != 1e-3 || got.Openings[1] != 2e-3 ||
		math.Abs(got.Passing[0]-0.125) > 1e-9 || math.Abs(got.Passing[1]-0.75) > 1e-9 {
		t.Errorf("%+v", got)
	}
	if got = of(stack(id, 0.005, false), stack(id, 0.01, false)); math.Abs(got.Passing[0]-0.25) > 1e-9 {
		t.Errorf("not the latest: %+v", got)
	}
	if got = of(stack(id, 0.005, false), stack(id, 0.01, true)); math.Abs(got.Passing[0]-0.125) > 1e-9 {
		t.Errorf("a picture before a sieve: %+v", got)
	}
	if got = of(stack(id, 0.01, true)); got == nil || got.Spread != 0.05 {
		t.Errorf("a picture alone: %+v", got)
	}
	if got = of(); got != nil {
		t.Errorf("nobody sieved: %+v", got)
	}
}

// What the owner said of a machine goes into the beliefs: readings with their spread, sizes in
// proportion to the machine the books were judged for, a known mass of a print as it is.
func TestWhatTheOwnerSaidIsBelieved(t *testing.T) {
	t.Parallel()
	material, err := polymer.Find("PLA")
	if err != nil {
		t.Fatal(err)
	}
	of := func(m shop.Mill, need shop.Need) estimate.Beliefs {
		b, err := believe(m, material, need)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	p := shoptest.P
	plain := of(shop.Mill{}, shop.Need{})
	b := of(shop.Mill{Noise: p(80), RotorDiameter: p(0.28), Chamber: p(0.003), Screen: shop.Screen{Hole: p(2e-3), OpenShare: p(0.35)}}, shop.Need{Mass: p(0.2)})
	near(t, "the noise", b[estimate.Noise].Median, 80)
	near(t, "at least", b[estimate.Noise].Low, 78)
	near(t, "at most", b[estimate.Noise].High, 82)
	for _, x := range []struct {
		param estimate.Param
		times float64
	}{{estimate.RotorReach, 2}, {estimate.HoldMass, 3}} {
		near(t, "the median", b[x.param].Median, x.times*plain[x.param].Median)
		near(t, "the low end", b[x.param].Low, x.times*plain[x.param].Low)
		near(t, "the high end", b[x.param].High, x.times*plain[x.param].High)
	}
	near(t, "the hole", b[estimate.Hole].Median, 2e-3)
	near(t, "the open share", b[estimate.OpenShare].Median, 0.35)
	near(t, "the scale of a weighed print", b[estimate.PrintScale].Median, 1)
	if one := b[estimate.PrintScale]; one.Low != 1 || one.High != 1 || !b[estimate.Hole].FromUser || plain[estimate.Hole].FromUser {
		t.Errorf("%+v", one)
	}
	// A volume known only as a range widens what a print may weigh, and never narrows it.
	wide := of(shop.Mill{}, shop.Need{Volume: p(1e-4), VolumeLo: p(0.5e-4), VolumeHi: p(3e-4)})
	near(t, "the least", wide[estimate.PrintScale].Low, 0.5)
	near(t, "the most", wide[estimate.PrintScale].High, 3)
	if one := of(shop.Mill{}, shop.Need{Volume: p(1e-4), VolumeLo: p(1e-4), VolumeHi: p(1e-4)})[estimate.PrintScale]; one.Low != plain[estimate.PrintScale].Low || one.High != plain[estimate.PrintScale].High {
		t.Errorf("%+v", one)
	}
	// A pot of 2 kg of copper holds 770 J/K, give or take what its lid and plate add; a painted wall
	// gives more heat to the room than a bright one, an unknown one lies between.
	near(t, "the wall", of(shop.Mill{WallMass: p(2), WallMetal: "copper"}, shop.Need{})[estimate.WallCapacity].Median, 2*metalHeat("copper"))
	painted, bright := of(shop.Mill{Painted: shop.Yes}, shop.Need{})[estimate.WallLoss], of(shop.Mill{Painted: shop.No}, shop.Need{})[estimate.WallLoss]
	between := plain[estimate.WallLoss]
	near(t, "between bright and painted", between.Median, math.Sqrt(painted.Median*bright.Median))
	if painted.Median < 1.2*bright.Median || between.High/between.Low < painted.High/painted.Low*1.2 {
		t.Errorf("painted %+v, bright %+v, unknown %+v", painted, bright, between)
	}
	if steel := metalHeat(shop.Steel); steel != metalHeat("") || steel != metalHeat(shop.OtherMetal) || steel < 420 || steel > 520 || metalHeat("aluminium") < 1.5*steel {
		t.Errorf("steel %g J/(kg K), unsaid %g", steel, metalHeat(""))
	}
	var one estimate.Belief
	around(&one, 10, 2, source.Ref{})
	if one.Median != 10 || one.Low != 5 || one.High != 20 {
		t.Errorf("%+v", one)
	}
}

// Run times are told as a stopwatch is read: by the second below half a minute, by five beyond,
// one second at the least, each once and in order.
func TestTimesAreWhole(t *testing.T) {
	t.Parallel()
	got := wholeTimes([]float64{117.6, 29.4, 0.2, 30, 32.4, 12.6, 33, 118, 29.6})
	want := []float64{1, 13, 29, 30, 35, 120}
	if !slices.Equal(got, want) {
		t.Errorf("%v, wanted %v", got, want)
	}
	if !among([]*cell{{d: draw{}, mass: 0.1}}, draw{}, 0.1) || among([]*cell{{d: draw{}, mass: 0.1}}, draw{}, 0.2) {
		t.Error("a cell is known by level and mass")
	}
}
