package traceability_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/plan/traceability"
	"hopperful/process/colour"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// oddColours is a shop of lots of all kinds of colours, mixed, melted, sorted, and looked at in every way; some of them by nobody.
func oddColours(t *testing.T, luck *rand.Rand) *shop.State {
	t.Helper()
	codes := []string{"#000000", "#ffffff", "#020203", "#c0402a", "#2a60c0", "#f2e040", "#808080", ""}
	var all []shop.Body
	names := []string{"red", "blue", "grey", ""}
	for i := range 8 {
		all = append(all, &shop.TakenIn{Lot: shop.LotID(fmt.Sprint("R", i+1)), Class: shop.Regrind, Polymer: "PLA", Sure: shoptest.P(1), Mass: 5, RGB: codes[(i+luck.IntN(3))%len(codes)], Colour: names[luck.IntN(4)]})
	}
	curve := func(low, high float64) (list []shop.TakenBand) {
		for b := range colour.Bands {
			list = append(list, shop.TakenBand{Wavelength: colour.Wavelength(b), Light: low + (high-low)*float64(b)/float64(colour.Bands-1)})
		}
		return list
	}
	see := func(id shop.LotID) shop.Body {
		melted := []shop.YesNo{shop.Yes, shop.No, shop.Unknown}[luck.IntN(3)]
		switch luck.IntN(4) {
		case 0:
			return &shop.Coloured{Lot: id, How: shop.ByEye, RGB: codes[luck.IntN(7)], Melted: melted}
		case 1:
			return &shop.Coloured{Lot: id, How: shop.CardPhoto, RGB: codes[luck.IntN(7)], Melted: melted}
		case 2:
			return &shop.Coloured{Lot: id, How: shop.Instrument, Lab: &shop.TakenLab{L: 20 + 60*luck.Float64(), A: 20 * luck.Float64(), B: -10 + 20*luck.Float64(), Observer: []int{2, 10}[luck.IntN(2)]}, Melted: melted}
		}
		return &shop.Coloured{Lot: id, How: shop.Instrument, Curve: curve(0.04+0.2*luck.Float64(), 0.2+0.6*luck.Float64()), Melted: melted}
	}
	for i := range 6 {
		a, b := 1+luck.IntN(8), 1+luck.IntN(7)
		if b >= a {
			b++
		}
		into, print := shop.LotID(fmt.Sprint("B", i+1)), shop.LotID(fmt.Sprint("P", i+1))
		share := 0.05 + 0.9*luck.Float64()
		all = append(all, &shop.Blended{From: []shop.Portion{{Lot: shop.LotID(fmt.Sprint("R", a)), Mass: share}, {Lot: shop.LotID(fmt.Sprint("R", b)), Mass: 1 - share}}, Into: into})
		if luck.IntN(2) == 0 {
			all = append(all, see(into))
		}
		all = append(all, &shop.Printed{From: into, Into: print, Print: "chip", Mass: 0.4, Good: shop.Yes})
		if luck.IntN(3) > 0 {
			all = append(all, see(print))
		}
	}
	all = append(all, see("R1"), see("R2"), see("R5"), &shop.Blended{From: []shop.Portion{{Lot: "B1", Mass: 0.3}, {Lot: "B2", Mass: 0.2}, {Lot: "R3", Mass: 1e-4}}, Into: "B7"}, &shop.Printed{From: "B7", Into: "P7", Print: "chip", Mass: 0.1, Good: shop.Yes}, see("P7"),
		&shop.TakenIn{Lot: "S1", Class: shop.Scrap, Polymer: "PLA", Sure: shoptest.P(1), Mass: 3, Colour: "mixed", RGB: "#777777"}, &shop.Sorted{From: "S1", Into: []shop.Part{{Lot: "S2", Mass: 1, Colour: "red", RGB: "#c02020"}, {Lot: "S3", Mass: 1, Colour: "mixed"}}},
		&shop.Ground{Mill: "Rattle", From: "S2", Into: "R9", Charge: 0.5, Product: shoptest.P(0.45), Run: 60}, &shop.Ground{Mill: "Rattle", From: "S3", Into: "R9", Charge: 0.2, Product: shoptest.P(0.2), Run: 60}, see("R9"))
	return shoptest.Bin(t, all...)
}

// Colours of odd lots, what mixes of them may look like and how near that is to a colour, are as approved.
func TestOddColoursAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	wanted := colour.Lab{L: 55, A: 12, B: 8}
	for luck := range uint64(4) {
		s := oddColours(t, rand.New(rand.NewPCG(luck, 7)))
		w := traceability.NewTinter(s)
		for _, id := range s.Order {
			c := ok(w.ColourOf(id))
			fmt.Fprintf(&out, "%d %s %s\n", luck, id, checkrow.Whole(t, c))
		}
		for i, mix := range [][]shop.LotID{{"R1", "R2"}, {"B1", "R3"}, {"P2", "B2"}, {"R9", "R1"}, {"P1", "P3"}, {"B7", "P7"}} {
			var portions []traceability.Portion
			for k, id := range mix {
				lot, _ := s.Lot(id)
				portions = append(portions, traceability.Portion{Lot: lot, Share: []float64{0.7, 0.3}[k]})
			}
			d, known, err := w.Drawn(portions)
			if err != nil {
				t.Fatal(err)
			}
			if !known {
				fmt.Fprintf(&out, "  %d unknown\n", i)
				continue
			}
			mixed, unmixed, err := d.From(wanted)
			if err != nil {
				t.Fatal(err)
			}
			fmt.Fprintf(&out, "  %d %.8g %.8g %s\n", i, ok(d.Within(wanted, 20)), ok(d.Within(wanted, 40)), checkrow.Whole(t, []any{ok(d.Doubt()), ok(d.Apart()), mixed, unmixed}))
		}
	}
	checkrow.ApprovedText(t, "oddcolours", out.String())
}

// Ages and flows of odd lots: wet and dry prints with the water said or not, melt-flow tests under several loads, of old lots and of new.
func TestOddAgesAreAsApproved(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	var out strings.Builder
	under := func(lot shop.LotID, kelvin, load float64, cuts ...float64) *shop.FlowTested {
		return &shop.FlowTested{Lot: lot, Temperature: p(kelvin), Load: p(load), CutTime: p(10), Cuts: cuts}
	}
	for _, polymer := range []string{"PLA", "PETG", "PET", "PA6", "ABS", "PP", "PE-HD", "PC", "unknown"} {
		s := shoptest.Bin(t, &shop.ShopSet{Name: "Bench", RoomHumidity: p(0.65)}, &shop.MaterialSet{Polymer: map[bool]string{true: "PP", false: "PC"}[polymer == "PP"], Property: "melt_flow_rate", Value: 2e-5, Low: 2e-5, High: 2e-5}, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: polymer, Mass: 6}, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: polymer, Mass: 3}, &shop.TakenIn{Lot: "B1", Class: shop.Blend, Polymer: polymer, Mass: 3},
			&shop.TakenIn{Lot: "S1", Class: shop.Scrap, Polymer: polymer, Mass: 3}, under("V1", 503.15, 2.16, 0.3e-3, 0.31e-3), under("R1", 503.15, 2.16, 0.4e-3), under("R1", 463.15, 5, 0.5e-3, 0.7e-3), under("B1", 503.15, 2.16, 0.35e-3, 0.36e-3, 0.34e-3),
			&shop.Printed{From: "V1", Into: "P1", Print: "a", Mass: 1, Moisture: p(0.003), Good: shop.Yes}, &shop.Printed{From: "V1", Into: "P2", Print: "b", Mass: 1, Good: shop.Yes}, under("P1", 503.15, 2.16, 0.6e-3, 0.62e-3), under("P2", 503.15, 2.16, 0.45e-3),
			&shop.Dried{Lot: "V1", Way: shop.Oven, Temperature: 330, Time: 1200}, &shop.Printed{From: "V1", Into: "P3", Print: "c", Mass: 1, Good: shop.Yes}, under("P3", 463.15, 5, 0.5e-3),
			&shop.Blended{From: []shop.Portion{{Lot: "P1", Mass: 0.4}, {Lot: "P2", Mass: 0.2}, {Lot: "R1", Mass: 0.3}}, Into: "B2"}, under("B2", 503.15, 2.16, 0.5e-3, 0.55e-3), &shop.Printed{From: "B2", Into: "P4", Print: "d", Mass: 0.5, Good: shop.No, Why: "brittle"},
			under("P4", 503.15, 2.16, 0.9e-3), &shop.Ground{Mill: "Rattle", From: "S1", Into: "R2", Charge: 0.5, Product: p(0.45), Run: 60}, under("R2", 503.15, 2.16, 0.42e-3), &shop.Blended{From: []shop.Portion{{Lot: "P3", Mass: 0.4}, {Lot: "R2", Mass: 0.2}, {Lot: "B1", Mass: 0.4}}, Into: "B3"})
		ager := ok(traceability.NewAger(s))
		for _, id := range s.Order {
			lot, _ := s.Lot(id)
			strength := ok(ager.StrengthOf(lot))
			fmt.Fprintf(&out, "%s %s %s; %s %.8g\n", polymer, id, checkrow.Whole(t, ok(traceability.AgeOf(s, id))), checkrow.Whole(t, []any{ok(ager.Flow(lot)), ok(strength.Chains())}), ok(strength.Kept(0.4, 0.9, 0.2)))
		}
		if polymer == "unknown" {
			continue
		}
		if factor, studies, f, err := traceability.FlowPass(s, polymer); err == nil {
			fmt.Fprintf(&out, "  %.8g %.8g %.8g %d %s\n", factor.Median, factor.Low, factor.High, len(studies), checkrow.Whole(t, f))
		}
	}
	checkrow.ApprovedText(t, "oddages", out.String())
}
