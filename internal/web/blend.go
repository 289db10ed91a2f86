package web

import (
	"net/http"

	"hopperful/answer"
	"hopperful/fact"
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
	return sheet{Submit: d.say.Line("page.find_recipe"), Groups: []group{{Fields: []field{
		amount("mass_kg", d.say.Line("page.how_much"), quantity.Mass, "g", "").must(),
		{Path: "polymer", Label: d.say.Line("page.plastic"), As: asText, Suggest: d.materials().Names(), First: polymerOfLot(d)},
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
	v := blendsView{Answer: d.say.Line("page.blend_what")}
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
	v.Ask = askForm(r, sh, readQuery(d.say, r.URL.Query(), sh))
	v.Ask.Action = blendPath(typedNeed)
	s.render(w, r, http.StatusOK, "blends", view{Title: d.say.Line("page.blend_stock"), Place: "plan", Crumb: d.toPlans(), Body: v})
}

// showBlend answers at once with one recipe; asked for more, and for programs, it
// looks for the next best ones and for what moving each limit would give.
func (s *server) showBlend(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	q, ok := s.readBlend(w, r, d)
	if !ok {
		return
	}
	back := view{Title: d.say.Line("page.recipe_for", fact.Name("need", q.req.Need.Name)), Place: "plan", Crumb: d.blendCrumb(q)}
	thorough := d.query("thorough") != "" || q.pick > 0
	var found blend.Blending
	if thorough || wantsJSON(r) {
		if found, ok = awaitAsked[blend.Blending](s, w, r, q.asked, func() *job { return s.askBlend(d.state, q) }, d.say.Line("page.looking_on"), back); !ok {
			return
		}
	} else if found, ok = s.blendSoon(w, r, d, q); !ok {
		return
	}
	v, status := d.viewBlend(found, q), http.StatusOK
	v.Thorough = thorough
	if len(q.in.Wrong) > 0 {
		v.Answer, status = d.say.Line("page.cannot_ask"), http.StatusUnprocessableEntity
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

// blendCrumb is one step back up.
func (d *desk) blendCrumb(q blendAsked) *link {
	if q.typed {
		return &link{"/blend", d.say.Line("page.blend_stock")}
	}
	return &link{planPath(q.req.Need.Name), d.say.Line("page.plan_for", fact.Name("need", q.req.Need.Name))}
}

// settling is where what is lacking of a lot is written down.
var settling = map[answer.Lack]string{answer.LacksColour: "go.take_colour", answer.LacksFlow: "go.flow", answer.LacksSieve: "go.sieve", answer.LacksMagnet: "go.magnet",
	answer.LacksDrying: "go.dried", answer.LacksSort: "go.sort", answer.LacksGrind: "go.charge"}

// remedyOf is where what is not known of a lot is written down; nil where nothing
// would settle it.
func (d *desk) remedyOf(a answer.Aside) *link {
	code, ok := settling[a.Lacks]
	if !ok {
		return nil
	}
	return &link{"/record/" + string(a.Lacks) + "?lot=" + queryEscape(string(a.Lot)), d.say.Line(code)}
}
