package web

import (
	"html"
	"math"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/sheets"
	"hopperful/internal/web/site"
	"hopperful/shop"
)

// TestCareIsWrittenDown fills in every sheet of what is done to a lot or a
// machine, reads the record, and shows it on its sheet again.
func TestCareIsWrittenDown(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	for _, c := range []struct {
		what string
		form url.Values
		want func(shop.Body) bool
	}{
		{"magnet", answers("lot", "R1", "metal_kg", "0", "passed_kg", "100"), func(x shop.Body) bool {
			m := x.(*shop.PassedMagnet)
			return m.Metal == 0 && *m.Passed == 0.1
		}},
		{"dedust", answers("lot", "R1", "dust_kg", "2,5 g", "opening_m", "0.5"), func(x shop.Body) bool {
			return near(x.(*shop.Dedusted).Dust, 0.0025) && near(*x.(*shop.Dedusted).Opening, 0.0005)
		}},
		{"dry", answers("lot", "R1", "way", "oven", "temperature_k", "50", "time_s", "6", "in_kg", "90", "out_kg", "89.6"), func(x shop.Body) bool {
			d := x.(*shop.Dried)
			return near(d.Time, 6*3600) && near(d.Temperature, 323.15) && near(*d.Out, 0.0896)
		}},
		{"jar", answers("lot", "R1", "jar_m3", "100", "poured_kg", "52", "tapped_kg", "60"), func(x shop.Body) bool {
			return near(x.(*shop.JarWeighed).Bulk(), 520)
		}},
		{"flow", answers("lot", "R1", "load_kg", "2.16", "cut_s", "30", "temperature_k", "210", "cuts_kg", "0.31; 0,32\n0.30"), func(x shop.Body) bool {
			f := x.(*shop.FlowTested)
			return len(f.Cuts) == 3 && near(f.Spent(), 0.93e-3)
		}},
		{"service", answers("mill", "Rattle", "part", "blade", "what", "sharpened", "sound", "yes", "before_kg", "212.4", "after_kg", "211.9"), func(x shop.Body) bool {
			s := x.(*shop.Serviced)
			return s.What == shop.Sharpened && s.Sound == shop.Yes && near(*s.After, 0.2119)
		}},
		{"event", answers("mill", "Rattle", "what", "torn screen", "lot", "R1", "since_kg", "3"), func(x shop.Body) bool {
			return x.(*shop.Happened).What == shop.TornScreen && x.(*shop.Happened).Lot == "R1"
		}},
	} {
		before := b.store.State().Newest().ID
		w := b.post("/record/"+c.what, c.form)
		if w.Code != http.StatusSeeOther {
			t.Errorf("%s answers %d: %s", c.what, w.Code, said422(w.Body.String()))
			continue
		}
		r := b.store.State().Newest()
		if r.ID != before+1 || !c.want(r.Body) {
			t.Errorf("%s wrote down %+v", c.what, r.Body)
		}
		if page := b.get("/records/" + address.Number(r.ID) + "/correct"); page.Code != http.StatusOK {
			t.Errorf("the sheet of %s to correct answers %d", c.what, page.Code)
		}
		sh, _ := sheets.OfRecord(&desk.Desk{State: b.store.State(), Say: say.For(), Now: noon, Query: answers().Get}, r.Body)
		in := forms.NewInput(say.For(), forms.AnswersOf(sh, r, noon.Location(), say.For()))
		again := in.Read(sh, r.Body)
		if again == nil {
			t.Errorf("%s is refused on its own sheet: %v", c.what, in.Wrong)
		} else if diff := farther(t, r.Body, again); diff != "" {
			t.Errorf("%s: %s", c.what, diff)
		}
	}
}

func near(got, want float64) bool { return math.Abs(got-want) <= 1e-9*math.Abs(want) }

// said422 are the refusals on a page.
func said422(body string) string {
	var all []string
	for _, part := range strings.Split(body, `class="wrong"`)[1:] {
		all = append(all, part[:min(len(part), 400)])
	}
	return strings.Join(all, "\n")
}

func TestASieveNobodyUsedIsLeftOut(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	w := b.post("/record/sieve?lot=R1&own=4+2+1+0.5", answers("lot", "R1", "charge_kg", "60", "series", "own", "holes", "woven",
		"sieves.0.mass_kg", "0", "sieves.1.mass_kg", "12", "sieves.3.mass_kg", "40", "sieves.3.tare_kg", "300", "pan_kg", "7.8", "pan_tare_kg", "250"))
	if w.Code != http.StatusSeeOther {
		t.Fatalf("it answers %d: %s", w.Code, said422(w.Body.String()))
	}
	s := b.store.State().Newest().Body.(*shop.Sieved)
	if len(s.Sieves) != 3 || !near(s.Sieves[2].Opening, 0.0005) || s.Sieves[0].Mass != 0 || s.Sieves[2].Tare != nil || s.PanTare != nil || s.Gross {
		t.Errorf("written down was %+v", s)
	}
	// The next sheet asks for the same stack.
	d := &desk.Desk{State: b.store.State(), Say: say.For(), Now: noon, Query: answers().Get}
	if k := sheets.StackAsked(d); len(k.Openings) != 3 || k.Series != shop.OwnSet {
		t.Errorf("the next sheet asks for %+v", k)
	}
}

// The sheet of a shop that never sieved asks for a few sieves around the hole of
// its mill's screen, and a sieving written down in the meantime does not move
// what was typed to other sieves.
func TestTheFirstStackFitsTheScreen(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	b.post("/record/mill", answers("mill.name", "kitchen mill", "mill.screen.hole_m", "2"))
	b.post("/record/take-in", answers("mass_kg", "500", "class", "regrind"))
	page := b.get("/record/sieve?lot=R1").Body.String()
	if n := strings.Count(page, `data-opening="`); n < 4 || n > 8 {
		t.Errorf("%d sieves are asked for", n)
	}
	if !strings.Contains(page, `data-opening="0.0028"`) || strings.Contains(page, `data-opening="0.008"`) {
		t.Error("they do not stand around a hole of 2 mm")
	}
	action := regexp.MustCompile(`action="(/record/sieve[^"]*)"[^>]*data-dirty`).FindStringSubmatch(page)
	if action == nil {
		t.Fatal("the sheet has no address")
	}
	other := b.post("/record/sieve?own=4+1", answers("lot", "R1", "charge_kg", "10", "series", "own", "holes", "woven", "sieves.0.mass_kg", "1", "pan_kg", "9"))
	if other.Code != http.StatusSeeOther {
		t.Fatalf("another sieving: %s", said422(other.Body.String()))
	}
	w := b.post(html.UnescapeString(action[1]), answers("lot", "R1", "charge_kg", "10", "series", string(shop.R20x3), "holes", "woven", "sieves.1.mass_kg", "6", "pan_kg", "4"))
	if w.Code != http.StatusSeeOther {
		t.Fatalf("it answers %d: %s", w.Code, said422(w.Body.String()))
	}
	if s := b.store.State().Newest().Body.(*shop.Sieved); len(s.Sieves) != 1 || !near(s.Sieves[0].Opening, 0.002) {
		t.Errorf("written down was %+v", s)
	}
	if w := b.post("/record/sieve?own=4+1", answers("lot", "R1", "charge_kg", "10", "series", "own", "holes", "woven", "sieves.0.mass_kg", "10")); !strings.Contains(w.Body.String(), `id="f-pan_kg-wrong"`) {
		t.Error("a pan left empty is taken for an empty pan")
	}
}

// A run is shown and filled in the way a person says it.
func TestARunIsNotShownWithNineDecimals(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	b.post("/record/mill", answers("mill.name", "kitchen mill"))
	b.post("/record/take-in", answers("mass_kg", "500", "class", "scrap"))
	if w := b.post("/record/charge", answers("mill", "kitchen mill", "from", "S1", "charge_kg", "90", "run_s", "3 min 29 s", "product_kg", "80")); w.Code != http.StatusSeeOther {
		t.Fatal(said422(w.Body.String()))
	}
	at := "/records/" + address.Number(b.store.State().Newest().ID)
	if page := b.get(at).Body.String(); strings.Contains(page, "3.48") || !strings.Contains(page, site.Together("3 min 29 s")) {
		t.Error("the record's page does not say 3 min 29 s")
	}
	if page := b.get(at + "/correct").Body.String(); !strings.Contains(page, `name="run_s" value="3:29"`) {
		t.Error("the sheet is not filled in with 3:29")
	}
}

func TestARefusedSieveIsPointedAt(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	w := b.post("/record/sieve?own=4+2+1", answers("lot", "R1", "charge_kg", "60", "series", "own", "holes", "woven", "gross", "yes",
		"sieves.0.tare_kg", "300", "sieves.1.mass_kg", "350", "sieves.1.tare_kg", "310", "sieves.2.mass_kg", "290", "sieves.2.tare_kg", "300", "pan_kg", "260", "pan_tare_kg", "250"))
	if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), `id="f-sieves-2-mass_kg-wrong"`) {
		t.Errorf("it answers %d: %s", w.Code, said422(w.Body.String()))
	}
}

func TestATableOfSievesIsShownFirst(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	before := b.store.State().Newest().ID
	w := b.multipart("/record/sieve/table", "", nil, "lot", "R1", "table", "opening (mm);retained (g)\n2,8;0\n1,4;52,3\n0,5;40,2\npan;7,1\ncharge;99,8\n")
	for _, want := range []string{`name="sieves.1.mass_kg" value="52.3"`, `name="pan_kg" value="7.1"`, `name="charge_kg" value="99.8"`} {
		if !strings.Contains(w.Body.String(), want) {
			t.Errorf("the sheet lacks %s", want)
		}
	}
	if b.store.State().Newest().ID != before {
		t.Error("something was written before anybody looked")
	}
	w = b.multipart("/record/sieve/table", "", nil, "table", "opening;retained\nhello;3\n")
	if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), `id="s-table-wrong"`) || !strings.Contains(w.Body.String(), "hello") {
		t.Errorf("a broken table answers %d", w.Code)
	}
}

// TestTheSieveSheetCountsAlong types masses and watches total and curve.
func TestTheSieveSheetCountsAlong(t *testing.T) {
	t.Parallel()
	browser := oneBrowser(t)
	b := demoShop(t, Options{})
	w := open(t, browser, b)
	w.look(390, 844, false)
	w.at("/record/sieve?lot=R1&own=2+1.4+1+0.5+0.25")
	w.do("charge", fillIn("charge_kg", "60"), fillIn("sieves.0.mass_kg", "1"),
		chromedp.Evaluate[chromedp.Void](`document.activeElement.dispatchEvent(new KeyboardEvent("keydown", {key: "Enter", bubbles: true, cancelable: true}))`))
	if at := ask[string](w, `document.activeElement.name`); at != "sieves.1.mass_kg" {
		t.Errorf("after Enter the focus is on %q", at)
	}
	w.do("paste", chromedp.Evaluate[chromedp.Void](`{const d = new DataTransfer(); d.setData("text", "14\n20.5\n16"); document.activeElement.dispatchEvent(new ClipboardEvent("paste", {clipboardData: d, bubbles: true, cancelable: true}))}`),
		fillIn("sieves.4.mass_kg", "6"), fillIn("pan_kg", "2"))
	w.until("the curve is drawn", `document.querySelectorAll(".stack-live svg.plot circle").length === 5`)
	if total := ask[string](w, `document.querySelector(".running-total").textContent`); total != "59.5\u00a0g so far of 60\u00a0g: missing 0.5\u00a0g, 0.83\u00a0%" {
		t.Errorf("the running total says %q", total)
	}
	w.picture("sieve-sheet")
	w.press("sieving")
	if s, ok := b.store.State().Newest().Body.(*shop.Sieved); !ok || len(s.Sieves) != 5 {
		t.Errorf("written down was %+v", b.store.State().Newest().Body)
	}
	for _, fault := range w.complaints() {
		t.Error(fault)
	}
}

// TestTheRunBehindASampleIsAsked takes the newest run the sheet offers for the
// lot, and refuses one of another lot beside the field.
func TestTheRunBehindASampleIsAsked(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	offered := regexp.MustCompile(`<option value="(\d+)">[^<]* into R1`)
	for what, form := range map[string]url.Values{
		"magnet": answers("lot", "R1", "metal_kg", "0"),
		"sieve":  answers("lot", "R1", "charge_kg", "50", "series", string(shop.R20x3), "holes", "woven", "sieves.3.mass_kg", "20", "sieves.5.mass_kg", "20", "pan_kg", "10"),
	} {
		m := offered.FindStringSubmatch(b.get("/record/" + what + "?lot=R1").Body.String())
		if m == nil {
			t.Fatalf("%s offers no run into R1", what)
		}
		form.Set("run", m[1])
		if w := b.post("/record/"+what, form); w.Code != http.StatusSeeOther {
			t.Fatalf("%s answers %d: %s", what, w.Code, said422(w.Body.String()))
		}
		var run shop.RecordID
		switch x := b.store.State().Newest().Body.(type) {
		case *shop.PassedMagnet:
			run = x.Run
		case *shop.Sieved:
			run = x.Run
		}
		if address.Number(run) != m[1] {
			t.Errorf("%s kept run %d, %s was picked", what, run, m[1])
		}
		form.Set("lot", "R2")
		if w := b.post("/record/"+what, form); w.Code/100 != 4 || !strings.Contains(w.Body.String(), `id="f-run-wrong"`) {
			t.Errorf("%s of another lot answers %d", what, w.Code)
		}
	}
}
