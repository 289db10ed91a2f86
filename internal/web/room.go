package web

import (
	"html/template"
	"net/http"
	"strings"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/drawing"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/site"
	"hopperful/plan/books"
	"hopperful/plan/dose"
	"hopperful/plan/upkeep"
	"hopperful/quantity"
)

// roomView is the page of a room whose answer is a document and no more.
type roomView struct {
	figures.Document
	Drawing     template.HTML // may be empty
	Month       string        // the books' own: "2026-11"
	Asks        []priceAsk
	DrawingSays string // what it shows
	Main        *address.Link
	Links       []address.Link
}

// priceAsk is a price the page asks for.
type priceAsk struct{ Name, Say, Value string }

// showRoom renders a document as a page, or as JSON where that is wanted.
func (s *server) showRoom(w http.ResponseWriter, r *http.Request, d *desk.Desk, page site.View, v roomView, doc answer.Document) {
	if site.WantsJSON(r) {
		site.WriteJSON(w, http.StatusOK, d.Say.Document(doc))
		return
	}
	v.Document = figures.Laid(d.Say, doc)
	page.Body = v
	s.Render(w, r, http.StatusOK, "room", page)
}

func (s *server) showUpkeep(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	mill := r.PathValue("mill")
	doc, err := upkeep.Of(d.State, mill, upkeep.Options{})
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	v := roomView{Main: &address.Link{To: "/record/service?mill=" + address.Query(mill), Say: d.Say.Line("page.upkeep_write")},
		Links: []address.Link{{To: "/record/event?mill=" + address.Query(mill), Say: d.Say.Line("page.upkeep_wrong")}, {To: address.Learned(mill), Say: d.Say.Line("page.upkeep_learn")}}}
	s.showRoom(w, r, d, site.View{Title: d.Say.Line("page.upkeep_title", fact.Name("mill", mill)), Place: "machines", Crumb: &address.Link{To: "/machines", Say: "form.machines"}}, v, doc)
}

// showDose is the page of a day's noise and dust: /dose?day=2026-11-25.
func (s *server) showDose(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	o := dose.Options{Day: d.Now}
	if day, err := time.ParseInLocation(time.DateOnly, d.Query("day"), d.Now.Location()); err == nil && day.Year() >= 2000 && day.Year() < 2200 {
		o.Day = day
	}
	doc, err := dose.Of(d.State, o)
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	v := roomView{Links: []address.Link{{To: "/dose?day=" + o.Day.AddDate(0, 0, -1).Format(time.DateOnly), Say: d.Say.Line("page.dose_before")}}}
	if mills := d.State.ActiveMills(); len(mills) > 0 {
		v.Main = &address.Link{To: "/record/mill?of=" + address.Query(mills[0].Name), Say: d.Say.Line("page.dose_level")}
	}
	s.showRoom(w, r, d, site.View{Title: d.Say.Line("page.dose_title"), Place: "machines", Crumb: &address.Link{To: "/machines", Say: "form.machines"}}, v, doc)
}

// showBooks is the books of a month: /books?month=2026-11.
func (s *server) showBooks(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	at := d.Now
	if !d.State.Last.IsZero() {
		at = d.State.Last.In(d.Now.Location())
	}
	if month, err := time.ParseInLocation("2006-01", d.Query("month"), d.Now.Location()); err == nil && month.Year() >= 2000 && month.Year() < 2200 {
		at = month
	}
	o := books.Month(at)
	v := roomView{Asks: pricesOf(d, &o)}
	b, err := books.Of(d.State, o)
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	v.Month, v.Drawing, v.DrawingSays = o.From.Format("2006-01"), drawing.Flow(d.Say, b.Streams), d.Say.Line("page.books_flow")
	prices := ""
	for _, a := range v.Asks {
		if a.Value != "" {
			prices += "&" + a.Name + "=" + address.Query(a.Value)
		}
	}
	v.Links = []address.Link{{To: "/books?month=" + o.From.AddDate(0, -1, 0).Format("2006-01") + prices, Say: d.Say.Line("page.books_before")}, {To: "/books?month=" + o.To.Format("2006-01") + prices, Say: d.Say.Line("page.books_after")}}
	if d.State.Shop.ElectricityPrice == nil {
		v.Main = &address.Link{To: "/record/shop", Say: d.Say.Line("page.books_prices")}
	}
	s.showRoom(w, r, d, site.View{Title: d.Say.Line("page.books_title"), Place: "stock", Crumb: &address.Link{To: "/stock", Say: "form.stock"}}, v, b.Document)
}

// pricesOf reads what the page asks for, and says it again; what is no number is left out.
func pricesOf(d *desk.Desk, o *books.Options) []priceAsk {
	asks := []priceAsk{{Name: "granulate", Say: d.Say.Line("page.books_granulate")}, {Name: "filament", Say: d.Say.Line("page.books_filament")},
		{Name: "hour", Say: d.Say.Line("page.books_hour")}, {Name: "grid", Say: d.Say.Line("page.books_grid")}}
	var v [4]*float64
	for i := range asks {
		asks[i].Value = strings.TrimSpace(d.Query(asks[i].Name))
		if n, err := quantity.Number.Parse(asks[i].Value); err == nil && n >= 0 && n <= 1e6 {
			v[i] = &n
		}
	}
	o.Granulate, o.Filament, o.Hour, o.Grid = v[0], v[1], books.PerSecond(v[2]), books.PerJoule(v[3])
	return asks
}

// showLotBooks is where the grams of a lot came from and went.
func (s *server) showLotBooks(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	l, ok := s.LotAsked(w, r, d)
	if !ok {
		return
	}
	doc, err := books.OfLot(d.State, l.ID)
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	s.showRoom(w, r, d, site.View{Title: d.Say.Line("page.books_title"), Place: "stock", Crumb: &address.Link{To: address.Lot(l.ID), Say: d.Say.Line("form.lot_title", fact.Name("id", string(l.ID)))}},
		roomView{Links: []address.Link{{To: "/books", Say: d.Say.Line("page.books_title")}}}, doc)
}
