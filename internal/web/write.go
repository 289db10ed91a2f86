package web

import (
	"net/http"
	"net/url"

	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/sheets"
	"hopperful/internal/web/site"
	"hopperful/shop"
)

func (s *server) sheetOf(w http.ResponseWriter, r *http.Request, d *desk.Desk) (forms.Sheet, bool) {
	make, ok := sheets.All[r.PathValue("what")]
	if !ok {
		s.ShowMissing(w, r)
		return forms.Sheet{}, false
	}
	return make(d), true
}

// showSheet shows an empty sheet, or the latest description of a named thing to
// change (?of=NAME); answers in the address are filled in.
func (s *server) showSheet(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	sh, ok := s.sheetOf(w, r, d)
	if !ok {
		return
	}
	values := url.Values{}
	if was, found := sheets.Latest(d, sh.Kind, d.Query("of")); found {
		values = forms.AnswersOf(sh, shop.Record{At: d.Now, Body: was}, d.Now.Location(), d.Say)
		values.Del("at")
	}
	sh.Fields(func(f forms.Field) {
		if v := d.Query(f.Path); v != "" {
			values.Set(f.Path, v)
		}
	})
	s.DrawSheet(w, r, d, http.StatusOK, sh, forms.NewInput(d.Say, values))
}

// postSheet writes a filled sheet down, or shows it again with what is wrong.
func (s *server) postSheet(w http.ResponseWriter, r *http.Request) {
	if !forms.ReadForm(w, r) {
		s.Fail(w, r, site.TooLarge)
		return
	}
	d := s.Desk(r)
	sh, ok := s.sheetOf(w, r, d)
	if !ok {
		return
	}
	in := forms.NewInput(d.Say, r.PostForm)
	was, _ := sheets.Latest(d, sh.Kind, d.Query("of"))
	rec, ok := s.WriteSheet(w, r, d, sh, in, was, 0)
	if !ok {
		return
	}
	s.Follow(w, r, sh.After(s.Store.State(), rec), rec.ID)
}
