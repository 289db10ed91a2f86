package web

import (
	"html/template"
	"math"
	"net/http"
	"net/url"
	"strconv"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/web/drawing"
	"hopperful/plan"
	"hopperful/plan/consumption"
	"hopperful/quantity"
	"hopperful/shop"
)

// planView is a plan's page: the answer as every page lays it out, with what only this
// one draws.
type planView struct {
	docView
	Need    shop.Need
	Note    string // what the reader of the file warned of
	Refused *fault // why there is no plan at all
	Plan    plan.Grinding
	Lead    string
	Lacks   string // what the mill's owner says it lacks; the cautions then come first
	Eats    []figView
	Take    []takeView
	Ready   []takeView // granulate that serves the need as it is
	Then    []string   // what still stands between the granulate and the print
	Numbers []figView
	Left    []leftView
	Flow    *flowView
	Choose  chooseView
	Begin   *beginView
	Keep    *link // writes the plastic down with the print, where it was left open
}

// takeView is a lot to grind.
type takeView struct {
	Lot    shop.LotID
	Name   string
	Why    string
	Figure figView
	Heap   template.HTML
}

func (s *server) showPlan(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	need, ok := d.state.Need(r.PathValue("need"))
	if !ok {
		s.fail(w, r, d.noNeed(r.PathValue("need")))
		return
	}
	req, err := request(r, d, need)
	var g plan.Grinding
	if err == nil {
		j := s.askPlan(d.state, req)
		if !s.await(w, r, j, d.say.Line("page.plan_waiting", fact.Name("need", need.Name)), view{Place: "plan", Crumb: d.toPlans()}) {
			return
		}
		g, _ = j.value.(plan.Grinding)
		err = j.err
	}
	if wantsJSON(r) {
		if err != nil {
			s.failWith(w, r, err)
			return
		}
		writeJSON(w, http.StatusOK, d.say.Document(g.Document()))
		return
	}
	v, status := d.viewPlan(need, req, g), http.StatusOK
	if err != nil {
		say, hint := saidIn(d.say, err)
		v.Refused, status = &fault{Say: say, Hint: hint}, http.StatusUnprocessableEntity
		s.log.Info("no plan", "need", "one of the shop's", "error", err)
	}
	v.Choose = choose(r, d, req)
	if err == nil {
		v.Begin = d.beginning(v, r.URL.Query())
	}
	if err == nil && need.Polymer == "" && g.Polymer != "" {
		v.Keep = &link{editPath("need", need.Name) + "&need.polymer=" + queryEscape(g.Polymer), d.say.Line("page.plan_keep", fact.Name("polymer", g.Polymer), fact.Name("need", need.Name))}
	}
	v.First, v.Others = drawn(r, viewCharts(d.say, g.Charts))
	v.Note = d.noteOf(need.Name)
	s.render(w, r, status, "plan", view{Title: d.say.Line("page.plan_for", fact.Name("need", need.Name)), Place: "plan", Crumb: d.toPlans(), Body: v})
}

// toPlans leads one step back up.
func (d *desk) toPlans() *link { return &link{"/plan", d.say.Line("page.plan")} }

// noNeed is the answer to who asks for a need nobody wrote down.
func (d *desk) noNeed(name string) fault {
	return fault{http.StatusNotFound, d.say.Line("page.no_need", fact.Name("need", name)), d.say.Line("page.needs_list")}
}

// viewPlan lays a plan out.
func (d *desk) viewPlan(need shop.Need, req plan.Request, g plan.Grinding) planView {
	v := planView{Need: need, Plan: g}
	if parts, err := consumption.Of(d.materials(), withPolymer(need, req)); err == nil {
		v.Eats = viewWorded(d.say, parts)
	}
	if g.Says.Empty() { // there is no plan
		return v
	}
	v.docView = viewDocument(d.say, g.Document())
	v.Tables = nil // drawn with heaps instead
	v.Lacks = d.say.Say(g.Lacks)
	finish := ""
	if g.Possible && g.Setting.Charges.Value > 0 {
		finish = d.clock(g.Setting.Finish)
	}
	v.Lead = d.say.Line("page.plan_lead", fact.Name("need", need.Name), fact.Name("polymer", g.Polymer), fact.Name("mill", g.Mill), fact.Name("finish", finish))
	for _, s := range v.Reasons {
		switch s.Key {
		case "then":
			v.Then = s.Notes
		case "plan_behind":
			v.Numbers = s.Figures
		}
	}
	v.Take, v.Ready = d.takes(g.Take), d.takes(g.OnHand)
	v.Left, v.Flow = d.lefts(g.Aside), d.flowOf(g.Balance)
	v.explainOnce()
	return v
}

// explainOnce leaves each figure's reasons where it first stands on the page.
func (v *planView) explainOnce() {
	o := once{}
	o.figures(v.Figures)
	for i := range v.Limits {
		o.figure(&v.Limits[i].Figure)
	}
	o.figures(v.Numbers)
	o.figures(v.Eats)
}

// takes shows lots with what is taken of each.
func (d *desk) takes(list []plan.Take) []takeView {
	var views []takeView
	for _, t := range list {
		v := takeView{Lot: t.Lot, Name: t.Name, Why: d.say.Say(t.Why), Figure: viewFigureIn(d.say, t.Mass)}
		if l, ok := d.state.Lot(t.Lot); ok {
			v.Heap = drawing.HeapAside(l, d.coarseness(l), d.paint(l))
		}
		views = append(views, v)
	}
	return views
}

// noteOf is the note of the record that last described a need.
func (d *desk) noteOf(need string) string {
	for _, r := range d.state.Records.LatestOf(&shop.NeedSet{}) {
		if b, ok := r.Body.(*shop.NeedSet); ok && b.Need.Name == need {
			return r.Note
		}
	}
	return ""
}

// leftView is a lot that is not taken, and why.
type leftView struct {
	Lot               shop.LotID
	Name, Why, Remedy string
	Remedied          *link // where what is not known of it is written down
}

// lefts shows lots left aside.
func (d *desk) lefts(aside []answer.Aside) []leftView {
	var views []leftView
	for _, a := range aside {
		views = append(views, leftView{a.Lot, a.Name, d.say.Say(a.Why), d.say.Say(a.Remedy), d.remedyOf(a)})
	}
	return views
}

// FitPath leads to the question whether what is on hand is fit for the print.
func (v planView) FitPath() string {
	if len(v.Ready) == 1 {
		return fitPath(v.Ready[0].Lot, v.Need.Name)
	}
	return "/fit?need=" + queryEscape(v.Need.Name)
}

// Further are the cautions that wait to be asked for.
func (v planView) Further() (all []string) {
	for _, c := range v.Cautions {
		if !c.Grave {
			all = append(all, c.Say)
		}
	}
	return all
}

// ChargePath leads to the sheet of a charge, filled in as the plan says.
func (v planView) ChargePath() string {
	set := v.Plan.Setting
	q := url.Values{"mill": {v.Plan.Mill}, "charge_kg": {quantity.Mass.Plain(set.Charge.Value)},
		"target": {strconv.FormatFloat(math.Round(set.Run.Value), 'f', -1, 64)}}
	if len(v.Take) > 0 {
		q.Set("from", string(v.Take[0].Lot))
	}
	if set.Level != nil {
		q.Set("level", toString(int(set.Level.Value)))
	}
	return "/record/charge?" + q.Encode()
}
