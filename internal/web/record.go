package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"hopperful/fact"
	"hopperful/plan/plausibility"
	"hopperful/quantity"
	"hopperful/shop"
)

// recordRow is one line of the log.
type recordRow struct {
	ID        shop.RecordID
	When, By  string
	What      string
	Text      string
	Note      string
	Lots      []shop.LotID
	Struck    bool // struck out later
	Corrected bool
	Mends     shop.RecordID // the record it corrects
	Open      bool          // may still be corrected here
}

// logRow tells one record of the history.
func (d *desk) logRow(r shop.Record) recordRow {
	s := describe(d.say, r)
	row := recordRow{ID: r.ID, When: d.clock(r.At), By: r.By, What: s.What, Text: s.Text, Note: r.Note, Lots: s.Lots, Mends: r.Corrects}
	now, stands := d.state.Record(r.ID)
	row.Struck = !stands && r.Corrects == 0
	row.Corrected = stands && now.CorrectedBy != 0
	row.Open = stands
	return row
}

// has reports whether the words asked for stand in the line.
func (r recordRow) has(asked string) bool {
	return found(asked, r.Text, r.By, r.Note, r.When, toString(r.ID), fmt.Sprint(r.Lots))
}

// logOf tells some records, the latest first.
func (d *desk) logOf(ids []shop.RecordID) []recordRow {
	var rows []recordRow
	for i := len(ids) - 1; i >= 0; i-- {
		if r, ok := d.state.Record(ids[i]); ok {
			rows = append(rows, d.logRow(r))
		}
	}
	return rows
}

// recordsView is the log.
type recordsView struct {
	Rows         []recordRow
	Older, Newer int // pages to turn to, -1 for none
	Asked, Kind  string
	Kinds        []option
	Search       bool
	Sum          int // records found
}

// perPage is how many records a page of the log holds.
const perPage = 50

func (s *server) showRecords(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	page, err := strconv.Atoi(d.query("page"))
	if err != nil || page < 0 {
		page = 0
	}
	v := recordsView{Older: -1, Newer: page - 1, Asked: strings.TrimSpace(d.query("q")), Kind: d.query("kind"), Search: d.state.History.Len() > mostUnsought}
	var kinds []shop.Body
	for _, b := range shop.Bodies() {
		if d.state.History.Count(b) == 0 {
			continue
		}
		v.Kinds = append(v.Kinds, option{b.Kind(), d.say.Line("kind." + b.Kind())})
		if v.Kind == "" || v.Kind == b.Kind() {
			kinds = append(kinds, b)
		}
	}
	if v.Asked == "" { // only those of the page are read
		v.Sum = d.state.History.Count(kinds...)
	}
	n := 0
	for rec := range d.state.History.Page(page*perPage, v.Asked == "", kinds...) {
		if v.Asked != "" && !d.logRow(rec).has(v.Asked) {
			continue
		}
		if v.Asked != "" {
			v.Sum++
		}
		if n++; (v.Asked == "" || n > page*perPage) && len(v.Rows) < perPage {
			v.Rows = append(v.Rows, d.logRow(rec))
		}
		if v.Asked == "" && len(v.Rows) == perPage {
			break
		}
	}
	if (page+1)*perPage < v.Sum {
		v.Older = page + 1
	}
	slices.SortFunc(v.Kinds, func(a, b option) int { return strings.Compare(a.Say, b.Say) })
	s.render(w, r, http.StatusOK, "records", view{Title: "form.records", Place: "stock", Crumb: &link{"/stock", "form.stock"}, Body: v})
}

// Turn is the address of another page of what was found.
func (v recordsView) Turn(page int) string {
	to := "/records?page=" + toString(page)
	if v.Asked != "" {
		to += "&q=" + queryEscape(v.Asked)
	}
	if v.Kind != "" {
		to += "&kind=" + queryEscape(v.Kind)
	}
	return to
}

// recordView is one record's page.
type recordView struct {
	Row     recordRow
	Lines   []option // its answers in words
	History []recordRow
	Ask     string // where the forecast of this run is, "" when it has none
	Picture string // where the picture of grains kept with it is, "" without one
	Album   []pictureLine
	Photo   string // where a photograph to it is sent
	Sieved  string // where its analysis is, "" when it is no sieving
	Compare *comparedView
	Asked   []questionView // what can hardly be true of it
}

// found reads the record's number from the address.
func (s *server) found(w http.ResponseWriter, r *http.Request, d *desk) (shop.Record, bool) {
	id, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil {
		s.showMissing(w, r)
		return shop.Record{}, false
	}
	if rec, ok := d.state.Record(shop.RecordID(id)); ok {
		return rec, true
	}
	if rec, ok := d.state.Written(shop.RecordID(id)); ok {
		return rec, true
	}
	s.fail(w, r, fault{http.StatusNotFound, d.say.Line("form.there_is_no_record", fact.Name("format_int", strconv.FormatInt(id, 10))), "form.the_list_of_records_shows"})
	return shop.Record{}, false
}

func (s *server) showRecord(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	rec, ok := s.found(w, r, d)
	if !ok {
		return
	}
	v := recordView{Row: d.logRow(rec)}
	if v.Row.Open {
		v.Asked = d.questions(rec.ID, plausibility.Of(d.state, rec.ID), "/records/"+toString(rec.ID))
	}
	if sh, ok := sheetOfRecord(d, rec.Body); ok {
		v.Lines = spelled(sh, rec, d)
	}
	if _, is := rec.Body.(*shop.Pictured); is {
		v.Album = []pictureLine{{Src: keptPicture(rec), To: keptPicture(rec), When: v.Row.When, Note: rec.Note}}
	} else {
		v.Picture, v.Album, v.Photo = keptPicture(rec), d.album("", rec.ID), photoPath("", rec.ID)
	}
	if b, sieved := rec.Body.(*shop.Sieved); sieved && v.Row.Open {
		v.Sieved = sievePath(b.Lot, rec.ID)
	}
	if _, ground := rec.Body.(*shop.Ground); ground && v.Row.Open {
		if v.Ask = fmt.Sprintf("/records/%d?compare=1", rec.ID); d.query("compare") != "" {
			v.Ask, v.Compare = "", s.compare(w, r, d.state, rec.ID, v.Ask)
		}
	}
	for _, h := range d.state.Versions(rec.ID) {
		v.History = append(v.History, d.logRow(h))
	}
	s.render(w, r, http.StatusOK, "record", view{Title: d.say.Line("form.record", fact.Name("path_value", r.PathValue("id"))), Place: "stock",
		Crumb: &link{"/records", "form.records"}, Body: v})
}

// spelled lists a record's answers with their questions.
func spelled(sh sheet, rec shop.Record, d *desk) []option {
	answers := answersOf(sh, rec, d.now.Location(), d.say)
	var lines []option
	sh.fields(func(f field) {
		v := answers.Get(f.Path)
		if v == "" || f.As == asHidden {
			return
		}
		if f.As == asAmount && f.Unit != "" {
			v += " " + f.Unit
		}
		if t, err := f.Kind.ParseOr(answers.Get(f.Path), f.Unit); f.As == asAmount && f.Kind == quantity.Duration && err == nil {
			v = d.say.Decimal(quantity.Duration.Plain(t))
		}
		if i := slices.IndexFunc(f.Choices, func(o option) bool { return o.Value == v }); i >= 0 && d.say.Has(f.Choices[i].Say) {
			v = f.Choices[i].Say // what was chosen, in words
		} else if f.As == asCheck {
			v = "form.yes"
		}
		lines = append(lines, option{f.Label, v})
	})
	return lines
}

func (s *server) showCorrection(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	rec, sh, ok := s.correctable(w, r, d)
	if !ok {
		return
	}
	values := answersOf(sh, rec, d.now.Location(), d.say)
	sh.fields(func(f field) {
		if v := d.query(f.Path); v != "" { // what was likely meant
			values.Set(f.Path, v)
		}
	})
	s.drawSheet(w, r, d, http.StatusOK, sh, newInput(d.say, values))
}

func (s *server) postCorrection(w http.ResponseWriter, r *http.Request) {
	if !readForm(w, r) {
		s.fail(w, r, tooLarge)
		return
	}
	d := s.desk(r)
	rec, sh, ok := s.correctable(w, r, d)
	if !ok {
		return
	}
	kept, ok := s.writeSheet(w, r, d, sh, newInput(d.say, r.PostForm), rec.Body, rec.ID)
	if ok {
		s.follow(w, r, sh.After(s.store.State(), kept), kept.ID)
	}
}

// correctable finds a record that stands, and its sheet, headed as a correction.
func (s *server) correctable(w http.ResponseWriter, r *http.Request, d *desk) (shop.Record, sheet, bool) {
	rec, ok := s.found(w, r, d)
	if !ok {
		return rec, sheet{}, false
	}
	sh, known := sheetOfRecord(d, rec.Body)
	if _, stands := d.state.Record(rec.ID); !stands || !known {
		s.fail(w, r, fault{http.StatusConflict, "form.this_record_no_longer_stands", "form.write_it_down_anew"})
		return rec, sh, false
	}
	sh.Title, sh.Submit = d.say.Line("form.correct_record", fact.Name("id", toString(rec.ID))), d.say.Line("form.keep_the_correction")
	sh.Intro = d.say.Line("form.the_first_version_is_kept")
	sh.Timed = true
	return rec, sh, true
}
