package site

import (
	"net/http"
	"net/url"
	"strconv"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/forms"
	"hopperful/plan/plausibility"
	"hopperful/shop"
)

// QuestionView is what is asked about one record, and the ways to answer.
type QuestionView struct {
	Record    shop.RecordID
	Questions []figures.Finding
	Yes       string         // where "it is so" is posted
	Mend      []address.Link // to its correction: with what was likely meant, and open
	Next      string         // where to go on
}

// Questions shows what is asked about a record; for most that is nothing.
func Questions(d *desk.Desk, id shop.RecordID, list []plausibility.Question, next string) []QuestionView {
	if len(list) == 0 {
		return nil
	}
	at := "/records/" + address.Number(id)
	v := QuestionView{Record: id, Yes: at + "/confirm", Next: next}
	for _, q := range list {
		v.Questions = append(v.Questions, figures.Findings(d.Say, d.Say.Findings([]answer.Finding{q.Finding}))...)
	}
	for _, q := range list {
		if q.Meant == nil {
			continue
		}
		v.Mend = append(v.Mend, mends(d, at+"/correct?", q)...)
		break
	}
	v.Mend = append(v.Mend, address.Link{To: at + "/correct", Say: d.Say.Line("page.correct_it")})
	return []QuestionView{v}
}

// mends are the corrections a question offers: what was likely meant, in either field that may
// hold the slip, or two answers the other way round.
func mends(d *desk.Desk, to string, q plausibility.Question) []address.Link {
	meant := d.Say.Fact(q.Shown())
	switch {
	case q.Swap != "":
		return []address.Link{{To: to + url.Values{q.Field: {meant}, q.Swap: {d.Say.Fact(q.ShownSwap())}}.Encode(), Say: d.Say.Line("page.they_are_swapped")}}
	case q.Or != nil:
		other := d.Say.Fact(q.ShownOr())
		return []address.Link{{To: to + url.Values{q.Field: {meant}}.Encode(), Say: d.Say.Line("page.no_of", fact.Parts("field", plausibility.Named(q.Field)), fact.Name("meant", meant))},
			{To: to + url.Values{q.Or.Field: {other}}.Encode(), Say: d.Say.Line("page.no_of", fact.Parts("field", plausibility.Named(q.Or.Field)), fact.Name("meant", other))}}
	}
	return []address.Link{{To: to + url.Values{q.Field: {meant}}.Encode(), Say: d.Say.Line("page.no_it_was", fact.Name("meant", meant))}}
}

// PostConfirmed keeps a person's word that a record is so.
func PostConfirmed(s *Site, w http.ResponseWriter, r *http.Request) {
	if !forms.ReadForm(w, r) {
		s.Fail(w, r, TooLarge)
		return
	}
	id, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil {
		s.ShowMissing(w, r)
		return
	}
	b := &shop.Confirmed{Record: shop.RecordID(id)}
	for _, q := range plausibility.Of(s.Store.State(), b.Record) {
		b.Codes = append(b.Codes, q.Code)
	}
	kept, err := s.Store.Append(r.Context(), s.Now(), shop.Record{Body: b})
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	s.Follow(w, r, "/records/"+address.Number(id), kept[0].ID)
}
