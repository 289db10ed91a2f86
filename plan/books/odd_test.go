package books

// Both sides of what the books pass over, refuse and leave out, by hand, and months of odd shops whole.

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/internal/checkrow"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// always is all the time there is.
var always = Options{From: time.Unix(0, 0), To: time.Date(2100, 1, 1, 0, 0, 0, 0, time.UTC)}

// A price is from nothing to a million.
func TestPricesAtTheEdge(t *testing.T) {
	t.Parallel()
	for field, set := range map[string]func(*Options, *float64){"granulate": func(o *Options, v *float64) { o.Granulate = v }, "filament": func(o *Options, v *float64) { o.Filament = v },
		"hour": func(o *Options, v *float64) { o.Hour = v }, "grid": func(o *Options, v *float64) { o.Grid = v }} {
		for price, taken := range map[float64]bool{0: true, 1e6: true, -1e-9: false, 1.000001e6: false, math.NaN(): false} {
			o := always
			set(&o, shoptest.P(price))
			_, err := Of(shoptest.Bin(t), o)
			var refused *shop.Error
			if (err == nil) != taken || err != nil && (!errors.As(err, &refused) || refused.Field != field) {
				t.Errorf("%s of %g: %v", field, price, err)
			}
		}
	}
}

// The balance passes over half a milligram and tells the next; what came in that is neither scrap nor new is one line.
func TestLinesOfTheBalance(t *testing.T) {
	t.Parallel()
	of := func(l ledger) answer.Table {
		j := &job{ledger: &l}
		j.balance()
		return j.doc.Tables[0]
	}
	for kg, lines := range map[float64]int{4e-7: 0, 6e-7: 1, -6e-7: 1} {
		if got := of(ledger{taken: map[shop.Class]float64{shop.Scrap: kg}}); len(got.Rows) != lines+1 {
			t.Errorf("%g kg make %d lines", kg, len(got.Rows)-1)
		}
	}
	got := of(ledger{before: shop.Balance{OnHand: 1, InMills: 2, Printed: 4}, after: shop.Balance{OnHand: 8, InMills: 16, Printed: 32},
		taken: map[shop.Class]float64{shop.Scrap: 64, shop.Virgin: 128, shop.Regrind: 256, shop.Blend: 512, shop.Print: 1024}, losses: map[string]float64{shop.SweptUp: 2048, shop.Purged: 4096}})
	want := map[string][2]float64{"books.lots_before": {1, 0}, "books.mills_before": {2, 0}, "books.prints_before": {4, 0}, "books.scrap_taken": {64, 0}, "books.virgin_taken": {128, 0}, "books.other_taken": {256 + 512 + 1024, 0},
		"books.swept": {0, 2048}, "books.purged": {0, 4096}, "books.prints_after": {0, 32}, "books.mills_after": {0, 16}, "books.lots_after": {0, 8}, "books.sum": {1 + 2 + 4 + 64 + 128 + 256 + 512 + 1024, 2048 + 4096 + 32 + 16 + 8}}
	for _, row := range got.Rows {
		code := row[0].Parts[0].Code
		if w, ok := want[code]; !ok || row[1].Value != w[0] || row[2].Value != w[1] {
			t.Errorf("%s: %g in, %g out; wanted %v", code, row[1].Value, row[2].Value, w)
		}
	}
	if rest, _ := got.Notes[0].Fact("rest"); len(got.Rows) != len(want) || got.Notes[0].Code != "books.does_not_close" || rest.Value != 1991-6200 {
		t.Errorf("%d lines, %s of %g", len(got.Rows), got.Notes[0].Code, rest.Value)
	}
	for apart, code := range map[float64]string{0.9e-6: "books.closes", 1.1e-6: "books.does_not_close", -1.1e-6: "books.does_not_close"} {
		if got := of(ledger{before: shop.Balance{OnHand: 1 + apart}, after: shop.Balance{OnHand: 1}}); got.Notes[0].Code != code {
			t.Errorf("%g kg apart: %s", apart, got.Notes[0].Code)
		}
		a := newAccount()
		a.came(fact.Name("what", "a"), 1+apart)
		a.went(fact.Name("what", "b"), 1)
		a.went(fact.Name("what", "c"), 4e-7)
		a.came(fact.Name("what", "d"), 4e-7)
		a.came(fact.Name("what", "e"), 6e-7)
		a.went(fact.Name("what", "f"), 6e-7)
		if got := a.closed(); got.Notes[0].Code != code || len(got.Rows) != 5 {
			t.Errorf("an account %g kg apart: %s in %d lines", apart, got.Notes[0].Code, len(got.Rows))
		}
	}
}

// Anything at all that happened is a head; nothing is said to be nothing.
func TestWhenThereIsNothingToTell(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		l    ledger
		code string
	}{
		{ledger{}, "books.nothing"}, {ledger{runs: 1}, "books.head"}, {ledger{printed: 0.4}, "books.head"}, {ledger{taken: map[shop.Class]float64{shop.Scrap: 1}}, "books.head"},
	} {
		j := &job{ledger: &c.l, opt: always}
		if j.head(); j.doc.Head.Code != c.code {
			t.Errorf("case %d: %s", i, j.doc.Head.Code)
		}
	}
}

// No ratio is told of what was not weighed, and prints a kilogram of scrap only where there are both; half a kilogram is enough.
func TestRatiosOfWhatWasWeighed(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		l    ledger
		keys string
	}{
		{ledger{charged: 0.5, product: 0.4, worked: 0.4}, "yield time"}, {ledger{charged: 0.5}, ""}, {ledger{product: 0.5}, ""},
		{ledger{charged: 0.5, product: 0.4, worked: 0.4, printed: 0.3, scrap: 0.6}, "yield printed_per_scrap time"}, {ledger{charged: 0.5, product: 0.4, worked: 0.4, scrap: 0.6}, "yield time"}, {ledger{charged: 0.5, product: 0.4, worked: 0.4, printed: 0.3}, "yield time"},
	} {
		j := &job{state: shoptest.Bin(t), ledger: &c.l}
		if err := j.money(); err != nil {
			t.Fatal(err)
		}
		var keys []string
		for _, f := range j.doc.Figures {
			keys = append(keys, f.Key)
		}
		for _, s := range j.doc.Reasons {
			for _, f := range s.Figures {
				keys = append(keys, f.Key)
			}
		}
		if got := strings.Join(keys, " "); got != c.keys {
			t.Errorf("case %d tells %q, wanted %q", i, got, c.keys)
		}
	}
}

// What of a lot lies in the mills is no more than they hold, and no less than nothing.
func TestWhatOfALotIsInTheMills(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		in, left, gone, held, want float64
	}{{1, 0.5, 0.3, 0.5, 0.2}, {1, 0.5, 0.3, 0.05, 0.05}, {1, 0.5, 0.6, 0.5, 0}, {1, 0.5, 0.3, 0, 0}} {
		s := &shop.State{Mills: []shop.MillState{{Held: c.held / 2}, {Held: c.held / 2}}}
		l := &shop.Lot{ID: "S1", In: c.in, Mass: c.left, Children: []shop.Edge{{Lot: "R1", Mass: c.gone}}}
		if got := held(s, l); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("case %d: %g kg, by hand %g", i, got, c.want)
		}
	}
	// A joule of a milligram is enough of a reading.
	if v, ok := (metered{0.5, 0.25}).each(); !ok || v.value != 2 {
		t.Errorf("%+v %t", v, ok)
	}
}

// The gas of plastics the books know is told, with how much of the product they leave out: 0.2 of 0.5 kg.
func TestGasOfWhatIsKnown(t *testing.T) {
	t.Parallel()
	j := &job{state: shoptest.Bin(t), ledger: &ledger{byPolymer: map[string]float64{"PLA": 0.3, "mystery": 0.15, "unknown": 0.05}}}
	energy := figure.Figure{Value: 1 * kWh, Low: 0.8 * kWh, High: 1.2 * kWh}
	if err := j.gas(energy, true); err != nil {
		t.Fatal(err)
	}
	s := j.doc.Reasons[0]
	if len(s.Notes) != 2 || s.Notes[1].Code != "books.gas_unknown" || len(s.Figures) != 2 {
		t.Fatalf("%+v", s)
	}
	if m, _ := s.Notes[1].Fact("mass"); math.Abs(m.Value-0.2) > 1e-12 {
		t.Errorf("%g kg are said to be unknown", m.Value)
	}
	// PLA less a kilowatt-hour of a grid nobody named, 0.3 of 0.02 to 0.9.
	pla, saved := s.Figures[0], j.doc.Figures[0]
	for what, x := range map[string][2]float64{"value": {saved.Value, pla.Value - 0.3}, "low": {saved.Low, pla.Low - 1.2*0.9}, "high": {saved.High, pla.High - 0.8*0.02}} {
		if math.Abs(x[0]-x[1]) > 1e-9 {
			t.Errorf("%s: %g, by hand %g", what, x[0], x[1])
		}
	}
	for i, c := range []struct {
		of      map[string]float64
		metered bool
	}{{map[string]float64{"mystery": 1}, true}, {map[string]float64{"PLA": 1}, false}, {nil, true}} {
		j := &job{state: shoptest.Bin(t), ledger: &ledger{byPolymer: c.of}}
		if err := j.gas(energy, c.metered); err != nil || len(j.doc.Reasons)+len(j.doc.Figures) != 0 {
			t.Errorf("case %d: %v, %+v", i, err, j.doc)
		}
	}
	all := &job{state: shoptest.Bin(t), ledger: &ledger{byPolymer: map[string]float64{"PLA": 0.3, "PETG": 0.1}}}
	if err := all.gas(energy, true); err != nil || len(all.doc.Reasons[0].Notes) != 1 {
		t.Errorf("%v: %+v", err, all.doc.Reasons)
	}
}

// Months of odd shops are as approved: what each lacks, and every option given or left out.
func TestOddMonthsAreAsApproved(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	scrap := func(id shop.LotID, polymer string) *shop.TakenIn {
		x := shoptest.Scrap(polymer, "black", 2)
		x.Lot = id
		return x
	}
	run := func(from, into shop.LotID, product, energy *float64) *shop.Ground {
		return &shop.Ground{Mill: "Rattle", From: from, Into: into, Charge: 0.2, Product: product, Run: 90, Energy: energy}
	}
	plain := []shop.Body{scrap("S1", "PLA"), run("S1", "R1", p(0.18), p(4e4)), run("S1", "R1", p(0.19), p(5e4)), run("S1", "R1", nil, p(3e4))}
	bought := &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Sure: p(1), Mass: 2, Price: p(30)}
	prints := []shop.Body{&shop.Printed{From: "R1", Print: "a", Mass: 0.05, Good: shop.Yes}, &shop.Printed{From: "R1", Print: "b", Mass: 0.04, Purged: p(0.004), Energy: p(3e5), Good: shop.No, Why: "thin"}}
	dryings := []shop.Body{&shop.Dried{Lot: "R1", Way: shop.Oven, Temperature: 320, Time: 7200, In: p(0.3), Energy: p(9e5)}, &shop.Dried{Lot: "R1", Way: shop.Oven, Temperature: 320, Time: 3600}, &shop.Dried{Lot: "R1", Way: shop.DesiccantBox, Temperature: 300, Time: 9e4, Out: p(0.2)},
		&shop.Dried{Lot: "R1", Way: shop.OtherWay, Temperature: 300, Time: 100}}
	with := func(parts ...[]shop.Body) (all []shop.Body) {
		for _, x := range parts {
			all = append(all, x...)
		}
		return all
	}
	var out strings.Builder
	for _, c := range []struct {
		name string
		of   []shop.Body
	}{
		{"nothing", nil}, {"ground", plain}, {"no price of electricity", with([]shop.Body{&shop.ShopSet{Name: "Bench", Currency: "EUR", Handling: p(30)}}, plain)},
		{"unmetered", []shop.Body{scrap("S1", "PLA"), run("S1", "R1", p(0.18), nil)}}, {"one reading", []shop.Body{scrap("S1", "PLA"), run("S1", "R1", p(0.18), p(4e4)), run("S1", "R1", p(0.18), nil)}},
		{"bought", with(plain, []shop.Body{bought, &shop.TakenIn{Lot: "V2", Class: shop.Virgin, Polymer: "PETG", Mass: 1}})}, {"printed", with(plain, prints)}, {"dried", with(plain, dryings)},
		{"all of it", with(plain, []shop.Body{bought}, dryings, []shop.Body{&shop.Blended{From: []shop.Portion{{Lot: "R1", Mass: 0.1}, {Lot: "V1", Mass: 0.1}}, Into: "B1"}}, prints, []shop.Body{&shop.Dried{Lot: "R1", Way: shop.Oven, Temperature: 320, Time: 60}})},
		{"nobody knows of what", []shop.Body{scrap("S1", "unknown"), run("S1", "R1", p(0.18), p(4e4)), scrap("S2", "ABS"), run("S2", "R2", p(0.17), p(4e4))}},
	} {
		s := shoptest.Bin(t, c.of...)
		for i, o := range []Options{always, {Hour: p(0.005)}, {Granulate: p(12), Filament: p(25), Hour: p(0.005), Grid: p(1e-7)}, {Filament: p(25)}, {From: shoptest.Noon.Add(-96 * time.Minute), To: shoptest.Noon.Add(-94 * time.Minute)}} {
			if o.To.IsZero() {
				o.From, o.To = always.From, always.To
			}
			b, err := Of(s, o)
			if err != nil {
				t.Fatal(c.name, err)
			}
			d := b.Document
			fmt.Fprintf(&out, "%s %d: %s, %d spoilers; ", c.name, i, d.Head.Code, len(d.Spoilers))
			for _, f := range d.Figures {
				fmt.Fprintf(&out, "%s %.8g ", f.Key, f.Value)
			}
			fmt.Fprintf(&out, "; %s; %s; %s\n", checkrow.Whole(t, d), checkrow.Whole(t, b.Streams), checkrow.Whole(t, d.Spoilers))
		}
		for _, id := range s.Order {
			d, err := OfLot(s, id)
			if err != nil {
				t.Fatal(err)
			}
			fmt.Fprintf(&out, "  %s %s\n", id, checkrow.Whole(t, d))
		}
	}
	checkrow.ApprovedText(t, "odd", out.String())
}
