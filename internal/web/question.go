package web

import (
	"net/http"
	"net/url"
	"strconv"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan/plausibility"
	"hopperful/shop"
)

// questionView is what is asked about one record, and the ways to answer.
type questionView struct {
	Record    shop.RecordID
	Questions []findingView
	Yes       string // where "it is so" is posted
	Mend      []link // to its correction: with what was likely meant, and open
	Next      string // where to go on
}

// questions shows what is asked about a record; for most that is nothing.
func (d *desk) questions(id shop.RecordID, list []plausibility.Question, next string) []questionView {
	if len(list) == 0 {
		return nil
	}
	at := "/records/" + toString(id)
	v := questionView{Record: id, Yes: at + "/confirm", Next: next}
	for _, q := range list {
		v.Questions = append(v.Questions, viewFindings(d.say, d.say.Findings([]answer.Finding{q.Finding}))...)
	}
	for _, q := range list {
		if q.Meant == nil {
			continue
		}
		meant := d.say.Fact(q.Shown())
		v.Mend = append(v.Mend, link{at + "/correct?" + url.Values{q.Field: {meant}}.Encode(), d.say.Line("page.no_it_was", fact.Name("meant", meant))})
		break
	}
	v.Mend = append(v.Mend, link{at + "/correct", d.say.Line("page.correct_it")})
	return []questionView{v}
}

// postConfirmed keeps a person's word that a record is so.
func (s *server) postConfirmed(w http.ResponseWriter, r *http.Request) {
	if !readForm(w, r) {
		s.fail(w, r, tooLarge)
		return
	}
	id, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil {
		s.showMissing(w, r)
		return
	}
	b := &shop.Confirmed{Record: shop.RecordID(id)}
	for _, q := range plausibility.Of(s.store.State(), b.Record) {
		b.Codes = append(b.Codes, q.Code)
	}
	kept, err := s.store.Append(r.Context(), s.now(), shop.Record{Body: b})
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	s.follow(w, r, "/records/"+toString(id), kept[0].ID)
}
