package web

import (
	"time"

	"hopperful/fact"
	"hopperful/internal/web/drawing"
)

// aged says an age in words: "since today", "3 days", "5 weeks", "7 months".
func (d *desk) aged(born time.Time) string {
	age := d.now.Sub(born)
	const day = 24 * time.Hour
	switch {
	case age < day && born.Day() == d.now.Day():
		return d.say.Line("form.since_today")
	case age < 14*day:
		return d.say.Line("form.days_old", fact.Count("n", max(1, int(age/day))))
	case age < 2*drawing.RingAge:
		return d.say.Line("form.weeks_old", fact.Count("n", int(age/(7*day))))
	}
	return d.say.Line("form.months_old", fact.Count("n", int(age/drawing.RingAge)))
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
