package lots

import (
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/mills"
	"hopperful/internal/web/sheets"
	"hopperful/internal/web/site"
	"hopperful/plan/plausibility"
	"hopperful/quantity"
	"hopperful/shop"
)

// has reports whether the words asked for stand in the line.
func has(r desk.RecordRow, asked string) bool {
	return found(asked, r.Text, r.By, r.Note, r.When, address.Number(r.ID), fmt.Sprint(r.Lots))
}

// logOf tells some records, the latest first.
func logOf(d *desk.Desk, ids []shop.RecordID) []desk.RecordRow {
	var rows []desk.RecordRow
	for i := len(ids) - 1; i >= 0; i-- {
		if r, ok := d.State.Record(ids[i]); ok {
			rows = append(rows, desk.LogRow(d, r))
		}
	}
	return rows
}

// recordsView is the log.
type recordsView struct {
	Rows         []desk.RecordRow
	Older, Newer int // pages to turn to, -1 for none
	Asked, Kind  string
	Kinds        []forms.Option
	Search       bool
	Sum          int // records found
}

// perPage is how many records a page of the log holds.
const perPage = 50

// ShowRecords is the log, a page at a time.
func ShowRecords(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	page, err := strconv.Atoi(d.Query("page"))
	if err != nil || page < 0 {
		page = 0
	}
	v := recordsView{Older: -1, Newer: page - 1, Asked: strings.TrimSpace(d.Query("q")), Kind: d.Query("kind"), Search: d.State.History.Len() > mostUnsought}
	var kinds []shop.Body
	for _, b := range shop.Bodies() {
		if d.State.History.Count(b) == 0 {
			continue
		}
		v.Kinds = append(v.Kinds, forms.Option{Value: b.Kind(), Say: d.Say.Line("kind." + b.Kind())})
		if v.Kind == "" || v.Kind == b.Kind() {
			kinds = append(kinds, b)
		}
	}
	if v.Asked == "" { // only those of the page are read
		v.Sum = d.State.History.Count(kinds...)
	}
	n := 0
	for rec := range d.State.History.Page(page*perPage, v.Asked == "", kinds...) {
		if v.Asked != "" && !has(desk.LogRow(d, rec), v.Asked) {
			continue
		}
		if v.Asked != "" {
			v.Sum++
		}
		if n++; (v.Asked == "" || n > page*perPage) && len(v.Rows) < perPage {
			v.Rows = append(v.Rows, desk.LogRow(d, rec))
		}
		if v.Asked == "" && len(v.Rows) == perPage {
			break
		}
	}
	if (page+1)*perPage < v.Sum {
		v.Older = page + 1
	}
	slices.SortFunc(v.Kinds, func(a, b forms.Option) int { return strings.Compare(a.Say, b.Say) })
	s.Render(w, r, http.StatusOK, "records", site.View{Title: "form.records", Place: "stock", Crumb: &address.Link{To: "/stock", Say: "form.stock"}, Body: v})
}

// Turn is the address of another page of what was found.
func (v recordsView) Turn(page int) string {
	to := "/records?page=" + address.Number(page)
	if v.Asked != "" {
		to += "&q=" + address.Query(v.Asked)
	}
	if v.Kind != "" {
		to += "&kind=" + address.Query(v.Kind)
	}
	return to
}

// recordView is one record's page.
type recordView struct {
	Row     desk.RecordRow
	Lines   []forms.Option // its answers in words
	History []desk.RecordRow
	Ask     string // where the forecast of this run is, "" when it has none
	Picture string // where the picture of grains kept with it is, "" without one
	Album   []pictureLine
	Photo   string // where a photograph to it is sent
	Sieved  string // where its analysis is, "" when it is no sieving
	Compare *mills.ComparedView
	Asked   []site.QuestionView // what can hardly be true of it
}

// ShowRecord is the page of one record.
func ShowRecord(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	rec, ok := s.Found(w, r, d)
	if !ok {
		return
	}
	v := recordView{Row: desk.LogRow(d, rec)}
	if v.Row.Open {
		v.Asked = site.Questions(d, rec.ID, plausibility.Of(d.State, rec.ID), "/records/"+address.Number(rec.ID))
	}
	if sh, ok := sheets.OfRecord(d, rec.Body); ok {
		v.Lines = Spelled(sh, rec, d)
	}
	if _, is := rec.Body.(*shop.Pictured); is {
		v.Album = []pictureLine{{Src: KeptPicture(rec), To: KeptPicture(rec), When: v.Row.When, Note: rec.Note}}
	} else {
		v.Picture, v.Album, v.Photo = KeptPicture(rec), album(d, "", rec.ID), address.Photo("", rec.ID)
	}
	if b, sieved := rec.Body.(*shop.Sieved); sieved && v.Row.Open {
		v.Sieved = address.Sieving(b.Lot, rec.ID)
	}
	if _, ground := rec.Body.(*shop.Ground); ground && v.Row.Open {
		if v.Ask = fmt.Sprintf("/records/%d?compare=1", rec.ID); d.Query("compare") != "" {
			v.Ask, v.Compare = "", mills.Compare(s, w, r, d.State, rec.ID, v.Ask)
		}
	}
	for _, h := range d.State.Versions(rec.ID) {
		v.History = append(v.History, desk.LogRow(d, h))
	}
	s.Render(w, r, http.StatusOK, "record", site.View{Title: d.Say.Line("form.record", fact.Name("path_value", r.PathValue("id"))), Place: "stock",
		Crumb: &address.Link{To: "/records", Say: "form.records"}, Body: v})
}

// Spelled lists a record's answers with their questions.
func Spelled(sh forms.Sheet, rec shop.Record, d *desk.Desk) []forms.Option {
	answers := forms.AnswersOf(sh, rec, d.Now.Location(), d.Say)
	var lines []forms.Option
	sh.Fields(func(f forms.Field) {
		v := answers.Get(f.Path)
		if v == "" || f.As == forms.AsHidden {
			return
		}
		if f.As == forms.AsAmount && f.Unit != "" {
			v += " " + f.Unit
		}
		if t, err := f.Kind.ParseOr(answers.Get(f.Path), f.Unit); f.As == forms.AsAmount && f.Kind == quantity.Duration && err == nil {
			v = d.Say.Decimal(quantity.Duration.Plain(t))
		}
		if i := slices.IndexFunc(f.Choices, func(o forms.Option) bool { return o.Value == v }); i >= 0 && d.Say.Has(f.Choices[i].Say) {
			v = f.Choices[i].Say // what was chosen, in words
		} else if f.As == forms.AsCheck {
			v = "form.yes"
		}
		lines = append(lines, forms.Option{Value: f.Label, Say: v})
	})
	return lines
}

// ShowCorrection shows a record on its sheet, to be corrected.
func ShowCorrection(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	rec, sh, ok := correctable(s, w, r, d)
	if !ok {
		return
	}
	began := forms.AnswersOf(sh, rec, d.Now.Location(), d.Say)
	values := maps.Clone(began)
	sh.Fields(func(f forms.Field) {
		if v := d.Query(f.Path); v != "" { // what was likely meant
			values.Set(f.Path, v)
		}
	})
	in := forms.NewInput(d.Say, values)
	in.Began = began
	s.DrawSheet(w, r, d, http.StatusOK, sh, in)
}

// PostCorrection writes the corrected record.
func PostCorrection(s *site.Site, w http.ResponseWriter, r *http.Request) {
	if !forms.ReadForm(w, r) {
		s.Fail(w, r, site.TooLarge)
		return
	}
	d := s.Desk(r)
	rec, sh, ok := correctable(s, w, r, d)
	if !ok {
		return
	}
	in := forms.NewInput(d.Say, r.PostForm)
	in.Began = forms.AnswersOf(sh, rec, d.Now.Location(), d.Say)
	kept, ok := s.WriteSheet(w, r, d, sh, in, rec.Body, rec.ID)
	if ok {
		s.Follow(w, r, sh.After(s.Store.State(), kept), kept.ID)
	}
}

// correctable finds a record that stands, and its sheet, headed as a correction.
func correctable(s *site.Site, w http.ResponseWriter, r *http.Request, d *desk.Desk) (shop.Record, forms.Sheet, bool) {
	rec, ok := s.Found(w, r, d)
	if !ok {
		return rec, forms.Sheet{}, false
	}
	sh, known := sheets.OfRecord(d, rec.Body)
	if _, stands := d.State.Record(rec.ID); !stands || !known {
		s.Fail(w, r, site.Fault{Status: http.StatusConflict, Say: "form.corrected_already", Hint: "form.write_it_down_anew"})
		return rec, sh, false
	}
	sh.Title, sh.Submit = d.Say.Line("form.correct_record", fact.Name("id", address.Number(rec.ID))), d.Say.Line("form.keep_the_correction")
	sh.Intro = d.Say.Line("form.correction_intro")
	sh.Timed = true
	return rec, sh, true
}
