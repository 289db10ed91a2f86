package lots

import (
	"html/template"
	"io"
	"net/http"
	"strconv"
	"strings"

	"hopperful/fact"
	"hopperful/internal/exchange"
	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/drawing"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
	"hopperful/plan/traceability"
	"hopperful/quantity"
	"hopperful/shop"
)

// ageView is how old the plastic of a lot is, as its page shows it.
type ageView struct {
	Lot     shop.LotID
	Answer  string
	Picture template.HTML // "" where there is nothing to see
	Instead string        // what is said then
	Judged  string        // what of it is judged
	Figures []figures.View
	Notes   []string
	Rows    []ageRow
	SVG     string
	CSV     string
}

// ageRow is a bar in numbers.
type ageRow struct{ Passes, Share, Low, High string }

// viewAge is a lot's age. A lot whose records cannot be true says so in place of
// the picture.
func viewAge(d *desk.Desk, l *shop.Lot) ageView {
	v := ageView{Lot: l.ID, SVG: address.Lot(l.ID) + "/age/age.svg", CSV: address.Lot(l.ID) + "/age/age.csv"}
	a, err := traceability.AgeOf(d.State, l.ID)
	if err != nil {
		say, hint := forms.Said(d.Say, err)
		v.Instead = strings.TrimSpace(say + " " + hint)
		return v
	}
	v.Answer, v.Notes = d.Say.Say(a.Head.Saying), d.Say.All(a.Tables[0].Notes)
	switch {
	case l.Mass <= 0:
		v.Instead, v.Notes = d.Say.Line("age.nothing_left"), nil
		return v
	case a.Known && a.Mean.High == 0:
		v.Instead = d.Say.Line("age.all_new")
	default:
		rows := a.Gathered(traceability.MostPasses)
		v.Picture = drawing.Age(d.Say, a, rows, d.Paint(l))
		for _, p := range rows {
			v.Rows = append(v.Rows, ageRow{d.Say.Fact(p.Said("")), drawing.AgeShare(p.Share), drawing.AgeShare(p.Low), drawing.AgeShare(p.High)})
		}
	}
	if !a.Known {
		v.Judged = d.Say.Line("age.past_judged", fact.About("share", quantity.Share, a.Judged.Value))
	}
	v.Figures = figures.All(d.Say, a.Figures)
	return v
}

// DownloadAge sends the picture of a lot's age, or its numbers.
func DownloadAge(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	l, ok := s.LotAsked(w, r, d)
	if !ok {
		return
	}
	file := r.PathValue("file")
	if file != "age.svg" && file != "age.csv" {
		s.ShowMissing(w, r)
		return
	}
	a, err := traceability.AgeOf(d.State, l.ID)
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	rows := a.Gathered(traceability.MostPasses)
	if file == "age.csv" {
		site.Attach(w, "text/csv; charset=utf-8", string(l.ID)+"-age.csv")
		writeAge(w, d.Say, rows)
		return
	}
	site.SendDrawing(w, string(l.ID)+"-age.svg", drawing.Age(d.Say, a, rows, d.Paint(l)))
}

// writeAge writes an age as CSV. Numbers keep the decimal point.
func writeAge(w io.Writer, say *say.Printer, rows []traceability.Passes) {
	out := exchange.NewCells(w)
	n := func(x float64) string { return strconv.FormatFloat(x, 'g', 9, 64) }
	out.Write([]string{say.Line("axis.passes"), say.Line("form.share"), say.Line("form.share_least"), say.Line("form.share_most")})
	for _, p := range rows {
		out.Write([]string{say.Fact(p.Said("")), n(p.Share), n(p.Low), n(p.High)})
	}
	out.Flush() // an error here means the reader has gone
}
