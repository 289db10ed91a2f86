package web

import (
	"html/template"
	"math"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/internal/say"
	"hopperful/plan"
	"hopperful/plan/consumption"
	"hopperful/quantity"
	"hopperful/shop"
)

// planView is a plan's page, in the order every page has: answer, what could
// spoil it, picture, numbers, what to do now.
type planView struct {
	Need    shop.Need
	Note    string // what the reader of the file warned of
	Refused *fault // why there is no plan at all
	plan.Grinding
	Learned []string // what the latest record moved
	Finish  string
	By      string
	Setting []figView
	Numbers []figView
	Eats    []figView
	Limits  []limitView
	Take    []takeView
	Ready   []takeView // granulate that serves the need as it is
	Flow    *flowView
	Warn    []warnView
	Lacks   string     // what the mill's owner says it lacks; the cautions then come first
	First   *chartView // the picture that says most
	Others  []chartView
	Choose  chooseView
	Begin   *beginView
	Keep    *link // writes the plastic down with the print, where it was left open
}

// limitView is a limit with its mark.
type limitView struct {
	figView
	Binds bool
	Relax string
}

// warnView is what to mind at one place.
type warnView struct {
	Where string
	Texts []string
}

// gather puts cautions of the same place under one heading.
func gather(p *say.Printer, list []answer.Caution) []warnView {
	var views []warnView
	at := map[string]int{}
	for _, c := range list {
		i, ok := at[c.Where]
		if !ok {
			i, at[c.Where] = len(views), len(views)
			views = append(views, warnView{Where: c.Where})
		}
		views[i].Texts = append(views[i].Texts, p.Word(c.Text))
	}
	return views
}

// takeView is a lot to grind.
type takeView struct {
	plan.Take
	Figure figView
	Heap   template.HTML
}

func (s *server) showPlan(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	need, ok := d.state.Need(r.PathValue("need"))
	if !ok {
		s.fail(w, r, fault{http.StatusNotFound, "There is no need called " + r.PathValue("need") + ".", "The plan page lists them all."})
		return
	}
	req, err := request(r, d, need)
	var g plan.Grinding
	if err == nil {
		j := s.askPlan(d.state, req)
		if !s.await(w, r, j, "Reckoning the plan for "+need.Name+".", view{Place: "plan", Crumb: &link{"/plan", "Plan"}}) {
			return
		}
		g, _ = j.value.(plan.Grinding)
		err = j.err
		g.Told = append([]string{}, d.say.All(g.Next)...)
	}
	if wantsJSON(r) {
		if err != nil {
			s.failWith(w, r, err)
			return
		}
		writeJSON(w, http.StatusOK, g)
		return
	}
	v, status := d.viewPlan(need, req, g), http.StatusOK
	if err != nil {
		say, hint := sentence(err)
		v.Refused, status = &fault{Say: say, Hint: hint}, http.StatusUnprocessableEntity
		s.log.Info("no plan", "need", "one of the shop's", "error", err)
	}
	v.Choose = choose(r, d, req)
	if err == nil {
		v.Begin = d.beginning(v, r.URL.Query())
	}
	if err == nil && need.Polymer == "" && g.Polymer != "" {
		v.Keep = &link{editPath("need", need.Name) + "&need.polymer=" + queryEscape(g.Polymer), "Write " + g.Polymer + " down for " + need.Name}
	}
	v.First, v.Others = drawn(r, viewCharts(g.Charts, d.comma))
	v.Note = d.noteOf(need.Name)
	s.render(w, r, status, "plan", view{Title: "Plan for " + need.Name, Place: "plan", Crumb: &link{"/plan", "Plan"}, Body: v})
}

// viewPlan lays a plan out.
func (d *desk) viewPlan(need shop.Need, req plan.Request, g plan.Grinding) planView {
	v := planView{Need: need, Grinding: g, Lacks: d.lacks(g.Mill)}
	if parts, err := consumption.Of(d.materials(), withPolymer(need, req)); err == nil {
		v.Eats = viewFigures(parts)
	}
	if g.Moved != nil {
		v.Learned = d.say.All(g.Moved.Says)
	}
	if !g.Setting.Finish.IsZero() {
		v.Finish = clock(g.Setting.Finish, d.now)
	}
	if !req.By.IsZero() {
		v.By = clock(req.By, d.now)
	}
	set := g.Setting
	big := []figure.Figure{set.Charges, set.Charge, set.Run}
	if set.Level != nil {
		big = append(big, *set.Level)
	}
	if set.Charges.Value > 1 {
		big = append(big, set.Rest, set.Total, set.StopAt)
	}
	if set.Charges.Value > 0 {
		v.Setting = viewFigures(present(big))
	}
	v.Numbers = viewFigures(present(numbers(g)))
	for _, l := range g.Limits {
		v.Limits = append(v.Limits, limitView{limitFigure(l), l.Binds, l.Relax})
	}
	v.Take, v.Ready = d.takes(g.Take), d.takes(g.OnHand)
	v.Warn = gather(d.say, g.Cautions)
	v.Flow = flowOf(g.Balance)
	v.explainOnce()
	return v
}

// explainOnce leaves each figure's reasons where it first stands on the page.
func (v *planView) explainOnce() {
	o := once{}
	o.figures(v.Setting)
	for i := range v.Limits {
		o.figure(&v.Limits[i].figView)
	}
	o.figures(v.Numbers)
	o.figures(v.Eats)
}

// lacks names what the owner of a mill says it lacks, "" when nothing.
func (d *desk) lacks(mill string) string {
	m, ok := d.state.Mill(mill)
	if !ok {
		return ""
	}
	var list []string
	for _, g := range []struct {
		has  shop.YesNo
		what string
	}{{m.Earth, "a protective earth"}, {m.LidSwitch, "a lid switch"}, {m.ResidualCurrent, "a residual-current device"}} {
		if g.has == shop.No {
			list = append(list, g.what)
		}
	}
	if len(list) == 0 {
		return ""
	}
	return m.Name + " lacks " + strings.Join(list, " and ") + "."
}

// takes shows lots with what is taken of each.
func (d *desk) takes(list []plan.Take) []takeView {
	var views []takeView
	for _, t := range list {
		v := takeView{Take: t, Figure: viewFigure(t.Mass)}
		if l, ok := d.state.Lot(t.Lot); ok {
			v.Heap = drawHeap(l, d.coarseness(l), d.paint(l), false)
		}
		views = append(views, v)
	}
	return views
}

// numbers are the plan's figures beyond the cycle. A plan that grinds nothing
// has only what is wanted and what is there.
func numbers(g plan.Grinding) []figure.Figure {
	all := []figure.Figure{g.Need}
	if g.Setting.Charges.Value > 0 {
		all = append(all, g.Product, g.Setting.Power, g.Setting.JarEvery)
	}
	return append(all, g.Figures...)
}

// limitFigure is a limit's figure under the limit's own name, with the share of
// draws that the plan was held to.
func limitFigure(l answer.Limit) figView {
	f := viewFigure(l.Figure)
	m := markOf(answer.Held(l.Holds))
	f.Name, f.Mark, f.InTen = l.Name, &m, inTen(l.Holds)
	return f
}

// present leaves out figures a plan did not get to.
func present(all []figure.Figure) []figure.Figure {
	var some []figure.Figure
	for _, f := range all {
		if f.Key != "" {
			some = append(some, f)
		}
	}
	return some
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

// FitPath leads to the question whether what is on hand is fit for the print.
func (v planView) FitPath() string {
	if len(v.Ready) == 1 {
		return fitPath(v.Ready[0].Lot, v.Need.Name)
	}
	return "/fit?need=" + queryEscape(v.Need.Name)
}

// ChargePath leads to the sheet of a charge, filled in as the plan says.
func (v planView) ChargePath() string {
	set := v.Grinding.Setting
	q := url.Values{"mill": {v.Mill}, "charge_kg": {quantity.Mass.Plain(set.Charge.Value)},
		"target": {strconv.FormatFloat(math.Round(set.Run.Value), 'f', -1, 64)}}
	if len(v.Take) > 0 {
		q.Set("from", string(v.Take[0].Lot))
	}
	if set.Level != nil {
		q.Set("level", toString(int(set.Level.Value)))
	}
	return "/record/charge?" + q.Encode()
}
