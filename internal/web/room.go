package web

import (
	"html/template"
	"net/http"
	"strings"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/web/drawing"
	"hopperful/plan/books"
	"hopperful/plan/dose"
	"hopperful/plan/upkeep"
	"hopperful/quantity"
	"hopperful/shop"
)

// roomView is the page of a room whose answer is a document and no more.
type roomView struct {
	docView
	Drawing     template.HTML // may be empty
	Month       string        // the books' own: "2026-11"
	Asks        []priceAsk
	DrawingSays string // what it shows
	Main        *link
	Links       []link
}

// priceAsk is a price the page asks for.
type priceAsk struct{ Name, Say, Value string }

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
	s.showRoom(w, r, d, view{Title: d.say.Line("page.upkeep_title", fact.Name("mill", mill)), Place: "machines", Crumb: &link{"/machines", "form.machines"}}, v, doc)
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
	s.showRoom(w, r, d, view{Title: d.say.Line("page.dose_title"), Place: "machines", Crumb: &link{"/machines", "form.machines"}}, v, doc)
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
	v := roomView{Asks: d.prices(&o)}
	b, err := books.Of(d.state, o)
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	v.Month, v.Drawing, v.DrawingSays = o.From.Format("2006-01"), drawing.Flow(d.say, b.Streams), d.say.Line("page.books_flow")
	prices := ""
	for _, a := range v.Asks {
		if a.Value != "" {
			prices += "&" + a.Name + "=" + queryEscape(a.Value)
		}
	}
	v.Links = []link{{"/books?month=" + o.From.AddDate(0, -1, 0).Format("2006-01") + prices, d.say.Line("page.books_before")}, {"/books?month=" + o.To.Format("2006-01") + prices, d.say.Line("page.books_after")}}
	if d.state.Shop.ElectricityPrice == nil {
		v.Main = &link{"/record/shop", d.say.Line("page.books_prices")}
	}
	s.showRoom(w, r, d, view{Title: d.say.Line("page.books_title"), Place: "stock", Crumb: &link{"/stock", "form.stock"}}, v, b.Document)
}

// prices reads what the page asks for, and says it again; what is no number is left out.
func (d *desk) prices(o *books.Options) []priceAsk {
	asks := []priceAsk{{Name: "granulate", Say: d.say.Line("page.books_granulate")}, {Name: "filament", Say: d.say.Line("page.books_filament")},
		{Name: "hour", Say: d.say.Line("page.books_hour")}, {Name: "grid", Say: d.say.Line("page.books_grid")}}
	var v [4]*float64
	for i := range asks {
		asks[i].Value = strings.TrimSpace(d.query(asks[i].Name))
		if n, err := quantity.Number.Parse(asks[i].Value); err == nil && n >= 0 && n <= 1e6 {
			v[i] = &n
		}
	}
	o.Granulate, o.Filament, o.Hour, o.Grid = v[0], v[1], books.PerSecond(v[2]), books.PerJoule(v[3])
	return asks
}

// showLotBooks is where the grams of a lot came from and went.
func (s *server) showLotBooks(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	l, ok := s.lotAsked(w, r, d)
	if !ok {
		return
	}
	doc, err := books.OfLot(d.state, l.ID)
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	s.showRoom(w, r, d, view{Title: d.say.Line("page.books_title"), Place: "stock", Crumb: &link{lotPath(l.ID), d.say.Line("form.lot_title", fact.Name("id", string(l.ID)))}},
		roomView{Links: []link{{"/books", d.say.Line("page.books_title")}}}, doc)
}

// markedLot says why a lot has to be checked, and what to do; nil where nothing does.
func (d *desk) markedLot(id shop.LotID) *link {
	all := upkeep.SuspectOf(d.state, id)
	if len(all) == 0 {
		return nil
	}
	return &link{upkeepPath(all[0].Mill), d.say.Line("page.upkeep_lot")}
}
