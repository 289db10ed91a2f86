package web

import (
	"fmt"
	"html/template"
	"io"
	"net/http"
	"strconv"
	"strings"

	"hopperful/answer"
	"hopperful/internal/exchange"
	"hopperful/plan/lineage"
	"hopperful/quantity"
	"hopperful/shop"
)

// mostPasses is how many bars a lot's age has at most; the last gathers the rest.
const mostPasses = 8

// ageView is how old the plastic of a lot is, as its page shows it.
type ageView struct {
	Lot     shop.LotID
	Answer  string
	Picture template.HTML // "" where there is nothing to see
	Instead string        // what is said then
	Judged  string        // what of it is judged
	Figures []figView
	Notes   []string
	Rows    []ageRow
	SVG     string
	CSV     string
}

// ageRow is a bar in numbers.
type ageRow struct{ Passes, Share, Low, High string }

// viewAge is a lot's age. A lot whose records cannot be true says so in place of
// the picture.
func (d *desk) viewAge(l *shop.Lot) ageView {
	v := ageView{Lot: l.ID, SVG: lotPath(l.ID) + "/age/age.svg", CSV: lotPath(l.ID) + "/age/age.csv"}
	a, err := lineage.AgeOf(d.state, l.ID)
	if err != nil {
		say, hint := sentence(err)
		v.Instead = strings.TrimSpace(say + " " + hint)
		return v
	}
	v.Answer, v.Notes = a.Answer, a.Notes
	switch {
	case l.Mass <= 0:
		v.Instead, v.Notes = "Nothing of it is left; this is how old all of it was that ever came in.", nil
		return v
	case a.Known && a.Mean.High == 0:
		v.Instead = "All of it is new granulate that was never printed, so there are no passes to draw."
	default:
		rows := a.Gathered(mostPasses)
		v.Picture = drawAge(a, rows, d.paint(l), d.comma)
		for _, p := range rows {
			v.Rows = append(v.Rows, ageRow{passesWord(p), shareWord(p.Share), shareWord(p.Low), shareWord(p.High)})
		}
	}
	if !a.Known {
		v.Judged = fmt.Sprintf("The past of %s of it is judged: it came from outside, and nobody wrote down how often it had been melted. The thin lines reach from the least to the most that may be; they are wider than what is likely.",
			quantity.Share.Rough(a.Judged.Value))
	}
	v.Figures = viewFigures(a.Figures())
	return v
}

// passesWord is a number of passes: "3", or "7 or more".
func passesWord(p lineage.Passes) string {
	if p.OrMore {
		return strconv.Itoa(p.Number) + " or more"
	}
	return strconv.Itoa(p.Number)
}

// ageSummary is the picture in a sentence.
func ageSummary(a lineage.LotAge, rows []lineage.Passes) string {
	var parts []string
	for _, p := range rows {
		if p.Share > 0.005 {
			parts = append(parts, fmt.Sprintf("%s had %s passes", shareWord(p.Share), passesWord(p)))
		}
	}
	return fmt.Sprintf("How often the plastic of %s was melted, by mass: %s. The mean is %s, the oldest twentieth had %s.",
		a.Lot, answer.List(parts), a.Mean.Shown(), a.Oldest.Shown())
}

// downloadAge sends the picture of a lot's age, or its numbers.
func (s *server) downloadAge(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	l, ok := s.lotAsked(w, r, d)
	if !ok {
		return
	}
	file := r.PathValue("file")
	if file != "age.svg" && file != "age.csv" {
		s.showMissing(w, r)
		return
	}
	a, err := lineage.AgeOf(d.state, l.ID)
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	rows := a.Gathered(mostPasses)
	if file == "age.csv" {
		attach(w, "text/csv; charset=utf-8", string(l.ID)+"-age.csv")
		writeAge(w, rows)
		return
	}
	sendDrawing(w, string(l.ID)+"-age.svg", drawAge(a, rows, d.paint(l), d.comma))
}

// writeAge writes an age as CSV. Numbers keep the decimal point.
func writeAge(w io.Writer, rows []lineage.Passes) {
	out := exchange.NewCells(w)
	n := func(x float64) string { return strconv.FormatFloat(x, 'g', 9, 64) }
	out.Write([]string{"passes", "share", "share, least", "share, most"})
	for _, p := range rows {
		out.Write([]string{passesWord(p), n(p.Share), n(p.Low), n(p.High)})
	}
	out.Flush() // an error here means the reader has gone
}
