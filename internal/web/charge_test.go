package web

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/sheets"
	"hopperful/shop"
)

// begunWith are the answers an empty sheet of a charge begins with.
func begunWith(b *bench, query ...string) map[string]string {
	d := &desk.Desk{State: b.store.State(), Say: say.For(), Now: noon, Query: answers(query...).Get}
	first := map[string]string{}
	sheets.Charge(d).Fields(func(f forms.Field) { first[f.Path] = f.First })
	return first
}

func TestAChargeBeginsAsTheLastOneWas(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	last := sheets.LastGround((&desk.Desk{State: b.store.State(), Say: say.For()}), "")
	if last == nil || last.Level == nil {
		t.Fatal("the invented shop has no last charge at a level")
	}
	got := begunWith(b)
	for path, want := range map[string]string{"mill": last.Mill, "from": string(last.From), "level": address.Number(*last.Level), "into": string(last.Into)} {
		if got[path] != want {
			t.Errorf("%s begins as %q, the last was %q", path, got[path], want)
		}
	}
	if got["charge_kg"] == "" || got["run_s"] != "" || got["product_kg"] != "" {
		t.Errorf("charge %q, run %q, product %q: only the charge repeats itself", got["charge_kg"], got["run_s"], got["product_kg"])
	}
}

// A campaign that goes on says the next charge; the last one was of another day.
func TestAChargeOfACampaignIsThePlanned(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	nine(t, b.store, noon, 100, 300)
	if got := begunWith(b); got["mill"] != "Rattle" || got["charge_kg"] != "90" || got["level"] != "12" || got["from"] != "S1" {
		t.Errorf("the sheet begins with %v", got)
	}
	if got := begunWith(b, "lot", "S2"); got["charge_kg"] != "" {
		t.Errorf("a charge of another lot begins with %q g of the campaign's", got["charge_kg"])
	}
}

func TestAChargeOfAnotherLotGoesIntoANewOne(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	got := begunWith(b, "lot", "S5", "mill", "Grumble")
	if got["mill"] != "Grumble" || got["from"] != "S5" || got["level"] != "" {
		t.Errorf("the sheet begins with %v", got)
	}
	if got := begunWith(b, "lot", "S6"); got["into"] != "" {
		t.Errorf("S6 would go into %s, which is of another lot", got["into"])
	}
}

func TestAChargeIsNeverMoreThanTheLotHas(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	l, _ := b.store.State().Lot("S1")
	if w := b.post("/record/weigh", answers("lot", "S1", "mass_kg", "31.25 g")); w.Code != 303 {
		t.Fatalf("weighing answers %d", w.Code)
	}
	if got := begunWith(b, "lot", "S1")["charge_kg"]; got != "31.3" && got != "31.2" {
		t.Errorf("of the 31.25 g left of %s the charge begins with %q g", l.ID, got)
	}
}

// TestTheStopwatchFillsInTheRun starts and stops a run with one thumb.
func TestTheStopwatchFillsInTheRun(t *testing.T) {
	t.Parallel()
	browser := oneBrowser(t)
	b := demoShop(t, Options{})
	w := open(t, browser, b)
	w.look(390, 844, false)
	w.at("/record/charge?lot=S1&target=1")
	if high := ask[float64](w, `document.querySelector(".stopwatch .go").getBoundingClientRect().height`); high < 80 {
		t.Errorf("the button is %g px high, too small for a glove", high)
	}
	w.do("start", chromedp.Click(chromedp.CSS(`.stopwatch .go`)))
	w.do("reload", chromedp.Reload())
	w.until("the run goes on after a reload, and past its time", `!!document.querySelector(".stopwatch.over")`)
	w.picture("stopwatch-over")
	w.do("stop", chromedp.Click(chromedp.CSS(`.stopwatch .go`)))
	if run := ask[string](w, `document.querySelector('[name="run_s"]').value`); !strings.HasPrefix(run, "0:") || run == "0:00" {
		t.Errorf("the run time is filled in as %q", run)
	}
	if at := ask[string](w, `document.activeElement.name`); at != "product_kg" {
		t.Errorf("after the stop the focus is on %q", at)
	}
	w.do("start again", chromedp.Click(chromedp.CSS(`.stopwatch .go`)))
	if rest := ask[string](w, `document.querySelector('[name="rest_before_s"]').value`); rest == "" {
		t.Error("the rest since the last stop is not filled in")
	}
	w.do("stop again", chromedp.Click(chromedp.CSS(`.stopwatch .go`)))
	w.do("product", fillIn("run_s", "1:02"), fillIn("product_kg", "77"))
	w.press("charge")
	g, ok := b.store.State().Newest().Body.(*shop.Ground)
	if !ok || g.Run != 62 {
		t.Errorf("written down was %+v", b.store.State().Newest().Body)
	}
	for _, fault := range w.complaints() {
		t.Error(fault)
	}
}

// TestAChargeIsHeldAgainstItsForecast records a charge and looks at the page that
// follows, and at the record's own.
func TestAChargeIsHeldAgainstItsForecast(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	w := b.post("/record/charge", answers("mill", "Rattle", "from", "S1", "level", "10", "charge_kg", "90", "run_s", "62 s", "product_kg", "80", "left_kg", "9"))
	if w.Code != 303 {
		t.Fatalf("the charge answers %d: %s", w.Code, said422(w.Body.String()))
	}
	id := b.store.State().Newest().ID
	for _, path := range []string{w.Header().Get("Location"), "/records/" + address.Number(id) + "?compare=1"} {
		body := b.get(path).Body.String()
		inOrder(t, headingsOf(body), "Forecast and actual")
		if strings.HasPrefix(path, "/stock/") && !strings.Contains(body, "Record the next charge") {
			t.Error("the page does not lead on to the next charge")
		}
		for _, want := range []string{`<th scope="row">product</th>`, `<b>80.0`, `class="dot"`} {
			if !strings.Contains(body, want) {
				t.Errorf("%s lacks %s", path, want)
			}
		}
	}
	if body := b.get("/records/" + address.Number(id)).Body.String(); strings.Contains(body, "Forecast and actual") || !strings.Contains(body, "?compare=1") {
		t.Error("the record's page does not offer the comparison")
	}
}
