package web

import (
	"html"
	"index/suffixarray"
	"net/http"
	"net/http/httptest"
	"regexp"
	"slices"
	"strings"
	"testing"

	"hopperful/internal/say"
	"hopperful/internal/say/saytest"
)

var (
	unseenTags = regexp.MustCompile(`(?s)<(script|style|svg)[ >].*?</(script|style|svg)>`)
	anyTag     = regexp.MustCompile(`(?s)<[^>]*>`)
	saidOnly   = regexp.MustCompile(`(?:aria-label|placeholder|alt|title)="([^"]*)"`)
	blanks     = regexp.MustCompile(`[\s\x{00A0}\x{202F}]+`)
)

// readAloud is all of a page that a person reads or hears.
func readAloud(page string) string {
	page = unseenTags.ReplaceAllString(page, " | ")
	var b strings.Builder
	for _, m := range saidOnly.FindAllStringSubmatch(page, -1) {
		b.WriteString(m[1] + " | ")
	}
	b.WriteString(anyTag.ReplaceAllString(page, " | "))
	return blanks.ReplaceAllString(html.UnescapeString(b.String()), " ")
}

// in asks for a page as a browser of that language does.
func (b *bench) in(lang, path string) string {
	b.t.Helper()
	for {
		if w := b.askIn(lang, "GET", path); w.Header().Get("Refresh") == "" {
			return w.Body.String()
		}
	}
}

// askIn asks once; what is sent is an empty form.
func (b *bench) askIn(lang, method, path string) *httptest.ResponseRecorder {
	b.t.Helper()
	r := httptest.NewRequest(method, path, nil)
	r.Header.Set("Accept-Language", lang)
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return b.ask(r)
}

// TestPagesSpeakOneLanguage asks for the pages of the invented shop in each
// language and finds no line of the other's.
func TestPagesSpeakOneLanguage(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	b, empty, gated, words := demoShop(t, Options{}), emptyShop(t, Options{}), gatedBench(t), say.For()
	pieces := map[string][]string{}
	for _, lang := range say.Languages() {
		var err error
		if pieces[lang], err = saytest.Pieces("../say/words", lang); err != nil {
			t.Fatal(err)
		}
	}
	speaks := func(t *testing.T, at, lang, page string) {
		t.Helper()
		if raw := inTags.FindString(page); raw != "" {
			t.Errorf("%s in %s has a code among its tags: %s", at, lang, raw)
		}
		text := readAloud(page)
		if strings.Contains(text, "<no value>") {
			t.Errorf("%s in %s has a line without its fact", at, lang)
		}
		for _, raw := range aCode.FindAllString(text, -1) {
			if words.Has(raw) || rooms.MatchString(raw) {
				t.Errorf("%s in %s shows the code %s", at, lang, raw)
			}
		}
		if say.For(lang).Comma() {
			for _, n := range pointed.FindAllString(notNumbers.ReplaceAllString(readAloud(works.ReplaceAllString(page, "")), " "), -1) {
				t.Errorf("%s in %s writes a number with a point: %s", at, lang, n)
			}
		}
		said := suffixarray.New([]byte(text)) // thousands of pieces are looked for in it
		for _, other := range say.Languages() {
			if other == lang {
				continue
			}
			for _, line := range pieces[other] {
				if said.Lookup([]byte(line), 1) != nil && !slices.Contains(cited, line) {
					t.Errorf("%s in %s says %q", at, lang, line)
				}
			}
		}
	}
	for _, lang := range say.Languages() {
		for _, path := range append(onePageEach(b), seldomPages...) {
			speaks(t, path, lang, b.in(lang, path))
		}
		for _, path := range newcomerPages {
			speaks(t, path+" of an empty shop", lang, empty.in(lang, path))
		}
		for _, path := range []string{"/login", "/trust", "/offline"} {
			speaks(t, path+" behind a passphrase", lang, gated.in(lang, path))
		}
		for _, path := range refusedForms {
			w := b.askIn(lang, "POST", path)
			if w.Code != http.StatusUnprocessableEntity {
				t.Errorf("%s sent empty is answered %d", path, w.Code)
			}
			speaks(t, path+" sent empty", lang, w.Body.String())
		}
	}
}

// Pages that everyPage leaves out.
var (
	seldomPages = []string{"/accounts", "/tokens", "/sensors", "/run", "/labels", "/notebook", "/photo", "/dose", "/books", "/fit?lot=R1", "/blend", "/stock/R1/grains", "/grains/sheet",
		"/machines/Rattle/upkeep", "/identify", "/identify/S7", "/identify/S7?chlorine=no&solid=yes&found=limp70%3Dno", "/identify/S7?chlorine=yes", "/identify/liquid?liquid=brine&density=1.08",
		"/identify/mixed?host=PLA&stray=PETG&pieces=60&wrong=3", "/reckon/air", "/nowhere", "/stock/R999", "/dry/R1?temperature_k=warm", "/reckon/air?volume=much"}
	newcomerPages = []string{"/", "/start", "/start/mill", "/start/scale", "/start/scrap", "/start/need", "/stock", "/records", "/plan", "/machines", "/fit", "/blend", "/accounts", "/tokens", "/sensors", "/run", "/labels", "/books", "/dose"}
	refusedForms  = []string{"/start/mill", "/start/need", "/record/take-in", "/record/charge", "/record/blend", "/record/sort", "/record/sieve", "/record/print", "/record/colour", "/record/need", "/record/event", "/record/dry", "/record/flow", "/record/jar",
		"/record/magnet", "/record/weigh", "/record/discard", "/record/service", "/record/scale", "/record/dryer", "/plan"}
)

// aCode looks like a key of the catalogue, which nobody is to see; of these rooms it
// is none even where no line has it.
var (
	aCode  = regexp.MustCompile(`\b[a-z][a-z0-9_]*\.[a-z0-9][a-z0-9_.]*[a-z0-9]\b`)
	rooms  = regexp.MustCompile(`^(form|page|field|shop|record|bar|refused|plan|fit|blend|learn|kind|choice)\.`)
	inTags = regexp.MustCompile(`(?:class|value|href|action|id|name|for|style|data-[a-z]+)="[^"]*\b(?:form|page|field)\.[a-z0-9_]+[^"]*"`)
)

// A number with a decimal point, with what stands around it; and what looks like one
// and is none: the day of a date, an address, a report's or a section's number.
var (
	works      = regexp.MustCompile(`(?s)<cite>.*?</cite>`) // as they were published
	pointed    = regexp.MustCompile(`.{0,30}[0-9]\.[0-9].{0,20}`)
	notNumbers = regexp.MustCompile(`OpenAPI 3\.1|\b[0-9]{1,2}\.[0-9]{1,2}\.|\b10\.[0-9]{4,}/\S+|[0-9]+\.[0-9]+\.[0-9.]+`)
)

// cited are titles of sources, which stay as they were published.
var cited = []string{"power of the molar mass"}

// onePageEach are the addresses of a filled shop, but one alone of many alike.
func onePageEach(b *bench) []string {
	seen := map[string]int{}
	return slices.DeleteFunc(everyPage(b), func(path string) bool {
		kind := regexp.MustCompile(`^(/[a-z]*)`).FindStringSubmatch(path)[1]
		if strings.HasPrefix(path, "/record/") || strings.HasPrefix(path, "/start/") {
			return false
		}
		if strings.HasSuffix(path, "/correct") {
			kind += "c"
		}
		seen[kind]++
		return seen[kind] > 4
	})
}

// The sheet of a blend speaks the language of the page in each of its rows.
func TestBlendSheetSpeaksGerman(t *testing.T) {
	t.Parallel()
	page := readAloud(demoShop(t, Options{}).in("de", "/record/blend"))
	if !strings.Contains(page, "Posten 1") || !strings.Contains(page, "keiner") || strings.Contains(page, "Lot 1") || strings.Contains(page, "none") {
		t.Error("a row asks in English")
	}
}

// What is wrong with an answer is said in the language of the page.
func TestWrongAnswersSpeakGerman(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	for _, c := range []struct{ sheet, answer, want string }{
		{"mill", "mill.controller.watts=full+tilt", "„full tilt“ ist keine Stufe mit ihren Watt. Schreib eine Zeile wie „3: 420 W“."},
		{"sieve", "long=some", "„some“ ist keine ganze Zahl."},
		{"flow", "cuts_kg=" + strings.Repeat("1%3B", 201), "Mehr als 200 Zahlen auf einmal."},
	} {
		r := httptest.NewRequest("POST", "/record/"+c.sheet, strings.NewReader(c.answer))
		r.Header.Set("Accept-Language", "de")
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		if w := b.ask(r); !strings.Contains(readAloud(w.Body.String()), c.want) {
			t.Errorf("%s with %.20s answers %d without %q", c.sheet, c.answer, w.Code, c.want)
		}
	}
}
