package drawing

import (
	"fmt"
	"html/template"
	"strings"
	"time"

	"hopperful/shop"
)

// RingAge is the age one growth ring stands for, and mostRings how many are
// drawn at most, so that a label stays legible.
const (
	RingAge   = 30 * 24 * time.Hour
	mostRings = 5
)

// Rings draws a lot's label with its age around it: a ring for each month
// since it came.
func Rings(id shop.LotID, born, now time.Time) template.HTML {
	n := 0
	if !born.IsZero() && now.After(born) {
		n = min(mostRings, int(now.Sub(born)/RingAge))
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
