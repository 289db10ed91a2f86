package web

import (
	"errors"
	"html/template"
	"net/http"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/drawing"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
	"hopperful/plan/books"
	"hopperful/plan/dose"
	"hopperful/plan/upkeep"
	"hopperful/quantity"
	"hopperful/shop"
)

// roomView is the page of a room whose answer is a document and no more.
type roomView struct {
	figures.Document
	Drawing template.HTML // may be empty
	Main    *address.Link
	Links   []address.Link
	Ask     *forms.View // what it is asked with; nil: nothing
	Refused string      // why there is no answer
}

// showRoom renders a document as a page, or as JSON where that is wanted.
func (s *server) showRoom(w http.ResponseWriter, r *http.Request, d *desk.Desk, page site.View, v roomView, doc answer.Document) {
	if desk.WantsJSON(r) {
		site.WriteJSON(w, http.StatusOK, d.Say.Document(doc))
		return
	}
	v.Document = figures.Laid(d.Say, doc)
	page.Body = v
	s.Render(w, r, http.StatusOK, "room", page)
}

// showAsked renders what a sheet asked, or what is wrong with it beside its fields.
func (s *server) showAsked(w http.ResponseWriter, r *http.Request, d *desk.Desk, page site.View, v roomView, doc answer.Document, err error, sh forms.Sheet, a forms.Asked) {
	var none *shop.Error
	switch {
	case desk.WantsJSON(r) && s.Unreadable(w, r, a):
		return
	case err != nil && (desk.WantsJSON(r) || errors.As(err, &none) && none.Code == shop.NotFound || !a.Refused(err)):
		s.FailWith(w, r, err)
		return
	}
	ask := forms.AskedForm(r, sh, a)
	v.Ask = &ask
	if len(a.In.Wrong) == 0 {
		s.showRoom(w, r, d, page, v, doc)
		return
	}
	v.Drawing, v.Refused = "", site.Unread(a)
	page.Body = v
	s.Render(w, r, http.StatusUnprocessableEntity, "room", page)
}

func (s *server) showUpkeep(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	mill := r.PathValue("mill")
	sh := forms.Sheet{Submit: "page.grains_reckon", Groups: []forms.Group{{Fields: []forms.Field{
		forms.Amount("look", "page.upkeep_look", quantity.Duration, "min", "page.upkeep_look_help"),
		forms.Amount("spoilt", "page.upkeep_spoilt", quantity.Duration, "min", "page.upkeep_spoilt_help"),
	}}}}
	a := forms.Read(d.Say, r.URL.Query(), sh)
	doc, err := upkeep.Of(d.State, mill, upkeep.Options{Look: a.Numbers["look"], Spoilt: a.Numbers["spoilt"]})
	v := roomView{Main: &address.Link{To: "/record/service?mill=" + address.Query(mill), Say: d.Say.Line("page.upkeep_write")},
		Links: []address.Link{{To: "/record/event?mill=" + address.Query(mill), Say: d.Say.Line("page.upkeep_wrong")}, {To: address.Learned(mill), Say: d.Say.Line("page.upkeep_learn")}}}
	s.showAsked(w, r, d, site.View{Title: d.Say.Line("page.upkeep_title", fact.Name("mill", mill)), Place: "machines", Crumb: &address.Link{To: "/machines", Say: "form.machines"}}, v, doc, err, sh, a)
}

// dayOr is a day, or another where none was asked.
func dayOr(day, or time.Time) time.Time {
	if day.IsZero() {
		return or
	}
	return day
}

// doseSheet asks of which day and person, and what is on no record.
func doseSheet(d *desk.Desk) forms.Sheet {
	people := []forms.Option{{Value: "", Say: "page.dose_everybody"}}
	for _, p := range d.State.People {
		people = append(people, forms.Option{Value: p.Name, Say: p.Name})
	}
	return forms.Sheet{Submit: "page.grains_reckon", Groups: []forms.Group{{Fields: []forms.Field{
		{Path: "day", Label: "page.dose_day", As: forms.AsDay},
		{Path: "by", Label: "form.who", As: forms.AsSelect, Choices: people},
		forms.Amount("at_ear", "page.dose_at_ear", quantity.SoundLevel, "dB(A)", "page.dose_at_ear_help"),
		forms.Amount("background", "page.dose_background", quantity.SoundLevel, "dB(A)", ""),
		forms.Amount("beside", "page.dose_beside", quantity.SoundLevel, "dB(A)", "page.dose_beside_help"),
		forms.Amount("more", "page.dose_more", quantity.Duration, "min", "page.dose_more_help"),
		forms.Amount("floor", "page.dose_floor", quantity.Area, "m²", "page.dose_floor_help"),
		forms.Amount("height", "page.dose_height", quantity.Length, "m", "page.dose_height_help"),
	}}}}
}

// showDose is the page of a day's noise and dust: /dose?day=2026-11-25.
func (s *server) showDose(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	sh := doseSheet(d)
	a := forms.Read(d.Say, r.URL.Query(), sh)
	o := dose.Options{Day: dayOr(a.Day("day", d.Now.Location()), d.Now), Who: a.Words["by"], Level: a.Numbers["at_ear"], Background: a.Numbers["background"],
		Beside: a.Numbers["beside"], More: a.Numbers["more"], Floor: a.Numbers["floor"], Height: a.Numbers["height"]}
	v := roomView{Links: []address.Link{{To: "/dose?day=" + o.Day.AddDate(0, 0, -1).Format(time.DateOnly), Say: d.Say.Line("page.dose_before")}}}
	if mills := d.State.ActiveMills(); len(mills) > 0 {
		v.Main = &address.Link{To: "/record/mill?of=" + address.Query(mills[0].Name), Say: d.Say.Line("page.dose_level")}
	} else {
		v.Main = address.OfStep(d.Say, fact.Say("do.describe_mill"))
	}
	doc, err := dose.Of(d.State, o)
	s.showAsked(w, r, d, site.View{Title: d.Say.Line("page.dose_title"), Place: "machines", Crumb: &address.Link{To: "/machines", Say: "form.machines"}}, v, doc, err, sh, a)
}

// booksSheet asks of which time, and at which prices.
func booksSheet() forms.Sheet {
	price := func(path, label string) forms.Field { return forms.Amount(path, label, quantity.Number, "", "") }
	return forms.Sheet{Submit: "page.grains_reckon", Groups: []forms.Group{{Fields: []forms.Field{
		{Path: "month", Label: "page.books_month", As: forms.AsMonth},
		{Path: "from", Label: "page.books_from", As: forms.AsDay},
		{Path: "to", Label: "page.books_to", As: forms.AsDay, Help: "page.books_to_help"},
		price("granulate", "page.books_granulate"), price("filament", "page.books_filament"), price("hour", "page.books_hour"), price("grid", "page.books_grid"),
	}}}}
}

// showBooks is the books of a month, /books?month=2026-11, or of some days.
func (s *server) showBooks(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	sh := booksSheet()
	a := forms.Read(d.Say, r.URL.Query(), sh)
	at := d.Now
	if !d.State.Last.IsZero() {
		at = d.State.Last.In(d.Now.Location())
	}
	if month, err := time.ParseInLocation(forms.Month, a.Words["month"], d.Now.Location()); err == nil {
		at = month
	}
	o := books.Month(at)
	v := roomView{}
	prices := ""
	for _, name := range []string{"granulate", "filament", "hour", "grid"} {
		if typed := a.In.Typed(name); typed != "" {
			prices += "&" + name + "=" + address.Query(typed)
		}
	}
	v.Links = []address.Link{{To: "/books?month=" + o.From.AddDate(0, -1, 0).Format(forms.Month) + prices, Say: d.Say.Line("page.books_before")}, {To: "/books?month=" + o.To.Format(forms.Month) + prices, Say: d.Say.Line("page.books_after")}}
	from, to := a.Day("from", d.Now.Location()), a.Day("to", d.Now.Location())
	o.From = dayOr(from, o.From)
	switch {
	case !to.IsZero():
		o.To = to.AddDate(0, 0, 1)
	case !from.IsZero():
		o.To = d.Now.AddDate(0, 0, 1)
	}
	o.Granulate, o.Filament, o.Hour, o.Grid = a.Number("granulate"), a.Number("filament"), books.PerSecond(a.Number("hour")), books.PerJoule(a.Number("grid"))
	b, err := books.Of(d.State, o)
	if err == nil {
		v.Drawing = drawing.Flow(d.Say, b.Streams)
	}
	if d.State.Shop.ElectricityPrice == nil {
		v.Main = &address.Link{To: "/record/shop", Say: d.Say.Line("page.books_prices")}
	}
	s.showAsked(w, r, d, site.View{Title: d.Say.Line("page.books_title"), Place: "stock", Crumb: &address.Link{To: "/stock", Say: "form.stock"}}, v, b.Document, err, sh, a)
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
