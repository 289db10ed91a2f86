package web

import (
	"html"
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
	r := httptest.NewRequest("GET", path, nil)
	r.Header.Set("Accept-Language", lang)
	for {
		if w := b.ask(r); w.Header().Get("Refresh") == "" {
			return readAloud(w.Body.String())
		}
	}
}

// TestPagesSpeakOneLanguage asks for the pages of the invented shop in each
// language and finds no line of the other's.
func TestPagesSpeakOneLanguage(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	b := demoShop(t, Options{})
	pieces := map[string][]string{}
	for _, lang := range say.Languages() {
		var err error
		if pieces[lang], err = saytest.Pieces("../say/words", lang); err != nil {
			t.Fatal(err)
		}
	}
	for _, path := range onePageEach(b) {
		for _, lang := range say.Languages() {
			text := b.in(lang, path)
			if raw := aCode.FindString(text); raw != "" {
				t.Errorf("%s in %s shows the code %s", path, lang, raw)
			}
			for _, other := range say.Languages() {
				if other == lang {
					continue
				}
				for _, line := range pieces[other] {
					if strings.Contains(text, line) && !slices.Contains(cited, line) {
						t.Errorf("%s in %s says %q", path, lang, line)
					}
				}
			}
		}
	}
}

// aCode is a key of the catalogue, which nobody is to see.
var aCode = regexp.MustCompile(`\b(form|page|field|shop|record|bar|refused|plan|fit|blend|learn|kind|choice)\.[a-z][a-z0-9_]*[a-z0-9]\b`)

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
