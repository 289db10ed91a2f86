package web

import (
	"context"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"hopperful/internal/web/address"
	"hopperful/shop"
)

// sieved writes a sieving of a lot down: the masses on falling sieves, the last
// in the pan [g].
func (b *bench) sieved(lot shop.LotID, openings []float64, grams ...float64) shop.RecordID {
	b.t.Helper()
	body := &shop.Sieved{Lot: lot, Series: shop.R20x3, Holes: shop.WovenWire}
	for i, o := range openings {
		body.Sieves = append(body.Sieves, shop.OnSieve{Opening: o * 1e-3, Mass: grams[i] * 1e-3})
	}
	for _, g := range grams {
		body.Charge += g * 1e-3
	}
	body.Pan = grams[len(openings)] * 1e-3
	kept, err := b.store.Append(context.Background(), noon, shop.Record{Body: body})
	if err != nil {
		b.t.Fatal(err)
	}
	return kept[0].ID
}

// stackOfSeven are every second sieve of the principal series, about [mm].
var stackOfSeven = []float64{4, 2.8, 2, 1.4, 1, 0.5, 0.25}

// sievedShop is the invented shop with a sieving of R1 as a sound screen gives it,
// and its page.
func sievedShop(t testing.TB) (b *bench, sound string) {
	b = plannedShop(t, Options{})
	return b, address.Sieving("R1", b.sieved("R1", stackOfSeven, 0, 0, 0.4, 10.3, 14.2, 13.8, 4.9, 2.2))
}

// tornShop has a sieving of R3 besides, far coarser than the screen's holes.
func tornShop(t testing.TB) (b *bench, sound, coarse string) {
	b, sound = sievedShop(t)
	return b, sound, address.Sieving("R3", b.sieved("R3", stackOfSeven, 3, 8, 9, 10.3, 9.2, 8.8, 3.9, 2.2))
}

func TestASievingAnswersWithItsPictures(t *testing.T) {
	t.Parallel()
	b, sound := sievedShop(t)
	body := b.get(sound).Body.String()
	inOrder(t, headingsOf(body), "Sieve by sieve", "How fine it is", "In numbers", "Where the mass is", "On the RRSB net")
	for _, want := range []string{`"yticks":[`, `"bars":true`, `<th scope="row">1.40`, "63 % is finer than", "Which law it follows", "The screen"} {
		if !strings.Contains(body, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
	if body := b.get("/stock/R1").Body.String(); !strings.Contains(body, sound) {
		t.Error("the lot does not lead to its sieving")
	}
}

func TestACoarseProductAsksForALookAtTheScreen(t *testing.T) {
	t.Parallel()
	b, sound, coarse := tornShop(t)
	if body := b.get(sound + "?with=R3").Body.String(); !strings.Contains(body, `"name":"R3"`) {
		t.Error("the other lot is not laid over it")
	}
	if body := b.get("/").Body.String(); !strings.Contains(firstHeading(body), "Rattle and look at its screen") || !strings.Contains(body, `href="/stock/R3"`) {
		t.Errorf("the first page says %s", firstHeading(body))
	}
	w := b.post("/record/service", answers("mill", "Rattle", "part", "screen", "what", "found damaged", "sound", "no"))
	if body := b.get("/").Body.String(); w.Code != http.StatusSeeOther || !strings.Contains(body, `href="/machines/Rattle/learn"`) {
		t.Errorf("after a damage was found (%d) the first page says %s and does not lead to the mill", w.Code, firstHeading(body))
	}
	if body := b.get(coarse).Body.String(); !strings.Contains(body, "is damaged") || !strings.Contains(body, "part=screen") {
		t.Errorf("a coarse product does not raise the question of the screen:\n%s", body)
	}
}

func TestASievingIsAlsoForPrograms(t *testing.T) {
	t.Parallel()
	b, sound := sievedShop(t)
	w := b.get(sound + "/passing.csv")
	if w.Code != http.StatusOK || !strings.HasPrefix(w.Body.String(), "curve,sieve opening [mm],\"share that passes [%], 10 %\"") {
		t.Errorf("the numbers answer %d: %.90s", w.Code, w.Body)
	}
	r := httptest.NewRequest("GET", sound, nil)
	r.Header.Set("Accept", "application/json")
	var found struct{ Answer string }
	if w := b.ask(r); json.Unmarshal(w.Body.Bytes(), &found) != nil || !strings.Contains(found.Answer, "R1") {
		t.Errorf("the JSON answers %d: %.90s", w.Code, w.Body)
	}
	for _, path := range []string{"/stock/R1/sieve/1", "/stock/R2/sieve/" + sound[len("/stock/R1/sieve/"):], "/stock/R1/sieve/x", sound + "/passing", sound + "/nothing.csv"} {
		if w := b.get(path); w.Code != http.StatusNotFound {
			t.Errorf("%s answers %d", path, w.Code)
		}
	}
}

// TestASievingIsDrawn looks at the pictures in a browser.
func TestASievingIsDrawn(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	browser := oneBrowser(t)
	b, sound, coarse := tornShop(t)
	w := open(t, browser, b)
	for i, path := range []string{sound + "?with=R3", coarse} {
		w.look([]int64{1280, 390}[i], 844, false)
		w.at(path)
		w.until("the charts are drawn", `document.querySelectorAll("svg.plot").length === 3`)
		if n := ask[int](w, `document.querySelectorAll("figure.chart:first-of-type svg.plot [aria-label=dot] path, figure.chart:first-of-type svg.plot circle").length`); n < 7 {
			t.Errorf("%s shows %d measurements", path, n)
		}
		w.picture([]string{"sieving-desk", "sieving-phone"}[i])
		w.accessible(path, []int64{1280, 390}[i])
	}
}
