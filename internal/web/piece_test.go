package web

import (
	"encoding/json"
	"html"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/plan/identification"
	"hopperful/polymer/identify"
	"hopperful/shop"
)

// query is an address with answers.
func query(path string, pairs ...string) string { return path + "?" + answers(pairs...).Encode() }

// asJSON asks for a page as a program does.
func (b *bench) asJSON(path string) *httptest.ResponseRecorder {
	r := httptest.NewRequest("GET", path, nil)
	r.Header.Set("Accept", "application/json")
	return b.ask(r)
}

func TestThePieceIsAskedAbout(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	for path, want := range map[string]string{
		"/identify":                                 "Does anything speak of chlorine?",
		"/identify/S7":                              "What is S7, mixed unknown plastic scrap",
		query("/identify/S7", "chlorine", "no"):     "Does a thin strip snap",
		query("/identify", "chlorine", "unknown"):   "Other tests",
		query("/identify", "found", "limp70=yes"):   "Take back",
		query("/identify", "label", "PETG"):         "the label says PETG",
		query("/identify", "found", "flame=yes"):    "There is no test &#34;flame&#34;",
		query("/identify", "label", "unobtanium"):   "No material is called",
		query("/identify", "found", "limp70=maybe"): "neither yes nor no",
	} {
		if w := b.get(path); w.Code >= 500 || !strings.Contains(w.Body.String(), want) {
			t.Errorf("%s answers %d without %q", path, w.Code, want)
		}
	}
	if w := emptyShop(t, Options{}).get(query("/identify", "chlorine", "no", "found", "limp70=yes")); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "PLA") {
		t.Errorf("a shop without a record answers %d", w.Code)
	}
	if w := b.get("/identify/S99"); w.Code != http.StatusNotFound {
		t.Errorf("a lot that is not there answers %d", w.Code)
	}
	if to := b.get("/identify?lot=S7&found=limp70%3Dyes").Header().Get("Location"); to != "/identify/S7?found=limp70%3Dyes" {
		t.Errorf("a chosen lot leads to %q", to)
	}
}

// No test burns anything, and nothing is called certain.
func TestNoFlameAndNothingCertain(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	for _, path := range []string{"/identify/S7", query("/identify/S7", "chlorine", "no", "solid", "yes"), query("/identify/S7", "found", "limp70=yes", "found", "snaps=yes")} {
		body := strings.ToLower(b.get(path).Body.String())
		for _, not := range []string{"lighter flame", "burn a ", "flame test", "hold it in a flame", "certainly"} {
			if strings.Contains(body, not) {
				t.Errorf("%s says %q", path, not)
			}
		}
	}
}

// The page and the command line give the same JSON: both are the plan's answer.
func TestThePieceAnswersPrograms(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	w := b.asJSON(query("/identify/S7", "chlorine", "no", "solid", "yes", "found", "limp70=no", "found", "floats brine 12%=no"))
	var got, want map[string]any
	if err := json.Unmarshal(w.Body.Bytes(), &got); err != nil || w.Code != http.StatusOK {
		t.Fatalf("it answers %d: %v", w.Code, err)
	}
	rho, err := identify.Density(identify.Brine, 0.12, 293.15)
	if err != nil {
		t.Fatal(err)
	}
	out, err := identification.Identify(b.store.State(), identification.Options{Lot: "S7", Chlorine: shop.No, Solid: shop.Yes,
		Findings: []identify.Finding{{Test: "limp70"}, {Test: "floats", At: rho}}})
	text, err2 := json.Marshal(say.For().Document(out.Document))
	if err != nil || err2 != nil || json.Unmarshal(text, &want) != nil {
		t.Fatal(err, err2)
	}
	if a, b := address.Number(got), address.Number(want); a != b {
		t.Errorf("the page answers %.300s, the plan %.300s", a, b)
	}
	for _, path := range []string{query("/identify", "found", "floats water=no"), query("/identify", "found", "x=yes"), query("/identify", "label", "x"), "/identify/S99",
		query("/identify/liquid", "liquid", "brine"), query("/identify/liquid", "liquid", "vinegar"), "/identify/mixed", query("/identify/mixed", "host", "PLA", "stray", "PLA", "pieces", "3")} {
		if w := b.asJSON(path); w.Code != http.StatusUnprocessableEntity && w.Code != http.StatusNotFound || !json.Valid(w.Body.Bytes()) {
			t.Errorf("%s answers %d: %.90s", path, w.Code, w.Body)
		}
	}
	for _, path := range []string{query("/identify/liquid", "liquid", "brine", "density", "1.08"), query("/identify/mixed", "host", "PLA", "stray", "PETG", "pieces", "60", "wrong", "3")} {
		if w := b.asJSON(path); w.Code != http.StatusOK || !json.Valid(w.Body.Bytes()) {
			t.Errorf("%s answers %d: %.90s", path, w.Code, w.Body)
		}
	}
}

// What was measured becomes a finding; what cannot be is told at its field, and
// the rest stays.
func TestMeasuredFindings(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	so := []string{"chlorine", "no", "found", "limp70=no"}
	for _, c := range []struct{ send, want []string }{
		{[]string{"add", "floats", "liquid", "brine", "strength", "12", "temperature", "25", "chip", "yes", "answer", "no"}, []string{"floats brine 12% 25°C=no"}},
		{[]string{"add", "floats", "liquid", "water", "chip", "yes", "answer", "yes"}, []string{"floats water=yes"}},
		{[]string{"add", "floats", "liquid", "water", "density", "1,08", "chip", "yes", "answer", "yes"}, []string{"floats 1.08g/cm³=yes"}},
		{[]string{"add", "sticks", "metal", "120", "answer", "yes"}, []string{"sticks 120°C=yes"}},
		{[]string{"add", "weighed", "mass", "12.2", "volume", "10", "whole", "yes"}, []string{"weighed 12.2g 10cm³ 0.1g"}},
	} {
		w := b.get(query("/identify/S7", append(so, c.send...)...))
		to, _ := url.Parse(w.Header().Get("Location"))
		if got := to.Query()["found"]; w.Code != http.StatusSeeOther || len(got) != 2 || got[1] != c.want[0] || to.Query().Get("chlorine") != "no" {
			t.Errorf("%v answers %d and leads to %s", c.send, w.Code, to)
			continue
		}
		if w := b.get(to.String()); w.Code != http.StatusOK {
			t.Errorf("%s answers %d: %s", to, w.Code, firstHeading(w.Body.String()))
		}
	}
	for _, c := range []struct {
		field string
		send  []string
	}{
		{"strength", []string{"add", "floats", "liquid", "brine", "strength", "90", "chip", "yes", "answer", "no"}},
		{"strength", []string{"add", "floats", "liquid", "sugar", "chip", "yes", "answer", "no"}},
		{"temperature", []string{"add", "floats", "liquid", "brine", "strength", "12", "temperature", "80", "chip", "yes", "answer", "no"}},
		{"density", []string{"add", "floats", "liquid", "water", "density", "9", "chip", "yes", "answer", "no"}},
		{"chip", []string{"add", "floats", "liquid", "water", "chip", "no", "answer", "yes"}},
		{"chip", []string{"add", "floats", "liquid", "water", "answer", "yes"}},
		{"metal", []string{"add", "sticks", "metal", "2000", "answer", "yes"}},
		{"metal", []string{"add", "sticks", "answer", "yes"}},
		{"mass", []string{"add", "weighed", "mass", "banana", "volume", "10", "whole", "yes"}},
		{"volume", []string{"add", "weighed", "mass", "12", "volume", "1", "whole", "yes"}},
		{"scale", []string{"add", "weighed", "mass", "1", "volume", "1", "scale", "5", "whole", "yes"}},
		{"whole", []string{"add", "weighed", "mass", "12", "volume", "10", "whole", "no"}},
	} {
		w := b.get(query("/identify/S7", append(so, c.send...)...))
		body := w.Body.String()
		if w.Code != http.StatusUnprocessableEntity || !strings.Contains(body, `id="f-`+c.field+`-wrong"`) || !strings.Contains(body, `name="found" value="limp70=no"`) {
			t.Errorf("%v answers %d without a word at %s", c.send, w.Code, c.field)
		}
	}
}

// A piece that holds air is not floated, and its owner is told what to do.
func TestAHollowPieceIsCutFirst(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	w := b.get(query("/identify/S7", "solid", "no", "found", "limp70=no", "found", "floats water=yes"))
	body := w.Body.String()
	if w.Code != http.StatusUnprocessableEntity || !strings.Contains(body, "it holds air") || !strings.Contains(body, "cut a solid chip") || !strings.Contains(body, "Take floating and weighing back") {
		t.Errorf("it answers %d: %s", w.Code, firstHeading(body))
	}
	w = b.get(query("/identify/S7", "chlorine", "no", "solid", "no"))
	if body := w.Body.String(); w.Code != http.StatusOK || !strings.Contains(body, "Floating and weighing wait") || strings.Contains(body, "Does a solid chip float in water") {
		t.Errorf("hollow from the start answers %d", w.Code)
	}
}

func TestChlorineReplacesEverything(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	w := b.get(query("/identify/S7", "chlorine", "yes", "found", "limp70=yes"))
	body := w.Body.String()
	for _, want := range []string{"Something speaks of chlorine: stop.", "licensed disposer", "Mark S7 as suspected", "take it back"} {
		if !strings.Contains(body, want) {
			t.Errorf("the stop lacks %q", want)
		}
	}
	for _, not := range []string{"share-bar", "yes-no", "Other tests", "Write it down", "Mix this liquid", "Measured yourself"} {
		if strings.Contains(body, not) {
			t.Errorf("the stop still shows %q", not)
		}
	}
	w = b.post("/identify/S7", answers("mark", "chlorine", "chlorine", "yes"))
	to := w.Header().Get("Location")
	if w.Code != http.StatusSeeOther || !strings.HasPrefix(to, "/stock/S") || !strings.Contains(to, "done=") {
		t.Fatalf("marking answers %d to %q", w.Code, to)
	}
	page := b.get(to).Body.String()
	if !strings.Contains(page, "may contain chlorine") || !strings.Contains(page, "Take back") {
		t.Error("the lot is not marked, or it cannot be taken back")
	}
}

// The answer is written down, taken back, and refused where it is too little.
func TestTheAnswerIsKept(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	w := b.post("/identify/S7", answers("chlorine", "no", "found", "limp70=yes", "found", "snaps=yes"))
	to, _ := url.Parse(w.Header().Get("Location"))
	if w.Code != http.StatusSeeOther {
		t.Fatalf("keeping answers %d: %s", w.Code, firstHeading(w.Body.String()))
	}
	made, ok := b.store.State().Lot(shop.LotID(strings.TrimPrefix(to.Path, "/stock/")))
	if !ok || made.Polymer != "PLA" || made.Name != "bin without a label" || made.Sure == nil || *made.Sure < 0.9 {
		t.Fatalf("kept as %+v", made)
	}
	if w := b.post("/records/"+to.Query().Get("done")+"/void", answers()); w.Code != http.StatusSeeOther {
		t.Errorf("taking back answers %d", w.Code)
	}
	if l, _ := b.store.State().Lot("S7"); l.Mass != 0.842 {
		t.Errorf("S7 has %g kg again", l.Mass)
	}
	for _, form := range []url.Values{answers(), answers("found", "limp70=no", "found", "whitens=yes"), answers("chlorine", "yes", "found", "limp70=yes"), answers("mark", "chlorine")} {
		if w := b.post("/identify/S7", form); w.Code != http.StatusConflict {
			t.Errorf("%v answers %d", form, w.Code)
		}
	}
	if w := b.post("/identify/S99", answers()); w.Code != http.StatusNotFound {
		t.Errorf("no lot answers %d", w.Code)
	}
}

// The sorting sheet comes filled in, and what it holds can be sent as it is.
func TestTheSortingSheetComesFilledIn(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	body := b.get(query("/identify/S7", "chlorine", "no", "found", "limp70=yes", "found", "snaps=yes")).Body.String()
	_, rest, _ := strings.Cut(body, `href="/record/sort?`)
	text, _, _ := strings.Cut(rest, `"`)
	q, err := url.ParseQuery(html.UnescapeString(text))
	if err != nil {
		t.Fatal(err)
	}
	page := b.get("/record/sort?" + q.Encode()).Body.String()
	for _, want := range []string{`value="842 g"`, `value="PLA"`, `value="bin without a label"`, `<option value="S7" selected>`} {
		if !strings.Contains(page, want) {
			t.Errorf("the sheet lacks %s", want)
		}
	}
	form := url.Values{"from": {"S7"}}
	for key, v := range q {
		form[key] = v
	}
	if w := b.post("/record/sort", form); w.Code != http.StatusSeeOther {
		t.Errorf("the sheet as filled in answers %d", w.Code)
	}
}

// Counts against the published binomial range, and the liquid that parts.
func TestAMixedLotIsCounted(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	for path, want := range map[string]string{
		"/identify/mixed":        "Draw pieces at random",
		"/identify/mixed?lot=S5": `value="PETG"`,
		query("/identify/mixed", "host", "PLA", "stray", "PETG", "pieces", "230", "wrong", "0"):                                           "little enough for parts that have to hold",
		query("/identify/mixed", "host", "PLA", "stray", "PETG", "pieces", "60", "wrong", "3"):                                            "Look at 230 pieces",
		query("/identify/mixed", "host", "PETG", "stray", "PP", "floated", "12", "sank", "388", "piece", "2", "in", "water", "lot", "S5"): "Sort S5",
	} {
		if w := b.get(path); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), want) {
			t.Errorf("%s answers %d without %q: %s", path, w.Code, want, firstHeading(w.Body.String()))
		}
	}
	for field, pairs := range map[string][]string{
		"wrong":  {"host", "PLA", "stray", "PETG", "pieces", "60", "wrong", "61"},
		"pieces": {"host", "PLA", "stray", "PETG", "pieces", "lots"},
		"stray":  {"host", "PLA", "stray", "PLA", "pieces", "60"},
		"host":   {"stray", "PLA", "pieces", "60"},
		"in":     {"host", "PLA", "stray", "PETG", "pieces", "60", "wrong", "3", "in", "water"},
		"piece":  {"host", "PETG", "stray", "PP", "floated", "12", "sank", "388", "in", "water"},
	} {
		w := b.get(query("/identify/mixed", pairs...))
		if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), `id="f-`+field+`-wrong"`) {
			t.Errorf("%v answers %d without a word at %s", pairs, w.Code, field)
		}
	}
}

// 46.4 g of salt to a litre: 4.44 % by mass makes 1.030 g/cm³ at 20 °C, between
// the lines of Wnt1974 (4 %: 1.0268, 6 %: 1.0413).
func TestALiquidIsMixed(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	body := b.get(query("/identify/liquid", "liquid", "brine", "density", "1.03", "back", "/identify/S7?chlorine=no")).Body.String()
	for _, want := range []string{"46.4\u00a0g of table salt to a litre of water", "Above mostly floats", `href="/identify/S7?chlorine=no"`} {
		if !strings.Contains(body, want) {
			t.Errorf("the page lacks %q: %s", want, firstHeading(body))
		}
	}
	if body := b.get(query("/identify/liquid", "liquid", "ethanol", "density", "0.93", "back", "//elsewhere.example")).Body.String(); !strings.Contains(body, "Ethanol burns") || strings.Contains(body, "elsewhere.example\" ") && strings.Contains(body, `href="//elsewhere`) {
		t.Error("no caution, or a way out of the house")
	}
	for field, pairs := range map[string][]string{"density": {"liquid", "brine", "density", "1.9"}, "strength": {"liquid", "brine", "strength", "90"}, "temperature": {"liquid", "water", "temperature", "80"}} {
		w := b.get(query("/identify/liquid", pairs...))
		if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), `id="f-`+field+`-wrong"`) {
			t.Errorf("%v answers %d without a word at %s", pairs, w.Code, field)
		}
	}
}

// Where a lot nobody knows is shown, the way to this page is.
func TestThePageIsLinkedWhereItIsWanted(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	for _, path := range []string{"/", "/stock/S7"} {
		if !strings.Contains(b.get(path).Body.String(), `href="/identify/S7"`) {
			t.Errorf("%s does not lead to it", path)
		}
	}
	if body := b.get("/stock/S7").Body.String(); !strings.Contains(body, `class="button main-act" href="/identify/S7"`) || !strings.Contains(body, `href="/identify/mixed?lot=S7"`) {
		t.Error("of a lot nobody knows it is not the first thing to do")
	}
	if !strings.Contains(b.get("/materials").Body.String(), `href="/identify"`) {
		t.Error("the materials do not lead to it")
	}
}
