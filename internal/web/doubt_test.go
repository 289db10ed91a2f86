package web

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"hopperful/shop"
)

// TestAJarTooHeavyIsAskedAbout writes down 188 g in 200 ml, which loose granules
// of PLA cannot weigh, and looks for the question on the pages of record and lot.
func TestAJarTooHeavyIsAskedAbout(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	b.post("/record/take-in", answers("class", "regrind", "polymer", "PLA", "mass_kg", "400 g"))
	if w := b.post("/record/jar", answers("lot", "R1", "jar_m3", "200 ml", "poured_kg", "188 g")); w.Code != http.StatusSeeOther {
		t.Fatalf("answers %d: %s", w.Code, said422(w.Body.String()))
	}
	for _, path := range []string{fmt.Sprintf("/records/%d", b.store.State().Newest().ID), "/stock/R1"} {
		if page := b.get(path).Body.String(); !strings.Contains(page, "Is that right?") || !strings.Contains(page, "denser than") {
			t.Errorf("%s does not ask", path)
		}
	}
}

// TestASlipIsAskedAboutAndAnswered writes down a product ten times too large: the page that
// follows asks, offers what was meant for the correction, and takes the word that it is so.
func TestASlipIsAskedAboutAndAnswered(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	w := b.post("/record/charge", answers("mill", "Rattle", "from", "S1", "level", "7", "charge_kg", "82", "run_s", "100 s", "product_kg", "780", "left_kg", "3"))
	if w.Code != http.StatusSeeOther {
		t.Fatalf("answers %d: %s", w.Code, said422(w.Body.String()))
	}
	id := b.store.State().Newest().ID
	at := fmt.Sprintf("/records/%d", id)
	for _, path := range []string{at, w.Header().Get("Location")} {
		page := b.get(path).Body.String()
		for _, want := range []string{"Is that right?", "product of", "/correct?product_kg=78", `action="` + at + `/confirm"`, "Yes, it is so", "forecasts leave out what is in doubt"} {
			if !strings.Contains(page, want) {
				t.Errorf("%s lacks %q", path, want)
			}
		}
	}
	if page := b.get(at + "/correct?product_kg=78+g").Body.String(); !strings.Contains(page, `name="product_kg" value="78 g"`) || !strings.Contains(page, `name="charge_kg" value="82"`) {
		t.Error("the correction does not begin with what was meant")
	}
	// A program corrects what it names, and the rest stays.
	if w := b.post(at+"/correct", answers("product_kg", "770 g")); w.Code != http.StatusSeeOther {
		t.Fatalf("the correction answers %d: %s", w.Code, said422(w.Body.String()))
	}
	if r, _ := b.store.State().Record(id); *r.Body.(*shop.Ground).Product != 0.77 || r.Body.(*shop.Ground).Left == nil || r.Body.(*shop.Ground).Level == nil {
		t.Errorf("corrected to %+v", r.Body)
	}
	if w := b.post(at+"/confirm", answers("next", at)); w.Code != http.StatusSeeOther {
		t.Fatalf("the answer answers %d", w.Code)
	}
	if page := b.get(at).Body.String(); strings.Contains(page, "Is that right?") {
		t.Error("it is still asked about")
	}
	if w := b.post(at+"/confirm", nil); w.Code != http.StatusConflict {
		t.Errorf("an answer to nothing answers %d", w.Code)
	}
}

// TestEveryCorrectionOfferedIsWhole: where either mass may be the slip each is offered, and two
// masses that were swapped are both put right.
func TestEveryCorrectionOfferedIsWhole(t *testing.T) {
	t.Parallel()
	ground := func(charge, product float64) *shop.Ground {
		return &shop.Ground{Mill: "Howler", From: "S1", Charge: charge, Run: 120, Product: &product}
	}
	b := shopOf(t, &shop.MillSet{Mill: shop.Mill{Name: "Howler"}}, &shop.TakenIn{Lot: "S1", Class: shop.Scrap, Polymer: "PLA", Mass: 3}, ground(0.09, 0.7))
	page := strings.ReplaceAll(b.get("/records/3").Body.String(), "\u00a0", " ")
	for _, want := range []string{"/records/3/correct?charge_kg=900", "/records/3/correct?product_kg=70", "No, the charge was 900 g", "No, the product was 70 g", "610 g more lay in the mill"} {
		if !strings.Contains(page, want) {
			t.Errorf("the record's page lacks %q", want)
		}
	}
	b = shopOf(t, &shop.MillSet{Mill: shop.Mill{Name: "Howler"}}, &shop.TakenIn{Lot: "S1", Class: shop.Scrap, Polymer: "PLA", Mass: 3}, ground(0.08, 0.09))
	page = b.get("/records/3").Body.String()
	if !strings.Contains(page, "/records/3/correct?charge_kg=90") || !strings.Contains(page, "&amp;product_kg=80") || !strings.Contains(page, "Yes, they were swapped") {
		t.Error("the record's page does not put both masses right")
	}
}
