package upkeep_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/plan/upkeep"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// run grinds 1 kg of S1 in Rattle within two minutes, with 30 kJ.
func run(into shop.LotID) *shop.Ground {
	return &shop.Ground{Mill: "Rattle", From: "S1", Into: into, Charge: 0.1, Product: shoptest.P(0.1), Run: 120, Energy: shoptest.P(30e3)}
}

func service(part shop.MillPart, what shop.Upkeep, sound shop.YesNo) *shop.Serviced {
	return &shop.Serviced{Mill: "Rattle", Part: part, What: what, Sound: sound}
}

func bin(t testing.TB, bodies ...shop.Body) *shop.State {
	t.Helper()
	return shoptest.Bin(t, append([]shop.Body{shoptest.Scrap("PLA", "black", 60)}, bodies...)...)
}

func partOf(s *shop.State, k shop.MillPart) *upkeep.Part {
	all := upkeep.Parts(s, "Rattle")
	return all[slices.IndexFunc(all, func(p *upkeep.Part) bool { return p.Part == k })]
}

// A life by hand: three runs, a good look, two runs, damage found, a new screen, one
// run. The first screen failed between 0.3 and 0.5 kg; the second has done 0.1 kg.
func TestALifeByHand(t *testing.T) {
	t.Parallel()
	s := bin(t, run("R1"), run("R1"), run("R1"), service(shop.ScreenPart, shop.Inspected, shop.Yes), run("R2"), run("R2"),
		service(shop.ScreenPart, shop.FoundDamaged, shop.No), service(shop.ScreenPart, shop.Replaced, shop.Yes), run("R3"))
	p := partOf(s, shop.ScreenPart)
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }
	if len(p.Lives) != 2 || !near(p.Lives[0].From, 0.3) || !near(p.Lives[0].To, 0.5) || !near(p.Lives[1].From, 0.1) || !math.IsInf(p.Lives[1].To, 1) {
		t.Errorf("lives %+v", p.Lives)
	}
	if !near(p.Now.Mass, 0.1) || !near(p.Now.Time, 120) || !near(p.Now.Energy, 30e3) || p.Damaged != 0 || p.Looks != 2 {
		t.Errorf("%+v", p)
	}
	if b := partOf(s, shop.BladePart); !near(b.Now.Mass, 0.6) || !near(b.Now.Time, 720) || !near(b.Now.Energy, 180e3) {
		t.Errorf("the blade has done %+v", b.Now)
	}
}

// What ends a life, and what does not.
func TestWhatEndsALife(t *testing.T) {
	t.Parallel()
	changed := shoptest.Mill()
	changed.Screen.Hole = shoptest.P(0.002)
	for name, c := range map[string]struct {
		part  shop.MillPart
		then  shop.Body
		lives int
		ended bool // the first
		done  float64
	}{
		"replaced while sound":       {shop.ScreenPart, service(shop.ScreenPart, shop.Replaced, shop.Yes), 1, false, 0},
		"sharpened, so it was blunt": {shop.BladePart, service(shop.BladePart, shop.Sharpened, shop.Yes), 1, true, 0},
		"looked at and not sound":    {shop.SealPart, service(shop.SealPart, shop.Inspected, shop.No), 1, true, 0.2},
		"looked at and sound":        {shop.SealPart, service(shop.SealPart, shop.Inspected, shop.Yes), 1, false, 0.2},
		"another screen put in":      {shop.ScreenPart, &shop.MillSet{Mill: changed, Means: shop.ChangedNow}, 1, false, 0},
		"a hole measured anew":       {shop.ScreenPart, &shop.MillSet{Mill: changed, Means: shop.AlwaysSo}, 1, false, 0.2},
		"a torn screen noted":        {shop.ScreenPart, &shop.Happened{What: shop.TornScreen, Mill: "Rattle"}, 1, true, 0.2},
		"bearings repaired":          {shop.BearingPart, service(shop.BearingPart, shop.Repaired, shop.Yes), 1, false, 0},
	} {
		p := partOf(bin(t, run("R1"), run("R1"), c.then), c.part)
		if len(p.Lives) != c.lives || math.IsInf(p.Lives[0].To, 1) == c.ended || math.Abs(p.Now.Mass-c.done) > 1e-9 {
			t.Errorf("%s: lives %+v, now %g kg", name, p.Lives, p.Now.Mass)
		}
	}
}

// When damage is found every lot ground since the last good look is marked, with what
// was made of it, until it is checked; what was ground before or after is not.
func TestLotsAreMarkedUntilChecked(t *testing.T) {
	t.Parallel()
	story := []shop.Body{run("R1"), service(shop.ScreenPart, shop.Inspected, shop.Yes), run("R2"), run("R3"),
		shoptest.Blended("B1", shop.Portion{Lot: "R2", Mass: 0.05}), service(shop.ScreenPart, shop.FoundDamaged, shop.No),
		service(shop.ScreenPart, shop.Replaced, shop.Yes), run("R4")}
	marked := func(s *shop.State) (open []shop.LotID) {
		for _, x := range upkeep.Suspects(s) {
			if x.Open() {
				open = append(open, x.Lot)
			}
		}
		slices.Sort(open)
		return open
	}
	if got := marked(bin(t, story...)); !slices.Equal(got, []shop.LotID{"B1", "R2", "R3"}) {
		t.Errorf("marked %v", got)
	}
	sieved := &shop.Sieved{Lot: "R3", Charge: 0.02, Series: shop.OwnSet, Holes: shop.WovenWire, Pan: 0.005, Sieves: []shop.OnSieve{{Opening: 4e-3, Mass: 0}, {Opening: 1e-3, Mass: 0.015}}}
	if got := marked(bin(t, append(story, sieved)...)); !slices.Equal(got, []shop.LotID{"B1", "R2"}) {
		t.Errorf("after R3 was sieved %v", got)
	}
	// The magnet says nothing of a torn screen.
	if got := marked(bin(t, append(story, &shop.PassedMagnet{Lot: "R2"})...)); !slices.Contains(got, "R2") {
		t.Errorf("after R2 passed the magnet %v", got)
	}
	s := bin(t, story...)
	if len(upkeep.SuspectOf(s, "R2")) != 1 || len(upkeep.SuspectOf(s, "R4")) != 0 {
		t.Error("R2 is not marked, or R4 is")
	}
}

// Only what was looked at since the damage was found clears a lot; of the same minute, what was written down later.
func TestALookBeforeClearsNothing(t *testing.T) {
	t.Parallel()
	sieved := &shop.Sieved{Lot: "R2", Charge: 0.02, Series: shop.OwnSet, Holes: shop.WovenWire, Pan: 0.005, Sieves: []shop.OnSieve{{Opening: 4e-3, Mass: 0}, {Opening: 1e-3, Mass: 0.015}}}
	damaged := service(shop.ScreenPart, shop.FoundDamaged, shop.No)
	at := shoptest.Noon
	for name, c := range map[string]struct {
		bodies []shop.Body
		later  time.Duration // of the second
		open   bool
	}{
		"before":                       {[]shop.Body{sieved, damaged}, time.Minute, true},
		"in the same minute, before":   {[]shop.Body{sieved, damaged}, 0, true},
		"in the same minute, after it": {[]shop.Body{damaged, sieved}, 0, false},
		"after":                        {[]shop.Body{damaged, sieved}, time.Minute, false},
	} {
		records := []shop.Record{{Body: &shop.MillSet{Mill: shoptest.Mill()}, At: at.Add(-3 * time.Hour)}, {Body: shoptest.Scrap("PLA", "black", 60), At: at.Add(-2 * time.Hour)}, {Body: run("R2"), At: at.Add(-time.Hour)},
			{Body: c.bodies[0], At: at}, {Body: c.bodies[1], At: at.Add(c.later)}}
		for i := range records {
			records[i].ID = shop.RecordID(i + 1)
		}
		s, err := shop.Fold(records)
		if err != nil {
			t.Fatal(err)
		}
		all := upkeep.SuspectOf(s, "R2")
		if open := len(all) == 1 && all[0].Open(); open != c.open {
			t.Errorf("sieved %s: %+v", name, all)
		}
	}
}

func answered(t testing.TB, s *shop.State, o upkeep.Options) answer.Document {
	t.Helper()
	d, err := upkeep.Of(s, "", o)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func figureOf(t testing.TB, d answer.Document, key string) figure.Figure {
	t.Helper()
	for _, f := range d.Figures {
		if f.Key == key {
			return f
		}
	}
	t.Fatalf("no figure %s", key)
	return figure.Figure{}
}

// The head says what is most pressing; a dearer look comes later, a dearer loss sooner.
func TestWhatIsPressing(t *testing.T) {
	t.Parallel()
	few := []shop.Body{run("R1")}
	many := []shop.Body{}
	for range 60 {
		many = append(many, run("R1"))
	}
	for name, c := range map[string]struct {
		s    *shop.State
		code string
	}{
		"nothing ground": {bin(t), "upkeep.nothing_ground"},
		"a little":       {bin(t, few...), "upkeep.look_before"},
		"much":           {bin(t, many...), "upkeep.look_now"},
		"looked at":      {bin(t, append(slices.Clone(many), service(shop.ScreenPart, shop.Inspected, shop.Yes), service(shop.BladePart, shop.Inspected, shop.Yes), service(shop.SealPart, shop.Inspected, shop.Yes), service(shop.MagnetPart, shop.Inspected, shop.Yes), service(shop.BearingPart, shop.Inspected, shop.Yes))...), "upkeep.look_before"},
		"damaged":        {bin(t, append(slices.Clone(few), service(shop.BearingPart, shop.FoundDamaged, shop.No))...), "upkeep.damaged"},
	} {
		if d := answered(t, c.s, upkeep.Options{}); d.Head.Code != c.code {
			t.Errorf("%s: %s, wanted %s", name, d.Head.Code, c.code)
		}
	}
	at := func(o upkeep.Options) float64 { return figureOf(t, answered(t, bin(t, few...), o), "next_look").Value }
	base := at(upkeep.Options{Look: 300, Spoilt: 3600})
	if dear, loss := at(upkeep.Options{Look: 1200, Spoilt: 3600}), at(upkeep.Options{Look: 300, Spoilt: 14400}); !(dear > 1.5*base) || !(loss < 0.6*base) {
		t.Errorf("next look after %.2f kg; looks four times as dear %.2f, losses %.2f", base, dear, loss)
	}
}

// Lives of the shop's own narrow the range and move it.
func TestOwnLivesTeach(t *testing.T) {
	t.Parallel()
	var story []shop.Body
	for range 4 { // each screen tears after 0.8 to 1 kg
		for range 8 {
			story = append(story, run("R1"))
		}
		story = append(story, service(shop.ScreenPart, shop.Inspected, shop.Yes), run("R1"), run("R1"), service(shop.ScreenPart, shop.FoundDamaged, shop.No), service(shop.ScreenPart, shop.Replaced, shop.Yes))
	}
	row := func(s *shop.State) (low, high float64) {
		d := answered(t, s, upkeep.Options{})
		for _, f := range d.Tables[0].Rows[0][len(d.Tables[0].Columns)-1].Parts[0].Facts {
			if f.Name == "low" {
				low = f.Value
			} else {
				high = f.Value
			}
		}
		return low, high
	}
	low, high := row(bin(t))
	taughtLow, taughtHigh := row(bin(t, story...))
	if !(taughtHigh < high/5) || !(taughtHigh/taughtLow < high/low) || taughtHigh < 0.9 {
		t.Errorf("screens last %.1f to %.1f kg by the book, %.2f to %.2f after four that tore at 0.8 to 1 kg", low, high, taughtLow, taughtHigh)
	}
}

// 1703 bearing cages of which 6 failed (Abernethy1983): shape 2.035, scale 11792.
func TestBearingCages(t *testing.T) {
	t.Parallel()
	l := upkeep.Lives{Failed: []float64{230, 334, 423, 990, 1009, 1510}}
	for _, x := range [][2]float64{{50, 288}, {150, 148}, {250, 124}, {350, 111}, {450, 106}, {550, 99}, {650, 110}, {750, 114}, {850, 119}, {950, 127}, {1050, 123}, {1150, 93}, {1250, 47}, {1350, 41}, {1450, 27}, {1550, 11}, {1650, 6}, {1850, 1}, {2050, 2}} {
		for range int(x[1]) {
			l.Running = append(l.Running, x[0])
		}
	}
	d, err := upkeep.OfLives(l)
	if err != nil {
		t.Fatal(err)
	}
	shape, scale := figureOf(t, d, "shape"), figureOf(t, d, "scale")
	if math.Abs(shape.Value-2.035) > 5e-4 || math.Abs(scale.Value-11792) > 0.5 {
		t.Errorf("shape %g, scale %g", shape.Value, scale.Value)
	}
	if !(shape.Low < 1.7 && shape.High > 2.2) || !(scale.High > 2*scale.Low) {
		t.Errorf("six failures of 1703 leave more open than shape %g–%g, scale %g–%g", shape.Low, shape.High, scale.Low, scale.High)
	}
	if _, err := upkeep.OfLives(upkeep.Lives{Failed: []float64{5}}); err == nil {
		t.Error("a law from one life")
	}
	if _, err := upkeep.OfLives(upkeep.Lives{Failed: []float64{5, 5}}); err == nil {
		t.Error("a law from lives all alike")
	}
}

// The head names the part whose look comes first in kilograms, whatever share of its
// span has gone.
func TestTheFirstLookLeads(t *testing.T) {
	t.Parallel()
	d := answered(t, bin(t, run("R1"), run("R1"), service(shop.ScreenPart, shop.Inspected, shop.Yes), service(shop.BladePart, shop.Inspected, shop.Yes)), upkeep.Options{})
	next := figureOf(t, d, "next_look").Value
	for _, row := range d.Tables[0].Rows {
		if row[4].Value < next-1e-9 {
			t.Errorf("%s is looked at before the next %g kg, the head says %g", row[0].Parts[0].Code, row[4].Value, next)
		}
	}
}

// Weighings by hand: what a part lost lies between one weight and the next, over what was ground in between; a weight
// after a service counts from there on, and two weights with nothing ground in between tell nothing.
func TestWeighingsByHand(t *testing.T) {
	t.Parallel()
	weighed := func(before, after *float64) *shop.Serviced {
		b := service(shop.BladePart, shop.Inspected, shop.Yes)
		b.Before, b.After = before, after
		return b
	}
	p := shoptest.P
	for name, c := range map[string]struct {
		story []shop.Body
		want  [][3]float64 // before, after, ground
	}{
		"once":                 {[]shop.Body{run("R1"), weighed(p(0.3), nil), run("R1")}, nil},
		"twice":                {[]shop.Body{weighed(p(0.3), nil), run("R1"), run("R1"), weighed(p(0.298), nil)}, [][3]float64{{0.3, 0.298, 0.2}}},
		"nothing ground":       {[]shop.Body{run("R1"), weighed(p(0.3), nil), weighed(p(0.298), nil)}, nil},
		"sharpened in between": {[]shop.Body{weighed(p(0.3), p(0.29)), run("R1"), weighed(p(0.289), p(0.28)), run("R1"), run("R1"), weighed(p(0.277), nil)}, [][3]float64{{0.29, 0.289, 0.1}, {0.28, 0.277, 0.2}}},
		"only after":           {[]shop.Body{weighed(nil, p(0.3)), run("R1"), weighed(nil, p(0.29)), run("R1"), weighed(p(0.288), nil)}, [][3]float64{{0.29, 0.288, 0.1}}},
	} {
		doc := answered(t, bin(t, c.story...), upkeep.Options{})
		var got []figure.Figure
		for _, s := range doc.Reasons {
			if s.Key == "upkeep_wear" {
				got = append(got, s.Figures...)
			}
		}
		if len(got) != len(c.want) {
			t.Errorf("%s: %d weighings tell of wear, wanted %d", name, len(got), len(c.want))
			continue
		}
		for k, w := range c.want {
			if want := (w[0] - w[1]) / w[2]; math.Abs(got[k].Value-want) > 1e-9 || got[k].Low > want || got[k].High < want {
				t.Errorf("%s: wear %g of %g to %g, by hand %g", name, got[k].Value, got[k].Low, got[k].High, want)
			}
		}
	}
}
