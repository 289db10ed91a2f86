package study

import (
	"fmt"
	"math"
	"strings"
)

// spoken are the quantities of the table of ranges, in its order.
var spoken = []struct {
	key, name string
	unit      float64 // what one of the error's unit is shown as
	form      string
}{
	{ofProduct, "product", 100, "%.0f %%"},
	{ofWall, "wall", 1, "%.1f K"},
	{ofCharge, "charge", 1, "%.1f K"},
	{ofEnergy, "energy", 100, "%.0f %%"},
	{ofD50, "d50", 100, "%.0f %%"},
	{ofFines, "below 0.5 mm", 100, "%.0f points"},
}

// Table writes the scores as two tables: how far off, how often in the range.
func (s Scores) Table() string {
	var b strings.Builder
	for w := range places {
		fmt.Fprintf(&b, "### %s\n\n| records | pencil, product |", title(w.String()))
		for _, q := range spoken {
			fmt.Fprintf(&b, " %s |", q.name)
		}
		b.WriteString(" says nothing on record supports it |\n|" + strings.Repeat(" --- |", len(spoken)+3) + "\n")
		for _, n := range RecordCounts {
			row := s[n][w]
			fmt.Fprintf(&b, "| %d | %s |", n, shown("%.0f %%", 100*medianOrNaN(row.Pencil)))
			for _, q := range spoken {
				h := row.By[q.key]
				fmt.Fprintf(&b, " %s, %s |", shown(q.form, q.unit*h.Median()), shown("%.0f %%", 100*h.Cover()))
			}
			fmt.Fprintf(&b, " %d of %d |\n", row.Flagged, row.Asked)
		}
		b.WriteString("\n")
	}
	return b.String()
}

func title(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

func medianOrNaN(v []float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	return medianOf(v)
}

// shown is a number, or a dash where there is none.
func shown(form string, v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return fmt.Sprintf(form, v)
}

// Sentence says what the shop made of the records offered.
func (e Entries) Sentence() string {
	return fmt.Sprintf("Of %d records without a slip the shop refused %d and asked about %d; of %d with one it did not take or asked about %d.",
		e.Honest, len(e.Refused), len(e.Doubted), e.Slips, e.Caught)
}
