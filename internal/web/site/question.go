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
		meant := d.Say.Fact(q.Shown())
		v.Mend = append(v.Mend, address.Link{To: at + "/correct?" + url.Values{q.Field: {meant}}.Encode(), Say: d.Say.Line("page.no_it_was", fact.Name("meant", meant))})
		break
	}
	v.Mend = append(v.Mend, address.Link{To: at + "/correct", Say: d.Say.Line("page.correct_it")})
	return []QuestionView{v}
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
