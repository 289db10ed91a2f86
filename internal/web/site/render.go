package site

import (
	"bytes"
	"fmt"
	"html/template"
	"net/http"
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

// spoken are the pages of each tongue.
var spoken sync.Map

// pageSet are the pages in one tongue. Each is parsed when it is first asked for: all
// of them take longer than the first page may.
type pageSet struct {
	base   func() *template.Template // the layout and all parts
	lock   sync.Mutex
	parsed map[string]*template.Template
}

// Page is a page in the words of p, joined with the layout and all parts. One that
// does not parse stops who asks for it; a test asks for all.
func Page(p *say.Printer, name string) *template.Template {
	key := tongue{p.Language, p.Comma()}
	found, ok := spoken.Load(key)
	if !ok {
		found, _ = spoken.LoadOrStore(key, &pageSet{base: sync.OnceValue(func() *template.Template { return joined(p) }), parsed: map[string]*template.Template{}})
	}
	set := found.(*pageSet)
	set.lock.Lock()
	defer set.lock.Unlock()
	t := set.parsed[name]
	if t == nil {
		t = template.Must(template.Must(set.base().Clone()).ParseFS(pages.Files, name+".html"))
		set.parsed[name] = t
	}
	return t
}

// joined are the layout and all parts, in the words of p.
func joined(p *say.Printer) *template.Template {
	return template.Must(template.New("base").Funcs(template.FuncMap{
		"num":   func(s string) string { return Together(p.Word(s)) },
		"asset": assets.Path,
		"list":  func(v ...any) []any { return v },
		"add":   func(a, b int) int { return a + b },
		"seg":   address.Segment,
		"say":   func(code string, facts ...any) string { return p.Line(code, factsOf(facts)...) },
		"unit":  func(u string) string { return strings.TrimSpace(p.Number(" " + u)) },
		"word":  func(text string) string { return p.Word(text) },
	}).ParseFS(parts.Files, "*.html"))
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
	if err := Page(p, name).ExecuteTemplate(&page, "layout", v); err != nil {
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
