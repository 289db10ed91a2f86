package sieving

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/process/sieve"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// history is what happened at two mills by chance: runs into shared lots through holes noted or not, stacks and passes by the magnet of lots or of
// runs, looks, mendings and changes of the screen.
func history(t *testing.T, luck *rand.Rand) *shop.State {
	t.Helper()
	p := shoptest.P
	pan := shop.Mill{Name: "Pan"}
	if luck.IntN(2) == 0 {
		pan.Screen.Hole = p(4e-3)
	}
	scrap := shoptest.Scrap("PLA", "black", 60)
	scrap.Lot = "S1"
	all := []shop.Body{scrap, &shop.ScaleSet{Scale: shop.Scale{Name: "fine", Resolution: 1e-6, Capacity: p(0.01)}}, &shop.MillSet{Mill: pan}}
	var runs []shop.RecordID
	first := shop.RecordID(4) // records of the bench come before these
	lots := []shop.LotID{"R1", "R2", "R3"}
	ground := map[shop.LotID]bool{}
	maybe := func(v float64) *float64 {
		if luck.IntN(2) == 0 {
			return nil
		}
		return &v
	}
	for range 60 {
		lot := lots[luck.IntN(len(lots))]
		if !ground[lot] || luck.IntN(3) == 0 {
			g := &shop.Ground{Mill: millOf(lot, luck), From: "S1", Into: lot, Charge: 0.3, Product: p(0.28), Left: p(0.01), Run: 60 + float64(luck.IntN(9)), Hole: maybe([]float64{3e-3, 3e-3, 3e-3, 3e-3, 5e-3}[luck.IntN(5)])}
			if luck.IntN(2) == 0 {
				level := 8
				g.Level = &level
			}
			runs = append(runs, first+shop.RecordID(len(all)))
			all, ground[lot] = append(all, g), true
			continue
		}
		var of shop.RecordID
		if luck.IntN(3) == 0 {
			of = runs[luck.IntN(len(runs))]
		}
		switch luck.IntN(15) {
		case 0, 1, 2, 3, 4, 5:
			coarse := 0.0005 + 0.004*luck.Float64()*luck.Float64()
			all = append(all, &shop.Sieved{Lot: lot, Run: runOf(all, first, of, lot), Charge: 0.06, Series: shop.R20x3, Holes: shop.WovenWire, Hole: maybe(3e-3), Pan: 0.02, Sieves: []shop.OnSieve{{Opening: 4e-3, Mass: coarse}, {Opening: 2.8e-3, Mass: 0.01}, {Opening: 1e-3, Mass: 0.03 - coarse}}})
		case 6, 7, 8, 9, 10, 11, 12:
			all = append(all, &shop.PassedMagnet{Lot: lot, Run: runOf(all, first, of, lot), Metal: float64(20+luck.IntN(12)+luck.IntN(13)/12*150) * 1e-6 * float64(luck.IntN(9)/8*-1+1), Passed: maybe(0.2)})
		case 13:
			all = append(all, &shop.Serviced{Mill: "Rattle", Part: []shop.MillPart{shop.ScreenPart, shop.ScreenPart, shop.BladePart, shop.SealPart}[luck.IntN(4)], What: []shop.Upkeep{shop.Inspected, shop.Inspected, shop.Replaced, shop.Repaired}[luck.IntN(4)], Sound: []shop.YesNo{shop.Yes, shop.Yes, shop.Unknown}[luck.IntN(3)]})
		case 14:
			if luck.IntN(4) == 0 {
				all = append(all, &shop.Serviced{Mill: "Rattle", Part: shop.ScreenPart, What: shop.FoundDamaged, Sound: shop.No})
			}
		}
	}
	return shoptest.Bin(t, all...)
}

// millOf is the mill that grinds into a lot, now and then the other one.
func millOf(lot shop.LotID, luck *rand.Rand) string {
	if (lot == "R3") != (luck.IntN(8) == 0) {
		return "Pan"
	}
	return "Rattle"
}

// runOf is a run if it went into that lot, else none.
func runOf(all []shop.Body, first, id shop.RecordID, lot shop.LotID) shop.RecordID {
	if id == 0 {
		return 0
	}
	if g, ok := all[id-first].(*shop.Ground); ok && g.Into == lot {
		return id
	}
	return 0
}

// Screens of mills with a past made by chance, the holes their lots came through and what their stacks say, as approved.
func TestScreensByChanceAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	for luck := range uint64(8) {
		s := history(t, rand.New(rand.NewPCG(luck, 11)))
		for _, mill := range []string{"Rattle", "Pan"} {
			x, err := Screen(s, mill)
			if err != nil {
				t.Fatal(luck, err)
			}
			fmt.Fprintf(&out, "%d %s %s learned %d stacks %d alarms %d of %v; %s\n", luck, mill, strings.ReplaceAll(string(x.Word), " ", "_"), x.Learned, x.Stacks, x.Alarms, x.Records, checkrow.Whole(t, x))
			if m := x.Metal; m != nil {
				fmt.Fprintf(&out, "  metal %t %t of %d, the last %.8g of %d: %s\n", m.Tested, m.Alarm, m.Passes, m.Last.Value, m.Record, m.Says.Code)
			}
			b := screenRead(s, mill, nil)
			fmt.Fprintf(&out, "  hole %g, %d sound and %d open since %d, damaged %d, worn %d, %d looks;", b.hole, len(b.sound), len(b.open), b.since, b.damaged, b.worn, len(b.looks))
			for _, one := range b.metal {
				fmt.Fprintf(&out, " %d %s %.6g %.6g,", one.place, one.lot, one.ground, one.found)
			}
			out.WriteString("\n")
		}
		for _, lot := range []shop.LotID{"R1", "R2", "R3", "S1"} {
			hole, ok := HoleThrough(s, lot, 0)
			fmt.Fprintf(&out, "  %s %g %t", lot, hole, ok)
		}
		out.WriteString("\n")
		for i, e := range s.Sievings("R1") {
			if i > 1 {
				break
			}
			hole, ok := HoleThrough(s, "R1", e.Body.Run)
			a, err := OfRecord(s, e.ID, Options{Books: true})
			if err != nil {
				t.Fatal(luck, err)
			}
			fmt.Fprintf(&out, "  stack %d through %g %t: %s, %d curves\n", e.ID, hole, ok, checkrow.Whole(t, a.Document), len(a.Charts[0].Curves))
		}
	}
	checkrow.ApprovedText(t, "histories", strings.NewReplacer("[", "", "]", "").Replace(out.String()))
}

// Where a fault is: a portion only where there are several, a row from the first; each fault in its words, with what to do.
func TestWhereAFaultIs(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		portion, row int
		told         [2]string
	}{{0, 0, [2]string{"", ""}}, {1, 1, [2]string{"", "1"}}, {2, 3, [2]string{"2", "3"}}, {3, 12, [2]string{"3", "12"}}} {
		portion, row := where(&sieve.EntryError{Portion: c.portion, Row: c.row})
		if portion.Text != c.told[0] || row.Text != c.told[1] {
			t.Errorf("case %d: portion %q, row %q", i, portion.Text, row.Text)
		}
	}
	said := map[string]bool{}
	for _, code := range []sieve.Code{sieve.WrongOrder, sieve.SameSieve, sieve.WrongNumber, sieve.NegativeMass, sieve.NotANumber, sieve.AllEmpty, sieve.TooFew, sieve.NotReached, sieve.UnknownSieve} {
		e := &sieve.EntryError{Code: code}
		if said[refused(e).Code] || advised(e).Empty() {
			t.Errorf("%v is told as %s, with the advice %s", code, refused(e).Code, advised(e).Code)
		}
		said[refused(e).Code] = true
	}
}
