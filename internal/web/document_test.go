package web

import (
	"bytes"
	"html"
	"io/fs"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"hopperful/internal/say"
	"hopperful/internal/say/saytest"
	"hopperful/internal/web/address"
	"hopperful/internal/web/charts"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/pages"
	"hopperful/internal/web/site"
)

// A page holds everything an answer says; the terminal is held to the same list.
func TestAPageShowsAllOfAnAnswer(t *testing.T) {
	t.Parallel()
	for _, lang := range say.Languages() {
		p := say.For(lang)
		whole := saytest.Whole()
		d := p.Document(whole)
		v := figures.Laid(p, whole)
		v.First, v.Others = charts.Filed(httptest.NewRequest("GET", "/x", nil), charts.All(p, whole.Charts))
		var page bytes.Buffer
		if err := site.Page(p, "now").ExecuteTemplate(&page, "document", v); err != nil {
			t.Fatal(err)
		}
		text := strings.ReplaceAll(html.UnescapeString(page.String()), "\u00a0", " ")
		text = strings.NewReplacer(` <span class="fig-unit">`, " ", "</span>", "").Replace(text)
		texts, err := saytest.Texts(d)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range texts {
			if !strings.Contains(text, p.Number(x)) {
				t.Errorf("%s: %q is missing in\n%s", lang, x, text)
			}
		}
	}
}

// Every step that the catalogue words has a page it is done on.
func TestEveryStepHasItsPage(t *testing.T) {
	t.Parallel()
	codes := say.For().Codes("do.")
	for _, code := range codes {
		if address.Places[code].Path == nil {
			t.Errorf("%q has no page", code)
		}
	}
	for code := range address.Places {
		if !slices.Contains(codes, code) {
			t.Errorf("%q has a page and no wording", code)
		}
	}
}

// Every page is read together with the layout and all parts, which a program otherwise does when
// it is first asked for.
func TestEveryPageCanBeRead(t *testing.T) {
	t.Parallel()
	names, err := fs.Glob(pages.Files, "*.html")
	if err != nil || len(names) == 0 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		name = strings.TrimSuffix(name, ".html")
		if read := site.Page(say.For("en"), name); read.Lookup("layout") == nil || read != site.Page(say.For("en"), name) {
			t.Errorf("%s has no layout, or is read each time", name)
		}
	}
}
