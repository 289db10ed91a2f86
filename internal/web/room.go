package web

import (
	"html/template"
	"net/http"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan/books"
	"hopperful/plan/dose"
	"hopperful/plan/upkeep"
	"hopperful/shop"
)

// roomView is the page of a room whose answer is a document and no more.
type roomView struct {
	docView
	Drawing     template.HTML // may be empty
	DrawingSays string        // what it shows
	Main        *link
	Links       []link
}

// showRoom renders a document as a page, or as JSON where that is wanted.
func (s *server) showRoom(w http.ResponseWriter, r *http.Request, d *desk, page view, v roomView, doc answer.Document) {
	if wantsJSON(r) {
		writeJSON(w, http.StatusOK, d.say.Document(doc))
		return
	}
	v.docView = viewDocument(d.say, doc)
	page.Body = v
	s.render(w, r, http.StatusOK, "room", page)
}

// upkeepPath is the page of a mill's upkeep.
func upkeepPath(mill string) string { return "/machines/" + pathSegment(mill) + "/upkeep" }

func (s *server) showUpkeep(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	mill := r.PathValue("mill")
	doc, err := upkeep.Of(d.state, mill, upkeep.Options{})
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	v := roomView{Main: &link{"/record/service?mill=" + queryEscape(mill), d.say.Line("page.upkeep_write")},
		Links: []link{{"/record/event?mill=" + queryEscape(mill), d.say.Line("page.upkeep_wrong")}, {learnPath(mill), d.say.Line("page.upkeep_learn")}}}
	s.showRoom(w, r, d, view{Title: d.say.Line("page.upkeep_title", fact.Name("mill", mill)), Place: "machines", Crumb: &link{"/machines", "Machines"}}, v, doc)
}

// showDose is the page of a day's noise and dust: /dose?day=2026-11-25.
func (s *server) showDose(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	o := dose.Options{Day: d.now}
	if day, err := time.ParseInLocation(time.DateOnly, d.query("day"), d.now.Location()); err == nil && day.Year() >= 2000 && day.Year() < 2200 {
		o.Day = day
	}
	doc, err := dose.Of(d.state, o)
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	v := roomView{Links: []link{{"/dose?day=" + o.Day.AddDate(0, 0, -1).Format(time.DateOnly), d.say.Line("page.dose_before")}}}
	if mills := d.state.ActiveMills(); len(mills) > 0 {
		v.Main = &link{"/record/mill?of=" + queryEscape(mills[0].Name), d.say.Line("page.dose_level")}
	}
	s.showRoom(w, r, d, view{Title: d.say.Line("page.dose_title"), Place: "machines", Crumb: &link{"/machines", "Machines"}}, v, doc)
}

// showBooks is the books of a month: /books?month=2026-11.
func (s *server) showBooks(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	at := d.now
	if !d.state.Last.IsZero() {
		at = d.state.Last.In(d.now.Location())
	}
	if month, err := time.ParseInLocation("2006-01", d.query("month"), d.now.Location()); err == nil && month.Year() >= 2000 && month.Year() < 2200 {
		at = month
	}
	o := books.Month(at)
	b, err := books.Of(d.state, o)
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	v := roomView{Drawing: drawFlow(d.say, b.Streams), DrawingSays: d.say.Line("page.books_flow"),
		Links: []link{{"/books?month=" + o.From.AddDate(0, -1, 0).Format("2006-01"), d.say.Line("page.books_before")}, {"/books?month=" + o.To.Format("2006-01"), d.say.Line("page.books_after")}}}
	if d.state.Shop.ElectricityPrice == nil {
		v.Main = &link{"/record/shop", d.say.Line("page.books_prices")}
	}
	s.showRoom(w, r, d, view{Title: d.say.Line("page.books_title"), Place: "stock", Crumb: &link{"/stock", "Stock"}}, v, b.Document)
}

// markedLot says why a lot has to be checked, and what to do; nil where nothing does.
func (d *desk) markedLot(id shop.LotID) *link {
	all := upkeep.SuspectOf(d.state, id)
	if len(all) == 0 {
		return nil
	}
	return &link{upkeepPath(all[0].Mill), d.say.Line("page.upkeep_lot")}
}
