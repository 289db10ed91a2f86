package web

import (
	"crypto/rand"
	"encoding/base64"
	"io"
	"net/http"
	"slices"
	"strings"
	"sync"

	"hopperful/internal/exchange"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
	"hopperful/plan/notebook"
	"hopperful/shop"
)

// mostBooks is how many notebooks are looked at and not yet written; the oldest goes.
const mostBooks = 4

// openBook is a notebook somebody sent and looks at. It lives in memory only:
// nothing of it is kept before it is written.
type openBook struct {
	writing sync.Mutex // two presses of the button write once
	book    exchange.Notebook
	kept    []shop.Record   // once it is written
	answer  notebook.Result // of that moment
}

// openBooks holds them by key.
type openBooks struct {
	mu    sync.Mutex
	all   map[string]*openBook
	order []string
}

func (o *openBooks) put(b *openBook) string {
	var raw [9]byte
	rand.Read(raw[:])
	key := base64.RawURLEncoding.EncodeToString(raw[:])
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.all == nil {
		o.all = map[string]*openBook{}
	}
	o.all[key] = b
	if o.order = append(o.order, key); len(o.order) > mostBooks {
		delete(o.all, o.order[0])
		o.order = slices.Clone(o.order[1:])
	}
	return key
}

func (o *openBooks) get(key string) (*openBook, bool) {
	o.mu.Lock()
	defer o.mu.Unlock()
	b, ok := o.all[key]
	return b, ok
}

// notebookView is the page before and after a notebook was sent.
type notebookView struct {
	Wrong    *forms.Wrong
	Doc      *figures.Document
	Write    string // where the button leads; "" when there is nothing to write
	Text     string // pasted
	Dates    string
	Finished bool
}

func (s *server) showNotebook(w http.ResponseWriter, r *http.Request) {
	s.drawNotebook(w, r, http.StatusOK, notebookView{})
}

func (s *server) drawNotebook(w http.ResponseWriter, r *http.Request, status int, v notebookView) {
	s.Render(w, r, status, "notebook", site.View{Title: desk.Speaks(r, s.Store.State()).Line("page.notebook_title"), Place: "machines", Crumb: site.PlaceLink("machines"), Body: v})
}

// notebookTemplate sends an empty notebook.
func (s *server) notebookTemplate(w http.ResponseWriter, r *http.Request) {
	format, kind := exchange.CSV, "text/csv; charset=utf-8"
	switch r.PathValue("file") {
	case "notebook.csv":
	case "notebook.xlsx":
		format, kind = exchange.XLSX, "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
	default:
		s.ShowMissing(w, r)
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", `attachment; filename="`+r.PathValue("file")+`"`)
	if err := exchange.WriteNotebookTemplate(w, desk.Speaks(r, s.Store.State()).Language, format); err != nil {
		s.Log.Error("a template could not be sent", "error", err)
	}
}

// postNotebook reads a notebook and leads to what becomes of its lines; nothing is
// written yet.
func (s *server) postNotebook(w http.ResponseWriter, r *http.Request) {
	p := desk.Speaks(r, s.Store.State())
	if !s.ReadTable(w, r, p.Line("page.notebook_too_much"), p.Line("page.notebook_keep_table")) {
		return
	}
	defer r.MultipartForm.RemoveAll()
	v := notebookView{Text: r.FormValue("table"), Dates: r.FormValue("dates")}
	name, body, size := p.Line("page.notebook_pasted_name"), io.Reader(strings.NewReader(v.Text)), int64(len(v.Text))
	if f, head, err := r.FormFile("file"); err == nil && head.Filename != "" {
		defer f.Close()
		name, body, size = head.Filename, f, head.Size
	} else if strings.TrimSpace(v.Text) == "" {
		v.Wrong = &forms.Wrong{Say: p.Line("page.notebook_nothing"), Hint: p.Line("page.notebook_choose")}
		s.drawNotebook(w, r, http.StatusUnprocessableEntity, v)
		return
	}
	book, err := exchange.ReadNotebook(name, body, size, exchange.BookReading{Now: s.Now(), Dates: exchange.DateOrder(v.Dates)})
	if err != nil {
		v.Wrong = site.WrongTable(desk.Speaks(r, s.Store.State()), err)
		s.drawNotebook(w, r, http.StatusUnprocessableEntity, v)
		return
	}
	http.Redirect(w, r, "/notebook/"+s.books.put(&openBook{book: book}), http.StatusSeeOther)
}

// showOpenBook shows what becomes of each line, by the shop as it is now.
func (s *server) showOpenBook(w http.ResponseWriter, r *http.Request) {
	key := r.PathValue("file")
	if strings.HasPrefix(key, "notebook.") {
		s.notebookTemplate(w, r)
		return
	}
	b, ok := s.books.get(key)
	p := desk.Speaks(r, s.Store.State())
	if !ok {
		s.drawNotebook(w, r, http.StatusNotFound, notebookView{Wrong: &forms.Wrong{Say: p.Line("page.notebook_gone"), Hint: p.Line("page.notebook_choose")}})
		return
	}
	b.writing.Lock()
	defer b.writing.Unlock()
	v := notebookView{}
	if b.kept != nil {
		doc := figures.Laid(p, notebook.Written(b.answer, b.kept))
		v.Doc, v.Finished = &doc, true
	} else {
		res := notebook.Of(s.Store.State(), s.Now(), b.book.Lines, b.book.Notes...)
		doc := figures.Laid(p, res.Document)
		if v.Doc = &doc; len(res.Records) > 0 {
			v.Write = "/notebook/" + key
		}
	}
	s.drawNotebook(w, r, http.StatusOK, v)
}

// writeOpenBook writes a notebook, all of it or nothing, by the shop as it is now.
func (s *server) writeOpenBook(w http.ResponseWriter, r *http.Request) {
	key := r.PathValue("file")
	if b, ok := s.books.get(key); ok {
		b.writing.Lock()
		defer b.writing.Unlock()
		res := notebook.Of(s.Store.State(), s.Now(), b.book.Lines, b.book.Notes...)
		if b.kept == nil && len(res.Records) > 0 {
			kept, err := s.Store.Append(r.Context(), s.Now(), res.Records...)
			if err != nil {
				s.FailWith(w, r, err)
				return
			}
			b.kept, b.answer = kept, res
		}
	}
	http.Redirect(w, r, "/notebook/"+key, http.StatusSeeOther)
}
