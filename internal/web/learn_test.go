package web

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

func TestAMillShowsWhatItsRecordsTaught(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	body := b.get("/machines/Rattle/learn").Body.String()
	// What belongs together is folded under its name, and a number that names how many.
	folded := regexp.MustCompile(`<summary>(Of [^<]*[^< ]) ?<span class="small">[1-9][0-9]*</span>.*?</summary>`).ReplaceAllString(body, "<h3>$1</h3>")
	inOrder(t, headingsOf(folded), "How the blade wears", "Forecast and actual", "From the books to now", "Of the mill", "Of PLA on it", "Do readings lie where they should?")
	for _, want := range []string{`class="book"`, `class="dot"`, "of the book’s spread", "from 3"} {
		if !strings.Contains(strings.ReplaceAll(body, "book&#39;s", "book’s"), want) {
			t.Errorf("the page lacks %s", want)
		}
	}
	if body := b.get("/machines").Body.String(); !strings.Contains(body, `/machines/Rattle/learn`) {
		t.Error("the machines page does not lead there")
	}
}

func TestAMillWithoutRunsHasOnlyBooks(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	if w := b.post("/record/mill", answers("mill.name", "New & shiny", "mill.rated_w", "1.5 kW")); w.Code != http.StatusSeeOther {
		t.Fatalf("the mill answers %d", w.Code)
	}
	w := b.get("/machines/New%20&%20shiny/learn")
	if w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "everything is from books") {
		t.Errorf("it answers %d: %s", w.Code, firstHeading(w.Body.String()))
	}
	if w := b.get("/machines/nobody/learn"); w.Code != http.StatusNotFound {
		t.Errorf("a mill that is not there answers %d", w.Code)
	}
}

func TestLearningIsAlsoForPrograms(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	if w := b.get("/machines/Rattle/learn/wear.csv"); w.Code != http.StatusOK || !strings.HasPrefix(w.Body.String(), "curve,ground since") {
		t.Errorf("the numbers answer %d: %.90s", w.Code, w.Body)
	}
	r := httptest.NewRequest("GET", "/machines/Rattle/learn", nil)
	r.Header.Set("Accept", "application/json")
	var found struct{ Head struct{ Code string } }
	if w := b.ask(r); json.Unmarshal(w.Body.Bytes(), &found) != nil || found.Head.Code != "learn.taught" {
		t.Errorf("the JSON answers %d: %.90s", w.Code, w.Body)
	}
}

// TestLearningIsDrawn looks at the page in a browser.
func TestLearningIsDrawn(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), shopToLookAt(t))
	for _, width := range []int64{390, 1280} {
		w.look(width, 844, false)
		w.at("/machines/Rattle/learn")
		w.until("the answer is there", `document.querySelectorAll("[data-chart]").length === 2`) // a slow machine shows a page that waits first
		ask[int64](w, `(() => { const all = document.querySelectorAll("details"); all.forEach(d => d.open = true); return all.length })()`)
		w.until("the charts are drawn", `document.querySelectorAll("svg.plot").length === 2`)
		w.picture([]string{"learn-phone", "learn-desk"}[min(width/1000, 1)])
		if wide := ask[int64](w, `document.documentElement.scrollWidth`); wide > width {
			t.Errorf("the page is %d px wide on a window of %d px", wide, width)
		}
	}
	w.accessible("/machines/Rattle/learn", 1280)
}

// whole makes the window as high as the page in it, so that the bar that stays at the
// thumb covers nothing. A window of a set height would be drawn to its last pixel.
func (w *tab) whole(width int64, dark bool) {
	w.t.Helper()
	w.look(width, 844, dark)
	w.look(width, ask[int64](w, `document.documentElement.scrollHeight`)+400, dark)
}

// accessible holds the page that is shown against axe-core, light and dark, with
// the first of each group of things that open opened.
func (w *tab) accessible(path string, width int64) {
	w.t.Helper()
	was := w.seen
	defer func() { w.look(was.width, was.height, was.dark) }()
	w.do("open all", chromedp.Evaluate[chromedp.Void](`document.querySelectorAll("details:first-of-type").forEach(d => { d.open = true })`), chromedp.Evaluate[chromedp.Void](axe+";"+axeSet))
	w.whole(width, false)
	for _, v := range askWithin[[]string](w, axeLimit, axeLight) {
		w.t.Errorf("%s (%d px, light): %s", path, width, v)
	}
	w.whole(width, true)
	for _, v := range askWithin[[]string](w, axeLimit, axeDark) {
		w.t.Errorf("%s (%d px, dark): %s", path, width, v)
	}
	for _, fault := range w.complaints() {
		if !strings.Contains(fault, "404") {
			w.t.Error(fault)
		}
	}
}
