package lots

import (
	"net/http"

	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/family"
	"hopperful/internal/web/site"
	"hopperful/plan/traceability"
)

// familyPage is the page of the whole family.
type familyPage struct {
	Say     string
	Family  family.View
	LotPage string
}

// ShowFamily is the page of a lot's whole family.
func ShowFamily(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	l, ok := s.LotAsked(w, r, d)
	if !ok {
		return
	}
	if desk.WantsJSON(r) {
		t, err := traceability.Trace(d.State, l.ID)
		if err != nil {
			s.FailWith(w, r, err)
			return
		}
		site.WriteJSON(w, http.StatusOK, d.Say.Document(t.Document))
		return
	}
	v, err := family.Of(d, l.ID, false)
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	page := familyPage{Say: v.Answer, Family: v, LotPage: address.Lot(l.ID)}
	s.Render(w, r, http.StatusOK, "family", site.View{Title: d.Say.Line("family.of", fact.Lot("lot", string(l.ID), "")), Place: "stock",
		Crumb: d.LotCrumb(l.ID), Body: page})
}

// DownloadFamily sends the picture or the numbers of a family as a file.
func DownloadFamily(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	l, ok := s.LotAsked(w, r, d)
	if !ok {
		return
	}
	in, known := map[string]traceability.Within{"family.csv": {}, "family.svg": family.Far, "near.svg": family.Near}[r.PathValue("file")]
	if !known {
		s.ShowMissing(w, r)
		return
	}
	k, _, err := family.Placed(d, l.ID, in)
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	if r.PathValue("file") == "family.csv" {
		site.Attach(w, "text/csv; charset=utf-8", string(l.ID)+"-family.csv")
		family.Write(w, d.Say, k)
		return
	}
	site.SendDrawing(w, string(l.ID)+"-family.svg", k.Draw(d, d.Say.Line("form.family_title", fact.Name("id", string(l.ID))), false, family.MoreOf(l.ID, false)))
}
