package upkeep

// Conditions of looks, heads and lists of lives on both sides by hand, and odd histories whole.

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"hopperful/figure"
	"hopperful/internal/checkrow"
	"hopperful/process/upkeep"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// A look is due where a tenth of the span between looks is left, or less, or damage is found.
func TestWhenALookIsDue(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		every, left float64
		damaged     shop.RecordID
		over        bool
	}{{2, 0.21, 0, false}, {2, 0.2, 0, true}, {2, 0, 0, true}, {2, 1.9, 1, true}, {2, 1.9, 7, true}} {
		d := due{Part: &Part{Damaged: c.damaged}, every: figure.Figure{Value: c.every}, left: figure.Figure{Value: c.left}}
		if d.over() != c.over {
			t.Errorf("case %d: over %t", i, d.over())
		}
	}
}

// A kilogram's work: two runs of 120 s with a minute of handling, one of them after 60 s of rest, for 0.2 kg: (120 + 60 + 120 + 60 + 60)/0.2 s.
func TestWhatAKilogramCosts(t *testing.T) {
	t.Parallel()
	run := func(mill string, product, rest *float64) *shop.Ground {
		return &shop.Ground{Mill: mill, From: "S1", Into: "R1", Charge: 0.11, Product: product, Run: 120, RestBefore: rest}
	}
	p := shoptest.P
	scrap := shoptest.Scrap("PLA", "black", 9)
	scrap.Lot = "S1"
	s := shoptest.Bin(t, scrap, &shop.MillSet{Mill: shop.Mill{Name: "Pan"}}, run("Rattle", p(0.1), nil), run("Rattle", p(0.1), p(60)), run("Rattle", nil, p(900)), run("Pan", p(0.05), nil))
	quick := shoptest.Bin(t, &shop.ShopSet{Name: "Bench", Handling: p(10)}, scrap, run("Rattle", p(0.1), nil))
	for i, c := range []struct {
		s            *shop.State
		o            Options
		spoilt, look float64
		basis        figure.Basis
		how          bool
	}{
		{s, Options{}, 2100, 300, figure.Reckoned, true}, {s, Options{Look: 60, Spoilt: 1200}, 1200, 60, figure.Entered, false}, {s, Options{Look: 0.5, Spoilt: 0.5}, 0.5, 0.5, figure.Entered, false},
		{quick, Options{}, 1300, 300, figure.Reckoned, true}, {shoptest.Bin(t), Options{}, 3600, 300, figure.Assumed, false},
	} {
		j := &job{state: c.s, mill: "Rattle"}
		j.costs(c.o)
		if math.Abs(j.spoilt.Value-c.spoilt) > 1e-9 || j.look.Value != c.look || j.look.Low != c.look || j.look.High != c.look || j.spoilt.Basis != c.basis || (j.spoilt.How != "") != c.how || (j.look.Basis == figure.Entered) != (c.o.Look > 0) {
			t.Errorf("case %d: %g s/kg by %q, a look %g s", i, j.spoilt.Value, j.spoilt.How, j.look.Value)
		}
	}
	// What is lost of a kilogram when a part fails unseen (judgement).
	for part, want := range map[shop.MillPart]float64{shop.ScreenPart: 1, shop.BladePart: 1, shop.SealPart: 0.1, shop.MagnetPart: 0.3, shop.BearingPart: 0.5, shop.OtherPart: 0.3} {
		if spoils[part] != want {
			t.Errorf("%s spoils %g", part, spoils[part])
		}
	}
}

// What is most pressing leads: damage before what is due, the first damage before others, else the next look; other parts never lead.
func TestWhatLeads(t *testing.T) {
	t.Parallel()
	d := func(part shop.MillPart, left float64, damaged shop.RecordID, runs int, lives int, look shop.RecordID) due {
		p := &Part{Part: part, Damaged: damaged, Look: look, Lives: make([]upkeep.Window, lives)}
		p.Now.Runs = runs
		return due{Part: p, every: figure.Figure{Value: 2}, left: figure.Figure{Value: left}}
	}
	screen, blade, seal, other := shop.ScreenPart, shop.BladePart, shop.SealPart, shop.OtherPart
	for name, c := range map[string]struct {
		dues            []due
		head, part      string
		steps, spoilers int
	}{
		"nothing ground":          {[]due{d(screen, 1, 0, 0, 0, 0), d(blade, 1.5, 0, 0, 0, 0)}, "upkeep.nothing_ground", "", 0, 0},
		"one run":                 {[]due{d(screen, 1, 0, 1, 0, 0), d(blade, 1.5, 0, 1, 0, 9)}, "upkeep.look_before", "upkeep.part_screen", 0, 1},
		"new, of a mill that ran": {[]due{d(screen, 1, 0, 0, 1, 4), d(blade, 1.5, 0, 3, 0, 9)}, "upkeep.look_before", "upkeep.part_screen", 0, 0},
		"the second sooner":       {[]due{d(screen, 1, 0, 2, 0, 1), d(blade, 0.5, 0, 2, 0, 1)}, "upkeep.look_before", "upkeep.part_blade", 0, 0},
		"due":                     {[]due{d(screen, 1, 0, 2, 0, 1), d(blade, 0.1, 0, 2, 0, 0)}, "upkeep.look_now", "upkeep.part_blade", 1, 1},
		"due, and not used":       {[]due{d(screen, 0.1, 0, 0, 1, 0), d(blade, 0.2, 0, 0, 1, 0)}, "upkeep.look_now", "upkeep.part_screen", 0, 0},
		"damaged":                 {[]due{d(screen, 0.1, 0, 2, 0, 1), d(blade, 1, 1, 2, 0, 1)}, "upkeep.damaged", "upkeep.part_blade", 2, 0},
		"two damaged":             {[]due{d(screen, 1, 8, 2, 0, 1), d(blade, 0.1, 7, 2, 0, 1), d(seal, 0.1, 0, 2, 0, 1)}, "upkeep.damaged", "upkeep.part_screen", 3, 0},
		"another part damaged":    {[]due{d(screen, 1, 0, 2, 0, 1), d(other, 0.1, 7, 2, 0, 1)}, "upkeep.look_before", "upkeep.part_screen", 0, 0},
		"nobody looked":           {[]due{d(screen, 1, 0, 2, 0, 0), d(blade, 1, 0, 2, 0, 0), d(seal, 1, 0, 2, 0, 0), d(other, 1, 0, 2, 0, 0)}, "upkeep.look_before", "upkeep.part_screen", 0, 3},
	} {
		j := &job{mill: "Rattle", dues: c.dues}
		j.head()
		part := ""
		if f, ok := j.doc.Head.Fact("part"); ok {
			part = f.Parts[0].Code
		}
		if j.doc.Head.Code != c.head || part != c.part || len(j.doc.Steps) != c.steps || len(j.doc.Spoilers) != c.spoilers {
			t.Errorf("%s: %s %s, %d steps, %d spoilers", name, j.doc.Head.Code, part, len(j.doc.Steps), len(j.doc.Spoilers))
		}
	}
}

// A column of energy stands where any part's was read, and a word where some of it was not.
func TestWhenEnergyIsAColumn(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		metered       [2]int
		columns, note int
	}{{[2]int{0, 0}, 5, 0}, {[2]int{1, 0}, 6, 1}, {[2]int{2, 2}, 6, 0}, {[2]int{2, 1}, 6, 1}} {
		j := &job{}
		for k, part := range []shop.MillPart{shop.ScreenPart, shop.BladePart} {
			p := &Part{Part: part}
			p.Now = Used{Runs: 2, Metered: c.metered[k], Energy: 5e4}
			j.dues = append(j.dues, due{Part: p, every: figure.Figure{Value: 2}, left: figure.Figure{Value: 1}})
		}
		j.parts()
		if got := j.doc.Tables[0]; len(got.Columns) != c.columns || len(got.Rows[0]) != c.columns || len(got.Notes) != c.note || c.columns == 6 && (got.Rows[1][3].Value > 0) != (c.metered[1] > 0) {
			t.Errorf("case %d: %d columns, %d notes", i, len(got.Columns), len(got.Notes))
		}
	}
}

// Two lives that ended are asked for, and no more than a hundred thousand; laws are printed with four digits.
func TestHowManyLivesAreTaken(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		l    Lives
		code string
	}{
		{Lives{Failed: []float64{3}}, "upkeep.few_lives"}, {Lives{Failed: []float64{3}, Running: []float64{4, 5}}, "upkeep.few_lives"}, {Lives{Running: []float64{4, 5}}, "upkeep.few_lives"},
		{Lives{Failed: []float64{3, 4}, Running: make([]float64, 99_999)}, "upkeep.few_lives"}, {Lives{Failed: []float64{3, 3}}, "upkeep.alike"}, {Lives{Failed: []float64{3, 4}}, ""},
	} {
		for k := range c.l.Running {
			c.l.Running[k] += 5
		}
		_, err := OfLives(c.l)
		var refused *shop.Error
		if (err == nil) != (c.code == "") || err != nil && (!errors.As(err, &refused) || refused.What.Code != c.code) {
			t.Errorf("case %d: %v", i, err)
		}
	}
	for v, want := range map[float64]string{123.456: "123.5", 1.23456: "1.235", 0.0123456: "0.01235", 9876.5: "9876", 98765: "98765"} {
		if got := digits(v); got != want && !(v == 9876.5 && got == "9877") {
			t.Errorf("%g is printed as %s, wanted %s", v, got, want)
		}
	}
	for n, told := range map[int]int{9: 1, 10: 0} {
		var l Lives
		for k := range n {
			l.Failed = append(l.Failed, 10+float64(k))
		}
		if d, err := OfLives(l); err != nil || len(d.Spoilers) != told {
			t.Errorf("%d lives: %v, %d spoilers", n, err, len(d.Spoilers))
		}
	}
}

// Odd histories of a mill are as approved: what is found, mended, weighed, torn, changed and marked, in every order.
func TestOddHistoriesAreAsApproved(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	run := func(into shop.LotID) *shop.Ground {
		return &shop.Ground{Mill: "Rattle", From: "S1", Into: into, Charge: 0.1, Product: p(0.095), Run: 120, Energy: p(3e4)}
	}
	plain := &shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.2, Product: p(0.19), Run: 90}
	did := func(part shop.MillPart, what shop.Upkeep, sound shop.YesNo) *shop.Serviced {
		return &shop.Serviced{Mill: "Rattle", Part: part, What: what, Sound: sound}
	}
	weighed := func(part shop.MillPart, before, after *float64) *shop.Serviced {
		return &shop.Serviced{Mill: "Rattle", Part: part, What: shop.Inspected, Sound: shop.Yes, Before: before, After: after}
	}
	narrow, rotor := shoptest.Mill(), shoptest.Mill()
	narrow.Screen.Hole, rotor.RotorMass = p(0.002), p(0.5)
	torn := &shop.Happened{What: shop.TornScreen, Mill: "Rattle", Lot: "R1"}
	sieved := &shop.Sieved{Lot: "R1", Charge: 0.02, Series: shop.OwnSet, Holes: shop.WovenWire, Pan: 0.005, Sieves: []shop.OnSieve{{Opening: 4e-3, Mass: 0}, {Opening: 1e-3, Mass: 0.015}}}
	var out strings.Builder
	for _, c := range []struct {
		name string
		of   []shop.Body
	}{
		{"nothing", nil}, {"one run", []shop.Body{run("R1")}}, {"unmetered", []shop.Body{plain, run("R1")}}, {"looked", []shop.Body{run("R1"), did(shop.ScreenPart, shop.Inspected, shop.Yes), run("R1"), did(shop.BladePart, shop.Inspected, shop.Unknown)}},
		{"torn", []shop.Body{run("R1"), run("R2"), torn, run("R3"), torn}}, {"torn, sieved", []shop.Body{run("R1"), torn, sieved, &shop.PassedMagnet{Lot: "R1", Metal: 0}}},
		{"cracked", []shop.Body{run("R1"), did(shop.BladePart, shop.Inspected, shop.Yes), run("R2"), &shop.Happened{What: shop.CrackedPlate, Mill: "Rattle", Lot: "R2"}, &shop.PassedMagnet{Lot: "R2", Metal: 0}}},
		{"sharpened", []shop.Body{run("R1"), did(shop.BladePart, shop.Sharpened, shop.Yes), run("R1"), did(shop.BladePart, shop.Sharpened, shop.No), run("R1"), did(shop.BladePart, shop.FoundDamaged, shop.No), did(shop.BladePart, shop.Sharpened, shop.Yes)}},
		{"sharpened at once", []shop.Body{did(shop.BladePart, shop.Sharpened, shop.Yes), run("R1")}}, {"repaired, not sound", []shop.Body{run("R1"), did(shop.SealPart, shop.Inspected, shop.No), did(shop.SealPart, shop.Repaired, shop.No), run("R1"), did(shop.SealPart, shop.Repaired, shop.Yes)}},
		{"changed", []shop.Body{run("R1"), &shop.MillSet{Mill: narrow}, run("R1"), &shop.MillSet{Mill: rotor}, run("R1")}},
		{"weighed", []shop.Body{weighed(shop.BladePart, nil, p(0.1)), run("R1"), run("R1"), weighed(shop.BladePart, p(0.098), p(0.0975)), run("R1"), weighed(shop.BladePart, p(0.0979), nil), weighed(shop.ScreenPart, p(0.2), nil)}},
		{"another part", []shop.Body{run("R1"), did(shop.OtherPart, shop.FoundDamaged, shop.No), run("R1"), did(shop.OtherPart, shop.Replaced, shop.Yes)}},
		{"printed since", []shop.Body{run("R1"), &shop.Printed{From: "R1", Into: "P1", Print: "cup", Mass: 0.05, Good: shop.No, Why: "thin"}, &shop.Sorted{From: "P1", Into: []shop.Part{{Lot: "S2", Mass: 0.05}}}, &shop.Blended{From: []shop.Portion{{Lot: "R1", Mass: 0.02}}, Into: "B1"}, did(shop.BearingPart, shop.FoundDamaged, shop.No)}},
		{"lives", []shop.Body{run("R1"), run("R1"), did(shop.ScreenPart, shop.FoundDamaged, shop.No), did(shop.ScreenPart, shop.Replaced, shop.Yes), run("R1"), run("R1"), run("R1"), did(shop.ScreenPart, shop.FoundDamaged, shop.No), did(shop.ScreenPart, shop.Replaced, shop.Yes), plain}},
	} {
		scrap := shoptest.Scrap("PLA", "black", 9)
		scrap.Lot = "S1"
		s := shoptest.Bin(t, append([]shop.Body{scrap}, c.of...)...)
		for _, o := range []Options{{}, {Look: 30, Spoilt: 9000}} {
			d, err := Of(s, "", o)
			if err != nil {
				t.Fatal(c.name, err)
			}
			fmt.Fprintf(&out, "%s %g: %s,", c.name, o.Look, d.Head.Code)
			for _, a := range d.Steps {
				fmt.Fprintf(&out, " %s", a.Do.Code)
			}
			for _, x := range d.Spoilers {
				fmt.Fprintf(&out, " %s", x.Code)
			}
			fmt.Fprintf(&out, "; %s; %s\n", checkrow.Whole(t, d), checkrow.Whole(t, Advice(s)))
		}
		for _, q := range Parts(s, "Rattle") {
			fmt.Fprintf(&out, "  %s %+v looks %d damaged %d lives %.6g harm %.6g wear %d\n", strings.ReplaceAll(string(q.Part), " ", "_"), q.Now, q.Looks, q.Damaged, q.Lives, q.Harm, len(q.Wear))
		}
		for _, x := range Suspects(s) {
			fmt.Fprintf(&out, "  %s %d runs of %s checked %d made %t\n", x.Lot, len(x.Runs), x.Of, x.Record, x.Made)
		}
	}
	checkrow.ApprovedText(t, "histories", strings.NewReplacer("[", " ", "]", " ", "{", " ", "}", " ", ":", " ").Replace(out.String()))
}
