package fit_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/checkrow"
	"hopperful/plan/fit"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// oddLot is a lot of which something is out of the common, and what it is asked for.
type oddLot struct {
	name string
	of   []shop.Body
	req  fit.Request
	wet  bool // it is as its records say; else it was dried last, and how to dry it is not asked
}

// kept is a lot taken in as it is.
func kept(id shop.LotID, class shop.Class, polymer string, mass float64) *shop.TakenIn {
	return &shop.TakenIn{Lot: id, Class: class, Polymer: polymer, Sure: shoptest.P(0.95), Halogen: shop.No, Mass: mass}
}

// printsOf are so many good and bad prints of a lot.
func printsOf(lot shop.LotID, mass float64, good, bad int) (all []shop.Body) {
	for i := range good + bad {
		p := &shop.Printed{From: lot, Print: fmt.Sprintf("clip %d", i), Mass: mass, Good: shop.Yes}
		if i >= good {
			p.Good, p.Why = shop.No, fmt.Sprintf("thin %d", i)
		}
		all = append(all, p)
	}
	return all
}

// beside is a lot with records of it.
func beside(lot shop.Body, more ...any) (all []shop.Body) {
	all = append(all, lot)
	for _, x := range more {
		switch x := x.(type) {
		case shop.Body:
			all = append(all, x)
		case []shop.Body:
			all = append(all, x...)
		}
	}
	return all
}

func printer(change func(*shop.Printer)) *shop.PrinterSet {
	one := puddle()
	change(&one)
	return &shop.PrinterSet{Printer: one}
}

// strict is a shop with limits of its own.
func strict(change func(*shop.ShopSet)) *shop.ShopSet {
	b := &shop.ShopSet{Name: "Strict bench", RoomTemperature: shoptest.P(295.15), RoomHumidity: shoptest.P(0.4)}
	change(b)
	return b
}

func oddLots() []oddLot {
	p := shoptest.P
	pla := kept("R1", shop.Regrind, "PLA", 2)
	typed := func(n shop.Need) shop.Need { n.Name, n.From = "clip", "typed"; return n }
	of := func(change func(*fit.Request)) fit.Request {
		r := fit.Request{Lot: "R1", Need: typed(shop.Need{Mass: p(0.3), MeanFlow: p(12e-9), PeakFlow: p(20e-9)})}
		change(&r)
		return r
	}
	plain := of(func(*fit.Request) {})
	flow := func(mean float64) fit.Request {
		return of(func(r *fit.Request) { r.Need.MeanFlow, r.Need.PeakFlow = p(mean), nil })
	}
	nozzle := func(bore float64) fit.Request { return of(func(r *fit.Request) { r.Nozzle = p(bore) }) }
	hot := func(kelvin float64) fit.Request { return of(func(r *fit.Request) { r.Temperature = p(kelvin) }) }
	sieved := func(lot shop.LotID, hole *float64, top, fines float64) *shop.Sieved {
		return &shop.Sieved{Lot: lot, Charge: 0.1, Series: shop.OwnSet, Holes: shop.WovenWire, Hole: hole, Sieves: []shop.OnSieve{{Opening: 4e-3, Mass: 0.1 * top}, {Opening: 2e-3, Mass: 0.03}, {Opening: 1e-3, Mass: 0.07 - 0.1*(top+fines)}, {Opening: 0.5e-3, Mass: 0}}, Pan: 0.1 * fines}
	}
	tested := &shop.FlowTested{Lot: "R1", Load: p(2.16), Temperature: p(483.15), CutTime: p(20), Cuts: []float64{0.6e-3, 0.62e-3, 0.59e-3}}
	turned := &shop.FlowTested{Lot: "R1", Printer: "Puddle", Screw: p(6), Time: p(60), Extruded: p(0.008)}
	bridged, blocked := &shop.Happened{What: shop.BridgedHopper, Printer: "Puddle", Lot: "R1"}, &shop.Happened{What: shop.BlockedNozzle, Printer: "Puddle", Lot: "R1"}
	magnet := &shop.PassedMagnet{Lot: "R1", Metal: 0, Passed: p(1.5)}
	dried := func(hours float64) *shop.Dried {
		return &shop.Dried{Lot: "R1", Way: shop.DryAir, Temperature: 320.15, Time: hours * 3600}
	}
	dryer := func(d shop.Dryer) *shop.DryerSet { return &shop.DryerSet{Dryer: d} }
	well := printer(func(*shop.Printer) {})
	return []oddLot{
		{"nobody knows anything", beside(&shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 0.5}), fit.Request{Lot: "R1", Need: typed(shop.Need{Mass: p(0.2)})}, true},
		{"too little", beside(kept("R1", shop.Regrind, "PLA", 0.1), well), plain, false},
		{"barely, once dusted", beside(kept("R1", shop.Regrind, "PLA", 0.34), well, sieved("R1", nil, 0, 0.3), bridged, printsOf("R1", 0.001, 1, 0)), plain, true},
		{"enough, though dusted", beside(pla, well, sieved("R1", nil, 0, 0.3), bridged), plain, false},
		{"another plastic", beside(pla, well), of(func(r *fit.Request) { r.Need.Polymer = "PETG" }), false},
		{"a name nobody knows", beside(pla, well), of(func(r *fit.Request) { r.Need.Polymer = "cheese" }), false},
		{"not sure", beside(&shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PETG", Sure: p(0.6), Mass: 2}, well), plain, false},
		{"a little of another", beside(kept("R2", shop.Regrind, "PLA", 1), kept("R3", shop.Regrind, "PETG", 1), &shop.Blended{From: []shop.Portion{{Lot: "R2", Mass: 0.98}, {Lot: "R3", Mass: 0.02}}, Into: "B1", Polymer: "PLA"}), of(func(r *fit.Request) { r.Lot = "B1" }), false},
		{"a little for a jig", beside(kept("R2", shop.Regrind, "PLA", 1), kept("R3", shop.Regrind, "PETG", 1), &shop.Blended{From: []shop.Portion{{Lot: "R2", Mass: 0.98}, {Lot: "R3", Mass: 0.02}}, Into: "B1", Polymer: "PLA"}), of(func(r *fit.Request) { r.Lot, r.Strength = "B1", p(0.5) }), false},
		{"metal seen", beside(&shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Sure: p(1), Metal: "a spring", Mass: 2}, well), plain, false},
		{"magnet, none found", beside(pla, well, magnet), plain, false},
		{"magnet, much found", beside(pla, well, &shop.PassedMagnet{Lot: "R1", Metal: 0.002, Passed: p(0.5)}, &shop.PassedMagnet{Lot: "R1", Metal: 0.001}), plain, false},
		{"blocked, no magnet", beside(pla, &shop.MillSet{Mill: shop.Mill{Name: "Rattle"}}, well, blocked, blocked, &shop.Printed{From: "R1", Print: "a", Mass: 0.2}), plain, false},
		{"blocked, sifted finer", beside(pla, well, sieved("R1", p(0.3e-3), 0, 0.3), blocked, printsOf("R1", 0.05, 0, 2)), nozzle(4e-3), false},
		{"bought, blocked", beside(kept("V1", shop.Virgin, "PLA", 5), well, &shop.Happened{What: shop.BlockedNozzle, Printer: "Puddle", Lot: "V1", Since: p(0.1)}, &shop.Happened{What: shop.BridgedHopper, Printer: "Puddle", Lot: "V1"}), of(func(r *fit.Request) { r.Lot = "V1" }), false},
		{"bought, coarse", beside(kept("V1", shop.Virgin, "PETG", 5), printer(func(one *shop.Printer) { one.LargestIn, one.HopperExit = p(2e-3), p(0.012) }), sieved("V1", nil, 0.4, 0)), of(func(r *fit.Request) { r.Lot, r.Temperature = "V1", nil }), false},
		{"coarse", beside(pla, well, sieved("R1", p(5e-3), 0.3, 0.02)), plain, false},
		{"dusty", beside(pla, well, sieved("R1", p(5e-3), 0, 0.25)), plain, false},
		{"dusty by its own limit", beside(pla, strict(func(b *shop.ShopSet) {
			b.MostDust, b.MostMetal, b.MostBlocked, b.ChipShare = p(0.3), p(5e-6), p(0.2), p(0.5)
		}), well, sieved("R1", p(5e-3), 0, 0.25)), plain, false},
		{"dust taught by prints", beside(pla, well, sieved("R1", nil, 0, 0.12), printsOf("R1", 0.02, 6, 1)), plain, true},
		{"scrap", beside(shoptest.Scrap("PLA", "black", 3)), fit.Request{Lot: "S1", Need: typed(shop.Need{Mass: p(0.3)})}, true},
		{"narrow exit, nobody said", beside(pla), plain, false},
		{"narrow exit", beside(pla, printer(func(one *shop.Printer) { one.HopperExit = p(0.012) }), sieved("R1", nil, 0.1, 0.001)), plain, false},
		{"never dried, damp room", beside(kept("R1", shop.Regrind, "PETG", 2), strict(func(b *shop.ShopSet) { b.RoomHumidity = p(0.8) }), well), plain, true},
		{"dried a day ago", beside(kept("R1", shop.Regrind, "PETG", 2), well, dried(12)), of(func(r *fit.Request) { r.Now = shoptest.Noon.Add(21 * time.Hour) }), true},
		{"dried long ago", beside(kept("R1", shop.Regrind, "PETG", 2), well, dried(12)), of(func(r *fit.Request) { r.Now = shoptest.Noon.Add(24 * time.Hour) }), true},
		{"dried for minutes", beside(kept("R1", shop.Regrind, "PA6", 2), well, dried(0.1), dryer(shop.Dryer{Name: "Tower", Way: shop.DryAir, Temperature: p(353), Flow: p(0.001), DewPoint: p(238)}), dryer(shop.Dryer{Name: "Oven", Way: shop.Oven})), of(func(r *fit.Request) { r.Now = shoptest.Noon }), true},
		{"dried, its oven too damp", beside(kept("R1", shop.Regrind, "PET", 2), strict(func(b *shop.ShopSet) { b.RoomHumidity = p(0.9) }), well, dried(0.05), dryer(shop.Dryer{Name: "Oven", Way: shop.Oven})), of(func(r *fit.Request) { r.Now = shoptest.Noon }), true},
		{"turns weighed, too fast", beside(pla, well, turned, turned), flow(1e-6), false},
		{"a turn entered", beside(pla, printer(func(one *shop.Printer) { one.PerTurn, one.IdleWatt = p(1.2e-7), p(60) }), turned), flow(40e-9), false},
		{"a turn entered alone", beside(pla, printer(func(one *shop.Printer) { one.PerTurn, one.IdleWatt = p(1.2e-7), p(60) })), flow(100e-9), false},
		{"weak heaters", beside(pla, printer(func(one *shop.Printer) { one.HeaterWatt = p(40) })), flow(60e-9), false},
		{"a peak only", beside(pla, well), of(func(r *fit.Request) { r.Need.MeanFlow = nil }), false},
		{"a volume", beside(pla, well), of(func(r *fit.Request) {
			r.Need = typed(shop.Need{Volume: p(1e-4), VolumeLo: p(0.9e-4), VolumeHi: p(1.2e-4)})
		}), false},
		{"cold melt", beside(pla, well), hot(455), false},
		{"hot melt", beside(kept("R1", shop.Regrind, "ABS", 2), well), hot(530), false},
		{"narrow nozzle, tested", beside(pla, well, tested), nozzle(0.4e-3), false},
		{"far too narrow, tested", beside(pla, well, tested), of(func(r *fit.Request) { r.Nozzle, r.Need.MeanFlow, r.Need.PeakFlow = p(0.25e-3), p(60e-9), p(90e-9) }), false},
		{"a weak head", beside(pla, strict(func(b *shop.ShopSet) { b.MostPressure, b.LeastStrength, b.LeastSure = p(1e6), p(0.97), p(0.99) }), well, tested), plain, false},
		{"hopeless nozzle, tested", beside(pla, well, tested), of(func(r *fit.Request) { r.Nozzle, r.Need.MeanFlow, r.Need.PeakFlow = p(0.12e-3), p(80e-9), p(90e-9) }), false},
		{"no nozzle would do, tested", beside(pla, well, tested), of(func(r *fit.Request) { r.Nozzle, r.Need.MeanFlow, r.Need.PeakFlow = p(0.15e-3), p(5e-6), p(9e-6) }), false},
		{"one pass, little found", beside(pla, well, &shop.PassedMagnet{Lot: "R1", Metal: 0.002, Passed: p(0.5)}), plain, false},
		{"spoilt while it runs", beside(pla, well), flow(2e-12), false},
		{"blocked, wide nozzle", beside(pla, strict(func(b *shop.ShopSet) { b.ChipShare = p(0.9) }), well, sieved("R1", nil, 0, 0.01), blocked, blocked, blocked, &shop.Printed{From: "R1", Print: "a", Mass: 0.05}), nozzle(6e-3), false},
		{"one bridge only", beside(pla, well, bridged), plain, false},
		{"one print only", beside(pla, well, printsOf("R1", 0.01, 1, 0)), plain, false},
		{"its printer given away", beside(pla, printer(func(one *shop.Printer) { one.Retired = true }), &shop.PrinterSet{Printer: shop.Printer{Name: "Brook", Nozzle: p(0.9e-3)}}), plain, false},
		{"lent law", beside(kept("R1", shop.Regrind, "HIPS", 2), well), plain, false},
		{"guessed law", beside(kept("R1", shop.Regrind, "PVA", 2), well), plain, false},
		{"printed often and well", beside(pla, well, printsOf("R1", 0.03, 12, 0), dried(4), printsOf("R1", 0.03, 5, 1)), of(func(r *fit.Request) { r.Strength = p(0.99) }), true},
		{"its like printed", beside(shoptest.Scrap("PLA", "black", 9), well, &shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.6, Product: p(0.55), Run: 120, Hole: p(2e-3)}, &shop.Ground{Mill: "Rattle", From: "S1", Into: "R2", Charge: 0.6, Product: p(0.55), Run: 120, Hole: p(2e-3)}, printsOf("R2", 0.04, 3, 2)), nozzle(2e-3), false},
		{"two printers", beside(pla, well, &shop.PrinterSet{Printer: shop.Printer{Name: "Brook", Nozzle: p(2e-3), ScrewBore: p(0.02), HeaterWatt: p(300)}}), of(func(r *fit.Request) { r.Printer = "Brook" }), false},
		{"old and damp", beside(kept("V1", shop.Virgin, "PLA", 5), well, &shop.Printed{From: "V1", Into: "P1", Print: "cup", Mass: 1, Moisture: p(0.004), Good: shop.No, Why: "warped"}, &shop.Sorted{From: "P1", Into: []shop.Part{{Lot: "S2", Mass: 1}}},
			&shop.Ground{Mill: "Rattle", From: "S2", Into: "R1", Charge: 0.9, Product: p(0.9), Run: 120}), of(func(r *fit.Request) { r.Strength = p(0.95) }), true},
	}
}

// What odd lots are answered: every number and word of it in a sum, and beside it what decides and what would change
// it. It only notices that something moved: -run AsApproved -update keeps what has been looked at.
func TestOddLotsAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	for k, x := range oddLots() {
		x.req.Seed = uint64(k + 1)
		if x.req.Now.IsZero() {
			x.req.Now = shoptest.Noon.Add(3 * time.Hour)
		}
		if x.req.Draws == 0 {
			x.req.Draws = 4
		}
		if !x.wet {
			x.of = append(x.of, &shop.Dried{Lot: x.req.Lot, Way: shop.DryAir, Temperature: 318.15, Time: 48 * 3600})
		}
		f, err := fit.Judge(shoptest.Bin(t, x.of...), x.req)
		if err != nil {
			t.Fatal(x.name, err)
		}
		fmt.Fprintf(&out, "%s: %s by %s, %.8g\n", x.name, f.Verdict, f.Decides, f.Chance.Value)
		for _, i := range f.Items {
			c := i.Change
			if c == nil {
				fmt.Fprintf(&out, "  %s %s %.8g %s\n", i.Key, i.Verdict, i.Chance, i.Says.Code)
				continue
			}
			fmt.Fprintf(&out, "  %s %s %.8g %t: %s%s; %s %s %g s%s", i.Key, i.Verdict, i.Chance, i.Known, i.Says.Code, numbersIn(i.Says), c.Kind, c.Do.Code, c.Time, numbersIn(c.Do))
			if c.Chance != nil {
				fmt.Fprintf(&out, " then %.8g", *c.Chance)
			}
			out.WriteString("\n")
		}
		d := f.Document
		fmt.Fprintf(&out, "  steps%s; spoilers%s; cautions%s\n", codesOf(d.Steps), codesIn(d.Spoilers), codesIn(d.Cautions))
		fmt.Fprintf(&out, "  answer %s\n  figures %s\n  behind %s\n  charts %s\n", checkrow.Whole(t, []any{d.Head, d.Steps, d.Spoilers, d.Limits, d.Tables, d.Figures}), checkrow.Whole(t, f.Settings), checkrow.Whole(t, d.Reasons), checkrow.Whole(t, d.Charts))
	}
	checkrow.ApprovedText(t, "odd", out.String())
}

// numbersIn are the numbers a saying tells, with those of its parts.
func numbersIn(s fact.Saying) (told string) {
	for _, f := range s.Facts {
		if f.Value != 0 {
			told += fmt.Sprintf(" %.8g", f.Value)
		}
		for _, part := range f.Parts {
			told += " " + part.Code + numbersIn(part)
		}
	}
	return told
}

func codesIn(all []answer.Finding) (told string) {
	for _, x := range all {
		told += " " + x.Code
	}
	return told
}

func codesOf(all []answer.Action) (told string) {
	for _, x := range all {
		told += " " + x.Do.Code
	}
	return told
}
