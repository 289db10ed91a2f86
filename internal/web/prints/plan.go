package prints

import (
	"crypto/rand"
	"html/template"
	"math"
	"net/http"
	"net/url"
	"strconv"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/charts"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/drawing"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
	"hopperful/plan"
	"hopperful/plan/consumption"
	"hopperful/quantity"
	"hopperful/shop"
)

// planView is a plan's page: the answer as every page lays it out, with what only this
// one draws.
type planView struct {
	figures.Document
	Need    shop.Need
	Note    string      // what the reader of the file warned of
	Refused *site.Fault // why there is no plan at all
	Plan    plan.Grinding
	Lead    string
	Lacks   string // what the mill's owner says it lacks; the cautions then come first
	Eats    []figures.View
	Take    []takeView
	Ready   []takeView // granulate that serves the need as it is
	Then    []string   // what still stands between the granulate and the print
	Numbers []figures.View
	Left    []leftView
	Flow    *flowView
	Choose  chooseView
	Begin   *beginView
	Keep    *address.Link // writes the plastic down with the print, where it was left open
}

// takeView is a lot to grind.
type takeView struct {
	Lot    shop.LotID
	Name   string
	Why    string
	Figure figures.View
	Heap   template.HTML
}

// ShowPlan is the plan for a need.
func ShowPlan(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	need, ok := d.State.Need(r.PathValue("need"))
	if !ok {
		s.Fail(w, r, noNeed(d, r.PathValue("need")))
		return
	}
	req, err := request(r, d, need)
	var g plan.Grinding
	if err == nil {
		j := s.AskPlan(d.State, req)
		if !s.Await(w, r, j, d.Say.Line("page.plan_waiting", fact.Name("need", need.Name)), site.View{Place: "plan", Crumb: toPlans(d)}) {
			return
		}
		g, _ = j.Value.(plan.Grinding)
		err = j.Err
	}
	if desk.WantsJSON(r) {
		if err != nil {
			s.FailWith(w, r, err)
			return
		}
		site.WriteJSON(w, http.StatusOK, d.Say.Document(g.Document()))
		return
	}
	v, status := viewPlan(d, need, req, g), http.StatusOK
	if err != nil {
		say, hint := forms.Said(d.Say, err)
		v.Refused, status = &site.Fault{Say: say, Hint: hint}, http.StatusUnprocessableEntity
		s.Log.Info("no plan", "need", "one of the shop's", "error", err)
	}
	v.Choose = choose(r, d, req)
	if err == nil {
		v.Begin = beginning(d, v, r.URL.Query())
	}
	if err == nil && need.Polymer == "" && g.Polymer != "" {
		v.Keep = &address.Link{To: address.Edit("need", need.Name) + "&need.polymer=" + address.Query(g.Polymer), Say: d.Say.Line("page.plan_keep", fact.Name("polymer", g.Polymer), fact.Name("need", need.Name))}
	}
	v.First, v.Others = charts.Filed(r, charts.All(d.Say, g.Charts))
	v.Note = noteOf(d, need.Name)
	s.Render(w, r, status, "plan", site.View{Title: d.Say.Line("page.plan_for", fact.Name("need", need.Name)), Place: "plan", Crumb: toPlans(d), Body: v})
}

// toPlans leads one step back up.
func toPlans(d *desk.Desk) *address.Link {
	return &address.Link{To: "/plan", Say: d.Say.Line("page.plan")}
}

// noNeed is the answer to who asks for a need nobody wrote down.
func noNeed(d *desk.Desk, name string) site.Fault {
	return site.Fault{Status: http.StatusNotFound, Say: d.Say.Line("page.no_need", fact.Name("need", name)), Hint: d.Say.Line("page.needs_list")}
}

// viewPlan lays a plan out.
func viewPlan(d *desk.Desk, need shop.Need, req plan.Request, g plan.Grinding) planView {
	v := planView{Need: need, Plan: g}
	if parts, err := consumption.Of(d.Materials(), withPolymer(need, req)); err == nil {
		v.Eats = figures.All(d.Say, parts)
	}
	if g.Says.Empty() { // there is no plan
		return v
	}
	v.Document = figures.Laid(d.Say, g.Document())
	v.Tables = nil // drawn with heaps instead
	v.Lacks = d.Say.Say(g.Lacks)
	finish := ""
	if g.Possible && g.Setting.Charges.Value > 0 {
		finish = d.Clock(g.Setting.Finish)
	}
	v.Lead = d.Say.Line("page.plan_lead", fact.Name("need", need.Name), fact.Name("polymer", g.Polymer), fact.Name("mill", g.Mill), fact.Name("finish", finish))
	for _, s := range v.Reasons {
		switch s.Key {
		case "then":
			v.Then = s.Notes
		case "plan_behind":
			v.Numbers = s.Figures
		}
	}
	v.Take, v.Ready = takes(d, g.Take), takes(d, g.OnHand)
	v.Left, v.Flow = lefts(d, g.Aside), flowOf(d, g.Balance)
	v.explainOnce()
	return v
}

// explainOnce leaves each figure's reasons where it first stands on the page.
func (v *planView) explainOnce() {
	o := figures.Once{}
	o.Figures(v.Figures)
	for i := range v.Limits {
		o.Figure(&v.Limits[i].Figure)
	}
	o.Figures(v.Numbers)
	o.Figures(v.Eats)
}

// takes shows lots with what is taken of each.
func takes(d *desk.Desk, list []plan.Take) []takeView {
	var views []takeView
	for _, t := range list {
		v := takeView{Lot: t.Lot, Name: t.Name, Why: d.Say.Say(t.Why), Figure: figures.Of(d.Say, t.Mass)}
		if l, ok := d.State.Lot(t.Lot); ok {
			v.Heap = drawing.HeapAside(l, d.Coarseness(l), d.Paint(l))
		}
		views = append(views, v)
	}
	return views
}

// noteOf is the note of the record that last described a need.
func noteOf(d *desk.Desk, need string) string {
	for _, r := range d.State.Records.LatestOf(&shop.NeedSet{}) {
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
	Remedied          *address.Link // where what is not known of it is written down
}

// lefts shows lots left aside.
func lefts(d *desk.Desk, aside []answer.Aside) []leftView {
	var views []leftView
	for _, a := range aside {
		views = append(views, leftView{a.Lot, a.Name, d.Say.Say(a.Why), d.Say.Say(a.Remedy), remedyOf(d, a)})
	}
	return views
}

// FitPath leads to the question whether what is on hand is fit for the print.
func (v planView) FitPath() string {
	if len(v.Ready) == 1 {
		return address.Fit(v.Ready[0].Lot, v.Need.Name)
	}
	return "/fit?need=" + address.Query(v.Need.Name)
}

// Further are the cautions that wait to be asked for.
func (v planView) Further() (all []figures.Finding) {
	for _, c := range v.Cautions {
		if !c.Grave {
			all = append(all, c)
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
		q.Set("level", address.Number(int(set.Level.Value)))
	}
	return "/record/charge?" + q.Encode()
}

// NewKey is a key for one touch of one page.
func NewKey() string { return rand.Text() }

// beginView offers to begin the campaign of a plan.
type beginView struct {
	Key    string
	Fields []forms.Option // what the plan was asked with
	Also   []forms.Option // open prints that may share it
	GoOn   string         // the campaign that goes on at the mill, "" for none
}

// beginning offers it where the plan grinds something.
func beginning(d *desk.Desk, v planView, asked url.Values) *beginView {
	if v.Plan.Setting.Charges.Value < 1 || v.Plan.Mill == "" {
		return nil
	}
	b := &beginView{Key: NewKey()}
	if c, ok := d.State.Running(v.Plan.Mill); ok {
		b.GoOn = address.Run(c.ID)
	}
	b.Fields = []forms.Option{{Value: "need", Say: v.Need.Name}, {Value: "mill", Say: v.Plan.Mill}, {Value: "polymer", Say: v.Plan.Polymer}}
	for _, name := range []string{"colour", "lot"} {
		for _, x := range asked[name] {
			b.Fields = append(b.Fields, forms.Option{Value: name, Say: x})
		}
	}
	for _, n := range d.State.Needs {
		if !n.Done && n.Name != v.Need.Name && (n.Polymer == "" || n.Polymer == v.Plan.Polymer) {
			b.Also = append(b.Also, forms.Option{Value: n.Name, Say: n.Name})
		}
	}
	return b
}
