package web

import (
	"context"
	"encoding/json"
	"html"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"hopperful/internal/say"
	"hopperful/shop"
)

// TestAHeapIsAskedInColoursAndLots: the address holds the list, what is wrong
// stands at its field, nothing typed is lost.
func TestAHeapIsAskedInColoursAndLots(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	ask := func(query string) (colours [][]string, with string) {
		var found say.Document
		w := b.get("/reckon/scrap-colour/reckoning.json?" + query)
		if err := json.Unmarshal(w.Body.Bytes(), &found); err != nil || found.Answer == "" || len(found.Tables) != 1 || len(found.Reasons) != 1 {
			t.Fatalf("%s: %d %v %s", query, w.Code, err, w.Body.String())
		}
		for _, n := range found.Reasons[0].Notes {
			with += n.Say + "; "
		}
		return found.Tables[0].Rows, with
	}
	if rows, _ := ask("colours=" + url.QueryEscape("#1c1c1c 5, #f2f2ee 95")); len(rows) < 4 || rows[1][1] != "#f2f2ee" || rows[1][3] != "95 %" {
		t.Errorf("%q", rows)
	}
	if rows, with := ask("lot=S1&lot=S2"); !strings.Contains(with, ": S1, S2") || !strings.Contains(with, ": weighed") || rows[0][0] != "S1" {
		t.Errorf("%s %q", with, rows)
	}
	for _, c := range []struct {
		query, says string
		code        int
	}{
		{"colours=" + url.QueryEscape("#1c1c1c 5, #f2f2e 95"), "colour 2", http.StatusUnprocessableEntity},
		{"wanted=red", "is no colour code", http.StatusUnprocessableEntity},
		{"lot=S1&colours=" + url.QueryEscape("#1c1c1c 5"), "given twice", http.StatusUnprocessableEntity},
		{"lot=S99", "no lot S99", http.StatusUnprocessableEntity},
		{"lot=S7", "took the colour", http.StatusUnprocessableEntity},
	} {
		w := b.get("/reckon/scrap-colour?" + c.query)
		body := w.Body.String()
		if w.Code != c.code || !strings.Contains(strings.ToLower(body), strings.ToLower(c.says)) || !strings.Contains(body, `class="wrong"`) {
			t.Errorf("%s answers %d: %s", c.query, w.Code, firstHeading(body))
		}
		for _, typed := range []string{"#f2f2e 95", "red"} {
			if strings.Contains(c.query, url.QueryEscape(typed)) && !strings.Contains(body, typed) {
				t.Errorf("%s loses what was typed", c.query)
			}
		}
	}
}

// TestStockAndLotsLeadToTheirQuestions: all the scrap as one heap, and the regrind
// of a lot's plastic as a loop.
func TestStockAndLotsLeadToTheirQuestions(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	for _, c := range []struct{ at, to, says string }{
		{"/stock", "/reckon/scrap-colour?lot=S1", "Melted into one"},
		{"/stock/R1", "/reckon/loop?material=PLA", "regrind the loop settles"},
	} {
		body := html.UnescapeString(b.get(c.at).Body.String())
		_, rest, ok := strings.Cut(body, `href="`+c.to)
		if !ok {
			t.Errorf("%s does not ask %s", c.at, c.to)
			continue
		}
		more, _, _ := strings.Cut(rest, `"`)
		if w := b.get(c.to + more); w.Code != http.StatusOK || !strings.Contains(firstHeading(w.Body.String()), c.says) {
			t.Errorf("%s%s answers %d: %s", c.to, more, w.Code, firstHeading(w.Body.String()))
		}
	}
	uncoloured := emptyShop(t, Options{})
	for _, lot := range []shop.LotID{"S1", "S2"} { // nobody took the colour of either
		if _, err := uncoloured.store.Append(context.Background(), noon, shop.Record{At: noon, Body: &shop.TakenIn{Lot: lot, Class: shop.Scrap, Mass: 1, Polymer: "PLA", Halogen: shop.No}}); err != nil {
			t.Fatal(err)
		}
	}
	if body := uncoloured.get("/stock").Body.String(); strings.Contains(body, "scrap-colour") {
		t.Error("a stock without a colour asks what colour a heap would become")
	}
	if body := emptyShop(t, Options{}).get("/stock").Body.String(); strings.Contains(body, "scrap-colour") {
		t.Error("an empty stock asks what its heap becomes")
	}
}

// TestColoursArePickedWithAFinger moves a share, adds a colour, takes one out, and
// watches the answer; the text says the same as the rows.
func TestColoursArePickedWithAFinger(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), shopToLookAt(t))
	w.look(390, 844, false)
	w.at("/reckon/scrap-colour")
	w.until("the rows stand", `document.querySelectorAll(".share-row").length === 3`)
	if wide := ask[int64](w, `document.documentElement.scrollWidth`); wide > 390 {
		t.Errorf("the page is %d px wide on a phone", wide)
	}
	for _, small := range ask[[]string](w, smallTargets) {
		t.Error(small)
	}
	w.accessible("/reckon/scrap-colour", 390)
	before := w.heading()
	move := func(what, value string) string {
		return `{const d = ` + what + `; d.value = ` + quoted(value) + `; d.dispatchEvent(new Event("input", {bubbles: true}))}`
	}
	w.do("less black", chromedp.Evaluate[chromedp.Void](move(`document.querySelector(".share-row input[type=range]")`, "2")))
	w.until("the answer follows", `document.querySelector("h1").textContent !== `+quoted(before)+` && location.search.includes("colours=") && document.querySelector('[name="colours"]').value.startsWith("#1c1c1c 2,")`)
	if shown := ask[int64](w, `document.querySelectorAll(".patches li").length`); shown < 5 {
		t.Errorf("%d patches", shown)
	}
	w.do("another", chromedp.Evaluate[chromedp.Void](`[...document.querySelectorAll("button")].find((b) => b.textContent === "Add a colour").click()`))
	w.until("a row more", `document.querySelectorAll(".share-row").length === 4`)
	w.do("blue", chromedp.Evaluate[chromedp.Void](move(`document.querySelectorAll(".share-row input[type=color]")[3]`, "#1e5aa8")))
	w.until("it is in the text", `document.querySelector('[name="colours"]').value.includes("#1e5aa8") && document.querySelector(".found").textContent.includes("#1e5aa8")`)
	w.do("take it out", chromedp.Evaluate[chromedp.Void](`document.querySelector('[aria-label="Take out colour 4"]').click()`))
	w.until("it is gone", `document.querySelectorAll(".share-row").length === 3 && !document.querySelector('[name="colours"]').value.includes("#1e5aa8")`)
	w.do("a wanted colour", chromedp.Evaluate[chromedp.Void](move(`document.querySelector('[name="wanted"]').nextElementSibling`, "#c8c8c0")))
	w.until("it is wanted", `document.querySelector('[name="wanted"]').value === "#c8c8c0" && location.search.includes("c8c8c0")`)
	w.do("lots instead", chromedp.Evaluate[chromedp.Void](move(`document.querySelector('[name="colours"]')`, "")),
		chromedp.Evaluate[chromedp.Void](`document.querySelectorAll('[name="lot"]').forEach((b) => { if (b.value === "S1" || b.value === "S2") b.click(); })`))
	w.until("the lots answer", `location.search.includes("lot=S1&lot=S2") && document.querySelector(".found").textContent.includes("without S1")`)
	w.until("no dials stand beside them", `document.querySelector(".share-rows").getClientRects().length === 0`)
	w.picture("shares-phone")
	w.look(1280, 900, false)
	w.picture("shares-desk")
	w.accessible("/reckon/scrap-colour?lot=S1&lot=S2", 1280)
	w.look(390, 844, true)
	w.at("/reckon/concentrate")
	if wide := ask[int64](w, `document.documentElement.scrollWidth`); wide > 390 {
		t.Errorf("the concentrate is %d px wide on a phone", wide)
	}
	w.accessible("/reckon/concentrate", 390)
}
