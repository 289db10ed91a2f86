package prints

import (
	"cmp"
	"net/http"
	"strings"
	"time"

	"hopperful/fact"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/sheets"
	"hopperful/plan"
	"hopperful/shop"
)

// chooseView is what a plan may be asked with.
type chooseView struct {
	Polymer, Colour, Mill, By string
	Polymers, Colours         []string
	Mills                     []forms.Option
	Lots                      []forms.Option
	Chosen                    map[string]bool
	Open                      bool
}

// request reads what a plan is wanted for from the address.
func request(r *http.Request, d *desk.Desk, need shop.Need) (plan.Request, error) {
	q := r.URL.Query()
	req := plan.Request{Need: need, Polymer: Known(d, q.Get("polymer")), Colour: strings.TrimSpace(q.Get("colour")), Mill: q.Get("mill"),
		Now: d.Now, Moved: true}
	for _, l := range q["lot"] {
		id, err := shop.ParseLot(l)
		if err != nil {
			return req, err
		}
		req.Lots = append(req.Lots, id)
	}
	by, err := parseBy(q.Get("by"), d.Now)
	req.By = by
	return req, err
}

// parseBy reads "18:00" as the next time the clock shows it, or a full moment.
func parseBy(typed string, now time.Time) (time.Time, error) {
	typed = strings.TrimSpace(typed)
	if typed == "" {
		return time.Time{}, nil
	}
	if t, err := time.ParseInLocation("15:04", typed, now.Location()); err == nil {
		by := time.Date(now.Year(), now.Month(), now.Day(), t.Hour(), t.Minute(), 0, 0, now.Location())
		if by.Before(now) {
			by = by.AddDate(0, 0, 1)
		}
		return by, nil
	}
	if t, err := time.ParseInLocation("2006-01-02T15:04", typed, now.Location()); err == nil {
		if t.Before(now) {
			return t, &shop.Error{Code: shop.Invalid, Field: "by", What: fact.Say("form.deadline_past"), Advice: fact.Say("form.deadline_past_advice")}
		}
		return t, nil
	}
	return time.Time{}, &shop.Error{Code: shop.Invalid, Field: "by", What: fact.Say("form.is_no_time", fact.Name("typed", typed)), Advice: fact.Say("form.clock_form")}
}

func withPolymer(n shop.Need, req plan.Request) shop.Need {
	if req.Polymer != "" {
		n.Polymer = req.Polymer
	}
	return n
}

// choose fills the questions a plan may be asked with.
func choose(r *http.Request, d *desk.Desk, req plan.Request) chooseView {
	c := chooseView{Polymer: cmp.Or(req.Polymer, req.Need.Polymer), Colour: req.Colour, Mill: req.Mill, By: r.URL.Query().Get("by"),
		Polymers: d.Materials().Names(), Colours: d.Colours(), Chosen: map[string]bool{}, Open: r.URL.RawQuery != "" || req.Need.Polymer == ""}
	for _, id := range req.Lots {
		c.Chosen[string(id)] = true
	}
	for _, m := range d.State.ActiveMills() {
		c.Mills = append(c.Mills, forms.Option{Value: m.Name, Say: m.Name})
	}
	for _, l := range d.State.Stock(append([]shop.Class{shop.Scrap}, sheets.Granulate...)...) { // a print is sorted into scrap first
		if strings.EqualFold(l.Polymer, c.Polymer) || c.Polymer == "" {
			c.Lots = append(c.Lots, forms.Option{Value: string(l.ID), Say: desk.LotLine(d.Say, l)})
		}
	}
	return c
}
