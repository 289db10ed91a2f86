package web

import (
	"encoding/csv"
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"hopperful/internal/web/address"
	"hopperful/plan/reckon"
)

func TestEveryTopicIsAnsweredAndDownloaded(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	b := emptyShop(t, Options{})
	list := b.get("/reckon").Body.String()
	for _, topic := range reckon.Topics() {
		path := address.Topic(topic.Key)
		if !strings.Contains(list, `href="`+path+`"`) {
			t.Errorf("the list lacks %s", path)
		}
		w := b.get(path)
		body := w.Body.String()
		if w.Code != http.StatusOK || !strings.Contains(body, "The numbers") {
			t.Errorf("%s answers %d: %s", path, w.Code, firstHeading(body))
		}
		for _, bad := range []string{"<nil>", "%!", "NaN", "ZgotmplZ"} {
			if strings.Contains(body, bad) {
				t.Errorf("%s shows %q", path, bad)
			}
		}
		for _, in := range topic.Inputs {
			if in.Form != reckon.LotList && !strings.Contains(body, `name="`+in.Key+`"`) { // no lots, nothing to tick
				t.Errorf("%s does not ask for %s", path, in.Key)
			}
		}
		var found struct{ Answer string }
		if w := b.get(path + "/reckoning.json"); json.Unmarshal(w.Body.Bytes(), &found) != nil || found.Answer == "" {
			t.Errorf("%s as JSON answers %d", path, w.Code)
		}
		if rows, err := csv.NewReader(b.get(path + "/figures.csv").Body).ReadAll(); err != nil || len(rows) < 2 || rows[0][0] != "key" {
			t.Errorf("%s as CSV: %v, %d rows", path, err, len(rows))
		}
	}
	for _, path := range []string{"/reckon/alchemy", "/reckon/drying/nothing.csv", "/reckon/drying/nothing"} {
		if w := b.get(path); w.Code != http.StatusNotFound {
			t.Errorf("%s answers %d", path, w.Code)
		}
	}
}

func TestATopicReckonsWithWhatIsAsked(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	time := func(query string) float64 {
		var found reckon.Reckoning
		w := b.get("/reckon/drying/figures.csv?" + query)
		rows, err := csv.NewReader(w.Body).ReadAll()
		if err != nil {
			t.Fatalf("%s: %v (%v)", query, err, found)
		}
		for _, row := range rows {
			if row[0] == "time" {
				var v float64
				if err := json.Unmarshal([]byte(row[2]), &v); err != nil {
					t.Fatal(err)
				}
				return v
			}
		}
		t.Fatalf("%s gives no time: %v", query, rows)
		return 0
	}
	// Grains of twice the size dry in four times the time, as long as the grain
	// decides: the time of diffusion goes with the square of the size.
	small, large := time("material=PLA&size=2+mm&bed=1+mm"), time("material=PLA&size=4+mm&bed=1+mm")
	if ratio := large / small; ratio < 3.6 || ratio > 4.4 {
		t.Errorf("twice the size takes %g times as long", ratio)
	}
}

// TestACalculatorAnswersWhileItIsMoved moves a dial and watches the answer.
func TestACalculatorAnswersWhileItIsMoved(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), emptyShop(t, Options{}))
	w.look(390, 844, false)
	w.at("/reckon/drying")
	if wide := ask[int64](w, `document.documentElement.scrollWidth`); wide > 390 {
		t.Errorf("the page is %d px wide on a phone", wide)
	}
	for _, small := range ask[[]string](w, smallTargets) {
		t.Error(small)
	}
	before := w.heading()
	w.do("move", chromedp.Evaluate[chromedp.Void](`{const d = document.querySelector('[name="size"]').closest(".field").querySelector("input[type=range]"); d.value = 800; d.dispatchEvent(new Event("input", {bubbles: true}))}`))
	w.until("the answer follows", `document.querySelector("h1").textContent !== `+quoted(before)+` && location.search.includes("size=")`)
	w.do("another material", fillIn("material", ""), chromedp.SetValue(chromedp.CSS(`[name="material"]`), "PETG"), chromedp.Evaluate[chromedp.Void](`document.querySelector('[name="material"]').dispatchEvent(new Event("input", {bubbles: true}))`))
	w.until("the defaults follow", `location.search.includes("PETG") && document.querySelector('[name="density"]').placeholder === "1.27"`)
	w.until("the chart is drawn", `document.querySelectorAll("svg.plot").length === 1`)
	w.picture("reckon-phone")
	w.look(1280, 900, false)
	w.picture("reckon-desk")
	w.accessible("/reckon/drying", 1280)
	w.at("/reckon")
	w.accessible("/reckon", 390)
}

func quoted(text string) string {
	raw, _ := json.Marshal(text) // a string always is
	return string(raw)
}
