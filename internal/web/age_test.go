package web

import (
	"context"
	"encoding/csv"
	"math"
	"net/http"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hopperful/internal/say"
	"hopperful/internal/web/drawing"
	"hopperful/plan/traceability"
	"hopperful/shop"
)

// shopOf is a shop of some records, with its pages.
func shopOf(t testing.TB, bodies ...shop.Body) *bench {
	t.Helper()
	b := emptyShop(t, Options{})
	for _, body := range bodies {
		if _, err := b.store.Append(context.Background(), noon, shop.Record{At: noon, Body: body}); err != nil {
			t.Fatal(err)
		}
	}
	return b
}

func TestAgesAreDrawnWell(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		s := randomShop(rt, t)
		a, err := traceability.AgeOf(s, rapid.SampledFrom(s.Order).Draw(rt, "lot"))
		if err != nil {
			rt.Fatal(err)
		}
		p := say.For()
		if rapid.Bool().Draw(rt, "comma") {
			p = p.WithComma()
		}
		text := string(drawing.Age(p, a, a.Gathered(traceability.MostPasses), drawing.NoColour))
		wellFormed(rt, text)
		for _, bad := range []string{"NaN", "Inf", "%!", "style="} {
			if strings.Contains(text, bad) {
				rt.Fatalf("the drawing says %s", bad)
			}
		}
		if !strings.Contains(text, ">mean ") || !strings.Contains(text, ">oldest twentieth ") {
			rt.Fatal("mean and oldest are not named")
		}
	})
}

// A half of new granulate and a half of prints of it are melted half a time on
// average (own derivation, counting).
func TestALotsPageSaysHowOldItIs(t *testing.T) {
	t.Parallel()
	b := shopOf(t, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Mass: 2},
		&shop.Printed{From: "V1", Into: "P1", Print: "vase", Mass: 0.5},
		&shop.Sorted{From: "P1", Into: []shop.Part{{Lot: "S1", Mass: 0.5}}},
		&shop.Blended{From: []shop.Portion{{Lot: "S1", Mass: 0.4}, {Lot: "V1", Mass: 0.4}}, Into: "B1"},
		&shop.TakenIn{Lot: "S2", Class: shop.Scrap, Polymer: "PLA", Mass: 1})
	for path, want := range map[string][]string{
		"/stock/B1": {"B1 was melted 0.5 times on average", `class="ages"`, "50 % had 0 passes and 50 % had 1 passes", "melt flow rate", "passes of the oldest twentieth"},
		"/stock/V1": {"never printed, so there are no passes to draw"},
		"/stock/P1": {"Nothing of it is left"},
		"/stock/S2": {"The past of 100 % of it is judged", `class="reach"`},
	} {
		body := b.get(path).Body.String()
		for _, w := range want {
			if !strings.Contains(strings.ReplaceAll(body, "\u00a0", " "), w) {
				t.Errorf("%s does not say %q", path, w)
			}
		}
		if drawn := strings.Contains(body, `class="ages"`); drawn != (path == "/stock/B1" || path == "/stock/S2") {
			t.Errorf("%s: drawn %t", path, drawn)
		}
	}
	rows, err := csv.NewReader(b.get("/stock/B1/age/age.csv").Body).ReadAll()
	if err != nil || len(rows) != 3 {
		t.Fatalf("%v, %v", rows, err)
	}
	for _, row := range rows[1:] {
		if x, err := strconv.ParseFloat(row[1], 64); err != nil || math.Abs(x-0.5) > 1e-9 {
			t.Errorf("the file says %v", row)
		}
	}
	w := b.get("/stock/S2/age/age.svg")
	wellFormed(t, w.Body.String())
	if strings.Contains(w.Body.String(), "var(") {
		t.Error("the file still needs the page")
	}
	for _, path := range []string{"/stock/B1/age/nothing", "/stock/R9/age/age.svg"} {
		if w := b.get(path); w.Code != http.StatusNotFound {
			t.Errorf("%s answers %d", path, w.Code)
		}
	}
}
