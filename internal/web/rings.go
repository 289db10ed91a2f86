package web

import (
	"fmt"
	"html/template"
	"strings"
	"time"

	"hopperful/fact"
	"hopperful/shop"
)

// ringAge is the age one growth ring stands for, and mostRings how many are
// drawn at most, so that a label stays legible.
const (
	ringAge   = 30 * 24 * time.Hour
	mostRings = 5
)

// drawRings draws a lot's label with its age around it: a ring for each month
// since it came.
func drawRings(id shop.LotID, born, now time.Time) template.HTML {
	n := 0
	if !born.IsZero() && now.After(born) {
		n = min(mostRings, int(now.Sub(born)/ringAge))
	}
	var b strings.Builder
	b.WriteString(`<svg class="rings" viewBox="0 0 52 52" aria-hidden="true">`)
	for i := n; i > 0; i-- {
		fmt.Fprintf(&b, `<circle cx="26" cy="26" r="%.1f"/>`, 15.5+2.6*float64(i))
	}
	size := ""
	if len(id) > 3 {
		size = ` font-size="10"`
	}
	fmt.Fprintf(&b, `<circle class="core" cx="26" cy="26" r="15.5"/><text x="26" y="30.6"%s>%s</text></svg>`, size, template.HTMLEscapeString(string(id)))
	return template.HTML(b.String())
}

// aged says an age in words: "since today", "3 days", "5 weeks", "7 months".
func (d *desk) aged(born time.Time) string {
	age := d.now.Sub(born)
	const day = 24 * time.Hour
	switch {
	case age < day && born.Day() == d.now.Day():
		return d.say.Line("form.since_today")
	case age < 14*day:
		return d.say.Line("form.days_old", fact.Count("n", max(1, int(age/day))))
	case age < 2*ringAge:
		return d.say.Line("form.weeks_old", fact.Count("n", int(age/(7*day))))
	}
	return d.say.Line("form.months_old", fact.Count("n", int(age/ringAge)))
}

// clock writes a moment as the shop does: "25 Nov 16:40", with the year when it
// is another one, and only the time when it is today.
func (d *desk) clock(t time.Time) string {
	t = t.In(d.now.Location())
	switch {
	case t.Year() == d.now.Year() && t.YearDay() == d.now.YearDay():
		return d.say.Line("form.today", fact.Name("format", t.Format("15:04")))
	case t.Year() == d.now.Year():
		return t.Format(d.say.Line("time.moment"))
	}
	return t.Format(d.say.Line("form.moment_with_year"))
}
