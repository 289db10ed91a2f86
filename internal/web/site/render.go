package site

import (
	"bytes"
	"fmt"
	"html/template"
	"io/fs"
	"net/http"
	"path"
	"strconv"
	"strings"
	"sync"
	"time"

	"hopperful/fact"
	"hopperful/internal/account"
	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/internal/web/assets"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/pages"
	"hopperful/internal/web/parts"
	"hopperful/shop"
)

// View is what the layout needs around a page's own body.
type View struct {
	Title  string        // of the window
	Place  string        // which of the five places this page belongs to
	Crumb  *address.Link // one step back up
	Bare   bool          // without places: log-in, first steps
	Body   any           // what the page itself shows
	Shop   string        // filled by render
	Latest shop.RecordID
	Done   *doneBar
	Out    bool      // filled by render: who is logged in can be seen
	Lang   string    // filled by render
	Look   bool      // filled by render: nothing can be written
	Who    string    // filled by render: the account that looks; "" where there are none
	AsOf   time.Time // filled by render
}

// tongue is what a set of pages is written in.
type tongue struct {
	lang  string
	comma bool
}

// parsed holds every page once a tongue, parsed when the first page in it is
// asked for, so that commands start at once.
var parsed sync.Map

// PagesIn is every page in the words of p, parsed once.
func PagesIn(p *say.Printer) map[string]*template.Template {
	key := tongue{p.Language, p.Comma()}
	if set, ok := parsed.Load(key); ok {
		return set.(map[string]*template.Template)
	}
	set, _ := parsed.LoadOrStore(key, parsePages(p))
	return set.(map[string]*template.Template)
}

// parsePages reads pages/*.html, each joined with the layout and all parts. A
// template that does not parse stops the first page, so no test can miss it.
func parsePages(p *say.Printer) map[string]*template.Template {
	base := template.Must(template.New("base").Funcs(template.FuncMap{
		"num":   func(s string) string { return Together(p.Word(s)) },
		"asset": assets.Path,
		"list":  func(v ...any) []any { return v },
		"add":   func(a, b int) int { return a + b },
		"seg":   address.Segment,
		"say":   func(code string, facts ...any) string { return p.Line(code, factsOf(facts)...) },
		"unit":  func(u string) string { return strings.TrimSpace(p.Number(" " + u)) },
		"word":  func(text string) string { return p.Word(text) },
	}).ParseFS(parts.Files, "*.html"))
	names, err := fs.Glob(pages.Files, "*.html")
	if err != nil {
		panic(err) // the pattern above is wrong
	}
	all := map[string]*template.Template{}
	for _, name := range names {
		t := template.Must(template.Must(base.Clone()).ParseFS(pages.Files, name))
		all[strings.TrimSuffix(path.Base(name), ".html")] = t
	}
	return all
}

// Render writes a page. It is drawn in memory first, so that a fault never
// leaves half a page behind.
func (s *Site) Render(w http.ResponseWriter, r *http.Request, status int, name string, v View) {
	st := s.Store.State()
	v.Shop = st.Shop.Name
	v.Latest = st.Newest().ID
	own, in := SessionIn(r.Context())
	v.Out = s.Gate != nil || in
	v.Look = s.Store.ReadOnly() || in && own.Role == account.Look
	v.Who = own.Account
	v.AsOf = s.Now()
	if v.Done == nil && !v.Bare {
		v.Done = s.doneBar(r, st)
	}
	var page bytes.Buffer
	p := desk.Speaks(r, st)
	v.Lang = p.Language
	if err := PagesIn(p)[name].ExecuteTemplate(&page, "layout", v); err != nil {
		s.Log.Error("a page could not be drawn", "page", name, "error", err)
		http.Error(w, "This page could not be drawn. Nothing was lost; the log says more.", http.StatusInternalServerError)
		return
	}
	switch {
	case !s.Store.ReadOnly() && in:
		page = *bytes.NewBuffer(withoutOthers(page.Bytes(), own.Role))
	case v.Look:
		page = *bytes.NewBuffer(withoutForms(page.Bytes()))
	}
	h := w.Header()
	h.Set("Content-Type", "text/html; charset=utf-8")
	h.Set("Cache-Control", "no-store")
	h.Set("Vary", "Accept-Language")
	h.Set("Content-Length", strconv.Itoa(page.Len()))
	w.WriteHeader(status)
	page.WriteTo(w)
}

// factsOf pairs the names of a line's facts with their values, as a page writes
// them: say "page.found" "n" .Sum.
func factsOf(pairs []any) []fact.Fact {
	var facts []fact.Fact
	for i := 0; i+1 < len(pairs); i += 2 {
		name := fmt.Sprint(pairs[i])
		if n, whole := pairs[i+1].(int); whole {
			facts = append(facts, fact.Count(name, n))
			continue
		}
		facts = append(facts, fact.Name(name, fmt.Sprint(pairs[i+1])))
	}
	return facts
}
