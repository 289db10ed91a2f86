package sieving_test

import (
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"

	"hopperful/fact"
	"hopperful/plan/next"
	"hopperful/plan/sieving"
	"hopperful/process/sieve"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// coarseRun is a run of the bench mill and a stack of 60 g of it with a share of it
// above 4 mm, which is 1.33 of its 3 mm holes.
func coarseRun(share float64) []shop.Body {
	const sample = 0.06
	return []shop.Body{
		&shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.1, Product: shoptest.P(0.08), Left: shoptest.P(0.01), Run: 60},
		&shop.Sieved{Lot: "R1", Charge: sample, Series: shop.R20x3, Holes: shop.WovenWire, Pan: sample * (1 - share) / 2,
			Sieves: []shop.OnSieve{{Opening: 4e-3, Mass: sample * share}, {Opening: 2.8e-3, Mass: 0}, {Opening: 1e-3, Mass: sample * (1 - share) / 2}}},
	}
}

func lookedAt(what shop.Upkeep, sound shop.YesNo) *shop.Serviced {
	return &shop.Serviced{Mill: "Rattle", Part: shop.ScreenPart, What: what, Sound: sound}
}

func screenOfRattle(t testing.TB, bodies ...shop.Body) sieving.ScreenState {
	t.Helper()
	s := shoptest.Bin(t, append([]shop.Body{shoptest.Scrap("PLA", "black", 60)}, bodies...)...)
	out, err := sieving.Screen(s, "Rattle")
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func strung(parts ...[]shop.Body) (all []shop.Body) {
	for _, one := range parts {
		all = append(all, one...)
	}
	return all
}

// The chapters: nothing known, quiet, an alarm that stays until somebody looks,
// what the look teaches, a new sheet, a damaged one.
func TestChaptersOfAScreen(t *testing.T) {
	t.Parallel()
	quiet := strung(coarseRun(0.008), coarseRun(0.012), coarseRun(0.009))
	one := func(b shop.Body) []shop.Body { return []shop.Body{b} }
	sound := one(lookedAt(shop.Inspected, shop.Yes))
	for name, c := range map[string]struct {
		records                 []shop.Body
		word                    sieving.ScreenWord
		learned, stacks, alarms int
	}{
		"nothing on record":            {nil, sieving.NotKnownYet, 0, 0, 0},
		"three quiet stacks":           {quiet, sieving.NothingSays, 0, 3, 0},
		"a coarse one, nothing known":  {strung(quiet, coarseRun(0.09)), sieving.NothingSays, 0, 4, 0},
		"a coarse one after a look":    {strung(quiet, sound, coarseRun(0.09)), sieving.LookNow, 3, 1, 1},
		"an alarm stays":               {strung(quiet, sound, coarseRun(0.09), coarseRun(0.01)), sieving.LookNow, 3, 2, 1},
		"until somebody looks":         {strung(quiet, sound, coarseRun(0.09), sound), sieving.NotKnownYet, 4, 0, 0},
		"a look nobody answered":       {strung(quiet, sound, coarseRun(0.09), one(lookedAt(shop.Inspected, shop.Unknown))), sieving.LookNow, 3, 1, 1},
		"a new sheet starts afresh":    {strung(quiet, sound, coarseRun(0.09), one(lookedAt(shop.Replaced, shop.Unknown)), coarseRun(0.01)), sieving.NothingSays, 0, 1, 0},
		"found damaged":                {strung(quiet, sound, one(lookedAt(shop.FoundDamaged, shop.No))), sieving.LookNow, 3, 0, 0},
		"found damaged, then replaced": {strung(quiet, sound, one(lookedAt(shop.FoundDamaged, shop.No)), one(lookedAt(shop.Replaced, shop.Yes))), sieving.NotKnownYet, 0, 0, 0},
		"a torn one, nothing known":    {coarseRun(0.35), sieving.LookNow, 0, 1, 1},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			out := screenOfRattle(t, c.records...)
			if out.Word != c.word || out.Learned != c.learned || out.Stacks != c.stacks || out.Alarms != c.alarms {
				t.Errorf("%s; learned %d, stacks %d, alarms %d; wanted %s, %d, %d, %d\n%s", out.Word, out.Learned, out.Stacks, out.Alarms, c.word, c.learned, c.stacks, c.alarms, out.Head.Code)
			}
			if out.Word == sieving.LookNow && (len(out.Steps) == 0 || len(out.Records) == 0) {
				t.Errorf("an alarm without advice or records: %+v", out)
			}
		})
	}
}

// An alarm names its evidence and stands first among what to do.
func TestAnAlarmIsAdvice(t *testing.T) {
	t.Parallel()
	records := strung([]shop.Body{shoptest.Scrap("PLA", "black", 60)}, coarseRun(0.008), coarseRun(0.012), coarseRun(0.009), []shop.Body{lookedAt(shop.Inspected, shop.Yes)}, coarseRun(0.09))
	s := shoptest.Bin(t, records...)
	out, err := sieving.Screen(s, "")
	if err != nil {
		t.Fatal(err)
	}
	e := out.Torn
	if !e.Alarm || e.Chance.Value >= e.FalseAlarm.Value || e.Odds.Value < 1 || e.Lot != "R1" || out.Steps[0].Do.Code != "screen.unplug" {
		t.Errorf("%+v\n%+v", e, out.Document)
	}
	found := false
	for _, a := range next.Of(s).Steps {
		found = found || a.Do.Code == "do.look_at_screen" && a.Do.Text("mill") == "Rattle" && a.Do.Text("lot") == "R1"
	}
	if !found {
		t.Errorf("next: %v", next.Of(s))
	}
	if _, err := sieving.Screen(s, "Whirl"); err == nil {
		t.Error("a mill that is not there was judged")
	}
}

// What cannot speak is named, and why: a stack without a sieve near the hole, one
// through another hole, a blend.
func TestStacksThatCannotSpeak(t *testing.T) {
	t.Parallel()
	far := coarseRun(0.01)
	far[1].(*shop.Sieved).Sieves[0].Opening = 8e-3
	out := screenOfRattle(t, far...)
	if out.Word != sieving.NotKnownYet || len(out.Unused) != 1 || why(out.Unused[0]) != "screen.no_sieve_near" {
		t.Errorf("%s, %v", out.Word, out.Unused)
	}
	other := coarseRun(0.2)
	other[0].(*shop.Ground).Hole = shoptest.P(0.006)
	if out = screenOfRattle(t, strung(coarseRun(0.01), other)...); out.Alarms > 0 {
		t.Errorf("coarse grains of a mixed lot were held against a screen: %+v", out)
	}
}

// Sound screens alarm no oftener than stated, through the whole chain of records:
// 1 in 200; of 200 drawn as the test believes, more than 5 would be chance of 1
// in 1000 (Poisson with mean 1).
func TestFalseAlarmsStayRare(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 9))
	a, b, err := sieve.BetaFromQuantiles(0.01, 0.04)
	if err != nil {
		t.Fatal(err)
	}
	normal := distuv.UnitNormal
	alarms := 0
	for range 200 {
		share := mathext.InvRegIncBeta(a, b, normal.CDF(rng.NormFloat64()))
		if screenOfRattle(t, coarseRun(share)...).Alarms > 0 {
			alarms++
		}
	}
	if alarms > 5 {
		t.Errorf("%d of 200 sound screens alarm", alarms)
	}
}

// magnetRun is a run and its pass over the magnet.
func magnetRun(metal float64) []shop.Body {
	return []shop.Body{
		&shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.5, Product: shoptest.P(0.48), Left: shoptest.P(0.01), Run: 60},
		&shop.PassedMagnet{Lot: "R1", Metal: metal},
	}
}

// More metal than before asks for a look; a new blade starts afresh; what the
// scale cannot show alarms nobody.
func TestMetalOnTheMagnet(t *testing.T) {
	t.Parallel()
	fine := fineScale()
	steady := strung([]shop.Body{fine}, magnetRun(21e-6), magnetRun(17e-6), magnetRun(26e-6), magnetRun(20e-6), magnetRun(18e-6))
	for name, c := range map[string]struct {
		records []shop.Body
		alarm   bool
		tested  bool
	}{
		"steady":             {steady, false, true},
		"a jump":             {strung(steady, magnetRun(300e-6)), true, true},
		"a jump, new blade":  {strung(steady, []shop.Body{&shop.Serviced{Mill: "Rattle", Part: shop.BladePart, What: shop.Replaced}}, magnetRun(300e-6)), false, false},
		"too few":            {strung([]shop.Body{fine}, magnetRun(21e-6), magnetRun(300e-6)), false, false},
		"none ever seen":     {strung(magnetRun(0), magnetRun(0), magnetRun(0), magnetRun(0), magnetRun(0), magnetRun(0)), false, true},
		"a first crumb":      {strung(magnetRun(0), magnetRun(0), magnetRun(0), magnetRun(0), magnetRun(0), magnetRun(0.001)), false, true},
		"and then a handful": {strung(magnetRun(0), magnetRun(0), magnetRun(0), magnetRun(0), magnetRun(0), magnetRun(0.02)), true, true},
	} {
		out := screenOfRattle(t, c.records...)
		if out.Metal == nil || out.Metal.Alarm != c.alarm || out.Metal.Tested != c.tested || (out.Word == sieving.LookNow) != c.alarm {
			t.Errorf("%s: %s, %+v", name, out.Word, out.Metal)
		}
	}
	again := strung(steady, magnetRun(20e-6), []shop.Body{&shop.PassedMagnet{Lot: "R1", Metal: 280e-6}})
	if out := screenOfRattle(t, again...); !out.Metal.Alarm || out.Metal.Passes != 6 {
		t.Errorf("caught in two goes: %+v", out.Metal)
	}
}

// A screen is judged on every page that says what to do next; thousands of
// records must not make that slow.
func BenchmarkScreenOfThousandsOfRecords(b *testing.B) {
	bodies := []shop.Body{shoptest.Scrap("PLA", "black", 900), fineScale()}
	for range 1000 {
		bodies = append(bodies, strung(coarseRun(0.01), magnetRun(20e-6))...)
	}
	s := shoptest.Bin(b, bodies...)
	for b.Loop() {
		if _, err := sieving.Screen(s, "Rattle"); err != nil {
			b.Fatal(err)
		}
	}
}

func fineScale() *shop.ScaleSet {
	return &shop.ScaleSet{Scale: shop.Scale{Name: "fine", Resolution: 1e-6, Capacity: shoptest.P(0.05)}}
}

// why is the code of the reason that a saying gives.
func why(s fact.Saying) string {
	f, _ := s.Fact("why")
	return f.Parts[0].Code
}
