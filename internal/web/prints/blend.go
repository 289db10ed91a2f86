package prints

import (
	"net/http"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
	"hopperful/internal/web/waiting"
	"hopperful/plan/blend"
	"hopperful/quantity"
	"hopperful/shop"
)

// blendsView is the page where the need of a blend is chosen.
type blendsView struct {
	Answer string
	Needs  []blendRow
	Ask    forms.View
}

// blendRow is a need a blend may be made for.
type blendRow struct {
	Need NeedRow
	To   string
}

// typedBlend asks for a blend nobody wrote a need down for.
func typedBlend(d *desk.Desk) forms.Sheet {
	return forms.Sheet{Submit: d.Say.Line("page.find_recipe"), Groups: []forms.Group{{Fields: []forms.Field{
		forms.Amount("mass_kg", d.Say.Line("page.how_much"), quantity.Mass, "g", "").Needed(),
		{Path: "polymer", Label: d.Say.Line("page.plastic"), As: forms.AsText, Suggest: d.Materials().Names(), First: polymerOfLot(d)},
		{Path: "only", As: forms.AsHidden},
	}}}}
}

// polymerOfLot is that of the lot the address names.
func polymerOfLot(d *desk.Desk) string {
	if id, err := shop.ParseLot(d.Query("only")); err == nil {
		if l, ok := d.State.Lot(id); ok {
			return l.Polymer
		}
	}
	return ""
}

// ShowBlends is the page where the need of a blend is chosen.
func ShowBlends(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	v := blendsView{Answer: d.Say.Line("page.blend_what")}
	more := ""
	if only := d.Query("only"); only != "" {
		more = "?only=" + address.Query(only)
	}
	for i := len(d.State.Needs) - 1; i >= 0; i-- {
		if n := d.State.Needs[i]; !n.Done {
			v.Needs = append(v.Needs, blendRow{NeedRowOf(d, n), address.Blend(n.Name) + more})
		}
	}
	sh := typedBlend(d)
	v.Ask = forms.AskedForm(r, sh, forms.Read(d.Say, r.URL.Query(), sh))
	v.Ask.Action = address.Blend(typedNeed)
	s.Render(w, r, http.StatusOK, "blends", site.View{Title: d.Say.Line("page.blend_stock"), Place: "plan", Crumb: toPlans(d), Body: v})
}

// ShowBlend answers at once with one recipe; asked for more, and for programs, it
// looks for the next best ones and for what moving each limit would give.
func ShowBlend(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	q, ok := readBlend(s, w, r, d)
	if !ok {
		return
	}
	back := site.View{Title: d.Say.Line("page.recipe_for", fact.Name("need", q.req.Need.Name)), Place: "plan", Crumb: blendCrumb(d, q)}
	thorough := d.Query("thorough") != "" || q.pick > 0
	var found blend.Blending
	if thorough || desk.WantsJSON(r) {
		if found, ok = site.AwaitAsked[blend.Blending](s, w, r, q.Asked, func() *waiting.Job { return askBlend(s, d.State, q) }, d.Say.Line("page.looking_on"), back); !ok {
			return
		}
	} else if found, ok = blendSoon(s, w, r, d, q); !ok {
		return
	}
	v, status := viewBlend(d, found, q), http.StatusOK
	v.Thorough = thorough
	if len(q.In.Wrong) > 0 {
		v.Answer, status = d.Say.Line("page.cannot_ask"), http.StatusUnprocessableEntity
	}
	v.Ask = forms.AskedForm(r, q.sheet(d), q.Asked)
	back.Body = v
	s.Render(w, r, status, "blend", back)
}

// blendSoon is one recipe; false when the answer is already given.
func blendSoon(s *site.Site, w http.ResponseWriter, r *http.Request, d *desk.Desk, q blendAsked) (blend.Blending, bool) {
	if len(q.In.Wrong) > 0 {
		return blend.Blending{}, true
	}
	q.req.Soon = true
	h, err := s.ShelfOf(d.State)
	var found blend.Blending
	if err == nil {
		found, err = h.Find(r.Context(), q.req)
	}
	if err != nil && r.Context().Err() != nil {
		return found, false // nobody waits for it any more
	}
	if err != nil && !q.Refused(err) {
		s.FailWith(w, r, err)
		return found, false
	}
	return found, true
}

// blendCrumb is one step back up.
func blendCrumb(d *desk.Desk, q blendAsked) *address.Link {
	if q.typed {
		return &address.Link{To: "/blend", Say: d.Say.Line("page.blend_stock")}
	}
	return &address.Link{To: address.Plan(q.req.Need.Name), Say: d.Say.Line("page.plan_for", fact.Name("need", q.req.Need.Name))}
}

// settling is where what is lacking of a lot is written down.
var settling = map[answer.Lack]string{answer.LacksColour: "go.take_colour", answer.LacksFlow: "go.flow", answer.LacksSieve: "go.sieve", answer.LacksMagnet: "go.magnet",
	answer.LacksDrying: "go.dried", answer.LacksSort: "go.sort", answer.LacksGrind: "go.charge"}

// remedyOf is where what is not known of a lot is written down; nil where nothing
// would settle it.
func remedyOf(d *desk.Desk, a answer.Aside) *address.Link {
	code, ok := settling[a.Lacks]
	if !ok {
		return nil
	}
	return &address.Link{To: "/record/" + string(a.Lacks) + "?lot=" + address.Query(string(a.Lot)), Say: d.Say.Line(code)}
}
