package web

import (
	"fmt"
	"html/template"
	"strings"
	"time"

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
func aged(born, now time.Time) string {
	d := now.Sub(born)
	const day = 24 * time.Hour
	switch {
	case d < day && born.Day() == now.Day():
		return "since today"
	case d < 2*day:
		return "1 day"
	case d < 14*day:
		return fmt.Sprintf("%d days", int(d/day))
	case d < 2*ringAge:
		return fmt.Sprintf("%d weeks", int(d/(7*day)))
	}
	return fmt.Sprintf("%d months", int(d/ringAge))
}

// clock writes a moment as the shop does: "25 Nov 16:40", with the year when it
// is another one, and only the time when it is today.
func clock(t, now time.Time) string {
	t = t.In(now.Location())
	switch {
	case t.Year() == now.Year() && t.YearDay() == now.YearDay():
		return "today " + t.Format("15:04")
	case t.Year() == now.Year():
		return t.Format("2 Jan 15:04")
	}
	return t.Format("2 Jan 2006 15:04")
}
