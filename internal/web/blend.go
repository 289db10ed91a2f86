package web

import (
	"net/http"

	"hopperful/answer"
	"hopperful/plan/blend"
	"hopperful/quantity"
	"hopperful/shop"
)

// blendsView is the page where the need of a blend is chosen.
type blendsView struct {
	Answer string
	Needs  []blendRow
	Ask    formView
}

// blendRow is a need a blend may be made for.
type blendRow struct {
	Need needRow
	To   string
}

// typedBlend asks for a blend nobody wrote a need down for.
func typedBlend(d *desk) sheet {
	return sheet{Submit: "Find the recipe", Groups: []group{{Fields: []field{
		amount("mass_kg", "How much", quantity.Mass, "g", "").must(),
		{Path: "polymer", Label: "Polymer", As: asText, Suggest: d.materials().Names(), First: polymerOfLot(d)},
		{Path: "only", As: asHidden},
	}}}}
}

// polymerOfLot is that of the lot the address names.
func polymerOfLot(d *desk) string {
	if id, err := shop.ParseLot(d.query("only")); err == nil {
		if l, ok := d.state.Lot(id); ok {
			return l.Polymer
		}
	}
	return ""
}

func (s *server) showBlends(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	v := blendsView{Answer: "What shall be blended from the stock?"}
	more := ""
	if only := d.query("only"); only != "" {
		more = "?only=" + queryEscape(only)
	}
	for i := len(d.state.Needs) - 1; i >= 0; i-- {
		if n := d.state.Needs[i]; !n.Done {
			v.Needs = append(v.Needs, blendRow{d.needRow(n), blendPath(n.Name) + more})
		}
	}
	sh := typedBlend(d)
	v.Ask = askForm(r, sh, readQuery(r.URL.Query(), sh))
	v.Ask.Action = blendPath(typedNeed)
	s.render(w, r, http.StatusOK, "blends", view{Title: "Blend from stock", Place: "plan", Crumb: &link{"/plan", "Plan"}, Body: v})
}

// showBlend answers at once with one recipe; asked for more, and for programs, it
// looks for the next best ones and for what moving each limit would give.
func (s *server) showBlend(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	q, ok := s.readBlend(w, r, d)
	if !ok {
		return
	}
	back := view{Title: "Recipe for " + q.req.Need.Name, Place: "plan", Crumb: q.crumb()}
	thorough := d.query("thorough") != "" || q.pick > 0
	var found blend.Blending
	if thorough || wantsJSON(r) {
		if found, ok = awaitAsked[blend.Blending](s, w, r, q.asked, func() *job { return s.askBlend(d.state, q) }, "Looking for the next best recipes.", back); !ok {
			return
		}
	} else if found, ok = s.blendSoon(w, r, d, q); !ok {
		return
	}
	v, status := d.viewBlend(found, q), http.StatusOK
	v.Thorough = thorough
	if len(q.in.Wrong) > 0 {
		v.Say, status = "This cannot be asked like that.", http.StatusUnprocessableEntity
	}
	v.Ask = askForm(r, q.sheet(d), q.asked)
	back.Body = v
	s.render(w, r, status, "blend", back)
}

// blendSoon is one recipe; false when the answer is already given.
func (s *server) blendSoon(w http.ResponseWriter, r *http.Request, d *desk, q blendAsked) (blend.Blending, bool) {
	if len(q.in.Wrong) > 0 {
		return blend.Blending{}, true
	}
	q.req.Soon = true
	h, err := s.shelfOf(d.state)
	var found blend.Blending
	if err == nil {
		found, err = h.Find(r.Context(), q.req)
	}
	if err != nil && r.Context().Err() != nil {
		return found, false // nobody waits for it any more
	}
	if err != nil && !q.refused(err) {
		s.failWith(w, r, err)
		return found, false
	}
	return found, true
}

// crumb is one step back up.
func (q *blendAsked) crumb() *link {
	if q.typed {
		return &link{"/blend", "Blend from stock"}
	}
	return &link{planPath(q.req.Need.Name), "Plan for " + q.req.Need.Name}
}

// settling is where what is lacking of a lot is written down.
var settling = map[answer.Lack]string{answer.LacksColour: "Take its colour", answer.LacksFlow: "Test its flow", answer.LacksSieve: "Sieve it", answer.LacksMagnet: "Past the magnet",
	answer.LacksDrying: "Write its drying down", answer.LacksSort: "Sort it", answer.LacksGrind: "Grind it"}

// remedyOf is where what is not known of a lot is written down; nil where nothing
// would settle it.
func remedyOf(a answer.Aside) *link {
	say, ok := settling[a.Lacks]
	if !ok {
		return nil
	}
	return &link{"/record/" + string(a.Lacks) + "?lot=" + queryEscape(string(a.Lot)), say}
}
