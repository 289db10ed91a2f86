package desk

import (
	"time"

	"hopperful/fact"
	"hopperful/internal/web/drawing"
)

// Aged says an age in words: "since today", "3 days", "5 weeks", "7 months".
func (d *Desk) Aged(born time.Time) string {
	age := d.Now.Sub(born)
	const day = 24 * time.Hour
	switch {
	case age < day && born.Day() == d.Now.Day():
		return d.Say.Line("form.since_today")
	case age < 14*day:
		return d.Say.Line("form.days_old", fact.Count("n", max(1, int(age/day))))
	case age < 2*drawing.RingAge:
		return d.Say.Line("form.weeks_old", fact.Count("n", int(age/(7*day))))
	}
	return d.Say.Line("form.months_old", fact.Count("n", int(age/drawing.RingAge)))
}

// Clock writes a moment as the shop does: "25 Nov 16:40", with the year when it
// is another one, and only the time when it is today.
func (d *Desk) Clock(t time.Time) string {
	t = t.In(d.Now.Location())
	switch {
	case t.Year() == d.Now.Year() && t.YearDay() == d.Now.YearDay():
		return d.Say.Line("form.today", fact.Name("format", t.Format("15:04")))
	case t.Year() == d.Now.Year():
		return t.Format(d.Say.Line("time.moment"))
	}
	return t.Format(d.Say.Line("form.moment_with_year"))
}
