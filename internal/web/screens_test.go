package web

import (
	"fmt"
	"net/http"
	"testing"

	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// TestAnswersStayOnAFewScreens walks the answers of a shop that knows next to nothing, and
// in German, whose words are longer, those that are longest in one that knows a lot. The
// other kinds of page are walked by TestNothingRunsOffAPhone.
func TestAnswersStayOnAFewScreens(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	browser := oneBrowser(t)
	w := open(t, browser, roughShop(t))
	for _, path := range []string{"/", "/stock", "/stock/S1", "/stock/R1", "/stock/R1/family", "/stock/R1/books", "/plan/pot", "/plan/vase", "/blend/vase", "/fit/R1/vase", "/fit/R1/pot", "/dry/R1",
		"/machines", "/machines/Howler/learn", "/machines/Howler/upkeep", "/dose", "/books", "/records/4", "/records/4/correct", "/start/mill"} {
		w.look(390, 844, false)
		w.at(path)
		w.few(path)
	}
	w = open(t, browser, inGerman(t))
	for _, path := range []string{"/plan/four%20planter%20feet", "/plan/vase", "/fit/R1/four%20planter%20feet", "/stock/R1", "/machines/Rattle/learn", "/reckon/drying"} {
		w.at(path)
		w.few(path)
	}
	w = open(t, browser, inTheir("de", weighedInSieves(t)))
	for _, path := range []string{"/records/8/correct", "/records/8"} {
		w.at(path)
		w.few(path)
	}
	b := inTheir("de", roughCampaign(t))
	w = open(t, browser, b)
	for _, send := range [][]string{{"what", "sheet skipped"}, {"what", "started"}, {"what", "stopped"}, {"product_kg", "700", "left_kg", "5", "k", "1"},
		{"what", "started"}, {"what", "stopped"}, {"product_kg", "9", "left_kg", "5", "k", "2"}} {
		part := "mark"
		if len(send) > 2 {
			part = "charge"
		}
		if got := b.post("/run/9/"+part, answers(append(send, "key", fmt.Sprint(send))...)); got.Code != http.StatusSeeOther {
			t.Fatalf("%v is answered with %d", send, got.Code)
		}
		w.at("/run/9")
		w.until("the plan is there", `!document.querySelector("[data-planning]")`)
		w.few(fmt.Sprint("a campaign after ", send))
	}
	if asked := ask[int](w, `document.querySelectorAll(".asked").length`); asked != 1 {
		t.Errorf("of a charge that cannot be so are asked %d questions", asked)
	}
}

// weighedInSieves is the rough shop with a sample that was weighed in ten sieves, as their
// record 8.
func weighedInSieves(t testing.TB) *bench {
	b := roughShop(t)
	sample := &shop.Sieved{Lot: "R1", Charge: 0.045, Series: shop.R20x3, Holes: shop.WovenWire, Gross: true, Pan: 0.305, PanTare: shoptest.P(0.3), LongFound: new(int), Hole: shoptest.P(3e-3)}
	for _, opening := range []float64{8e-3, 5.6e-3, 4e-3, 2.8e-3, 2e-3, 1.4e-3, 1e-3, 0.71e-3, 0.5e-3, 0.355e-3} {
		sample.Sieves = append(sample.Sieves, shop.OnSieve{Opening: opening, Mass: 0.404, Tare: shoptest.P(0.4)})
	}
	if _, err := b.store.Append(t.Context(), noon, shop.Record{At: noon, Body: sample}); err != nil {
		t.Fatal(err)
	}
	return b
}

// roughCampaign is the rough shop with its slip struck out and, as record 9, a campaign begun
// that was planned from next to nothing.
func roughCampaign(t testing.TB) *bench {
	t.Helper()
	b := roughShop(t)
	if _, err := b.store.Append(t.Context(), noon, shop.Record{Corrects: 4, Body: &shop.Void{}}, shop.Record{Body: &shop.CampaignBegun{Mill: "Howler", Polymer: "PLA", Needs: []string{"pot"}, Wanted: 0.85,
		Cycle: shop.Cycle{Charge: 0.09, Run: 120, Rest: 900, Charges: 12, Wall: shoptest.P(328.15)}}}); err != nil {
		t.Fatal(err)
	}
	return b
}

// roughShop is a new shop: one mill, two bins of which one is unknown, two charges of which
// one was written down with ten times what can have come out, and two prints.
func roughShop(t testing.TB) *bench {
	t.Helper()
	need := func(name string, mass float64) *shop.NeedSet {
		return &shop.NeedSet{Need: shop.Need{Name: name, Polymer: "PLA", From: "typed", Mass: &mass}}
	}
	ground := func(product float64) *shop.Ground {
		return &shop.Ground{Mill: "Howler", From: "S1", Into: "R1", Charge: 0.09, Run: 120, Product: &product}
	}
	return shopOf(t, &shop.MillSet{Mill: shop.Mill{Name: "Howler", RatedPower: shoptest.P(2000.0), Chamber: shoptest.P(1e-3)}},
		&shop.TakenIn{Lot: "S1", Class: shop.Scrap, Polymer: "PLA", Colour: "black", Mass: 1.2}, &shop.TakenIn{Lot: "S2", Class: shop.Scrap, Mass: 0.8},
		ground(0.7), ground(0.07), need("vase", 0.24), need("pot", 0.85))
}

// few holds a page to what a phone of 390 by 844 shows with a few strokes of the thumb.
func (w *tab) few(path string) {
	w.t.Helper()
	w.look(390, 844, false)
	for _, fault := range ask[[]string](w, tooMuch) {
		w.t.Errorf("%s: %s", path, fault)
	}
}

// tooMuch is what a page shows too much of: more than four screens, unless it is a list one
// can look through by a word; steps that begin after the second; more figures than a person
// acts on that do not wait to be opened, but where each is a plastic in a picture; a name
// without room, a table of four columns that is cut off, a caution longer than its two short
// lines; labels of a chart that run over one another or out of it.
const tooMuch = `(() => {
	const seen = (e) => e.checkVisibility({contentVisibilityAuto: true}), faults = [], high = document.documentElement.scrollHeight / 844;
	if (high > 4 && !document.querySelector("main [type=search]")) faults.push(high.toFixed(2) + " screens");
	const steps = document.querySelector("ol.steps");
	if (steps && (steps.getBoundingClientRect().top + scrollY) / 844 >= 2) faults.push("the steps begin after the second screen");
	const figures = [...document.querySelectorAll("main details.fig")].filter((f) => seen(f) && !f.closest(".floats, .shares")).length;
	if (figures > 12) faults.push(figures + " figures are open");
	for (const n of document.querySelectorAll("main .rows:not(.floats, .shares) > .fig > summary > .fig-name")) {
		if (seen(n) && n.getBoundingClientRect().width < 90) faults.push("the name of a figure has no room: " + n.textContent);
	}
	for (const s of document.querySelectorAll("main .scroll:not(.kin-scroll)")) {
		const columns = s.querySelectorAll("table.tight thead th").length;
		if (seen(s) && columns > 0 && columns <= 4 && s.scrollWidth > s.clientWidth + 1) faults.push("a table is cut off: " + s.textContent.slice(0, 40));
	}
	for (const s of document.querySelectorAll("details.line:not([open]) > summary")) {
		if (seen(s) && s.getBoundingClientRect().height > 72) faults.push("longer than two lines: " + s.textContent.slice(0, 40));
	}
	for (const svg of document.querySelectorAll("svg.plot")) {
		const all = [...svg.querySelectorAll("text")].filter((t) => t.textContent && seen(t)).map((t) => [t.textContent, t.getBoundingClientRect()]);
		const box = svg.getBoundingClientRect();
		all.forEach(([a, r]) => { if (r.left < box.left - 2 || r.right > box.right + 2) faults.push("in a chart " + a + " runs out of it"); });
		all.forEach(([a, r], i) => all.slice(i + 1).forEach(([b, s]) => {
			if (Math.min(r.right, s.right) - Math.max(r.left, s.left) > 1 && Math.min(r.bottom, s.bottom) - Math.max(r.top, s.top) > 3) faults.push("in a chart " + a + " runs over " + b);
		}));
	}
	return faults;
})()`
