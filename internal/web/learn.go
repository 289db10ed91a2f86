package web

import (
	"fmt"
	"net/http"
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan"
	"hopperful/plan/sieving"
	"hopperful/quantity"
	"hopperful/shop"
)

// learnedView is the page of what a mill's own records have taught: the answer as
// every page lays it out, and two tables drawn with bars.
type learnedView struct {
	docView
	Mill   string
	Screen *screenView
	Runs   []runView
	Groups []learnedGroup
}

// runView is one run against its forecast.
type runView struct {
	Record int64
	When   string
	Say    string // "4 of 4 readings inside"
	Read   []readView
}

// learnedGroup are the parameters of the mill, or of one plastic on it.
type learnedGroup struct {
	Title string
	Rows  []learnedRow
}

// learnedRow is one parameter, from the book's range to now.
type learnedRow struct {
	Book, Now figView
	Bar       *barView
	Moved     []movedView
}

// movedView is a record that moved a parameter.
type movedView struct {
	Record int64
	Say    string
}

// learnPath is the page of what a mill's records have taught.
func learnPath(mill string) string { return "/machines/" + pathSegment(mill) + "/learn" }

// learned is what has to be reckoned for the page.
type learned struct {
	learning plan.Learning
	screen   sieving.ScreenState
}

// document is the answer, with what the records say of the screen.
func (l learned) document() answer.Document {
	doc := l.learning.Document()
	l.screen.Tell(&doc)
	return doc
}

func (s *server) askLearning(st *shop.State, mill string) *job {
	return s.slow.ask("learning", fmt.Sprintf("%d|%s", st.Newest().ID, mill), func() (any, error) {
		l, err := plan.Learn(st, mill)
		if err != nil {
			return nil, err
		}
		screen, err := sieving.Screen(st, mill)
		return learned{l, screen}, err
	})
}

func (s *server) showLearning(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	m, ok := d.state.Mill(r.PathValue("mill"))
	if !ok {
		s.fail(w, r, d.noMill(r.PathValue("mill")))
		return
	}
	back := view{Title: d.say.Line("page.learn_title", fact.Name("mill", m.Name)), Place: "machines", Crumb: &link{"/machines", d.say.Line("page.machines")}}
	j := s.askLearning(d.state, m.Name)
	if !s.await(w, r, j, d.say.Line("page.learn_waiting", fact.Name("mill", m.Name)), back) {
		return
	}
	if j.err != nil {
		s.failWith(w, r, j.err)
		return
	}
	found := j.value.(learned)
	if wantsJSON(r) {
		writeJSON(w, http.StatusOK, d.say.Document(found.document()))
		return
	}
	back.Body = d.viewLearning(r, found)
	s.render(w, r, http.StatusOK, "learn", back)
}

// noMill is the answer to who asks for a mill nobody described.
func (d *desk) noMill(name string) fault {
	return fault{http.StatusNotFound, d.say.Line("plan.no_such_mill", fact.Name("mill", name)), d.say.Line("page.machines_list")}
}

// downloadWear sends the numbers of the chart of wear.
func (s *server) downloadWear(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	m, ok := d.state.Mill(r.PathValue("mill"))
	if !ok {
		s.showMissing(w, r)
		return
	}
	s.sendJob(w, r, s.askLearning(d.state, m.Name), r.PathValue("chart"), func(v any) []answer.Chart {
		return v.(learned).learning.Document().Charts
	})
}

func (d *desk) viewLearning(r *http.Request, found learned) learnedView {
	l := found.learning
	doc := found.document()
	v := learnedView{docView: viewDocument(d.say, doc), Mill: l.Mill, Screen: viewScreen(d.say, &found.screen)}
	v.Tables = nil // drawn with bars instead
	charts := viewCharts(d.say, doc.Charts)
	if charts = slices.DeleteFunc(charts, func(c chartView) bool { return !c.drawn() }); len(charts) > 0 {
		v.First, v.Others = drawn(r, charts)
	}
	for _, c := range l.Forecasts {
		v.Runs = append(v.Runs, d.viewRun(c))
	}
	v.Groups = d.learnedGroups(l.Parameters)
	return v
}

// drawn reports whether a chart has anything to draw.
func (v chartView) drawn() bool {
	for _, c := range v.Curves {
		if len(c.X) > 1 {
			return true
		}
	}
	return len(v.Points) > 0
}

func (d *desk) viewRun(c plan.Compared) runView {
	v := runView{Record: c.Record, When: d.clock(c.At), Say: d.say.Say(c.Counted())}
	for _, b := range c.Read {
		v.Read = append(v.Read, viewReadback(d.say, b))
	}
	if c.Stalled {
		v.Say += " " + d.say.Line("learn.run_stalled")
	}
	return v
}

// learnedGroups puts the parameters of each plastic under its name.
func (d *desk) learnedGroups(all []plan.Learned) []learnedGroup {
	var groups []learnedGroup
	at := map[string]int{}
	for _, p := range all {
		i, ok := at[p.Polymer]
		if !ok {
			i, at[p.Polymer] = len(groups), len(groups)
			groups = append(groups, learnedGroup{Title: d.say.Line("page.learn_group", fact.Name("plastic", p.Polymer))})
		}
		row := learnedRow{Book: viewFigureIn(d.say, p.Book), Now: viewFigureIn(d.say, p.Now), Bar: barOver(p.Book, p.Now)}
		for _, m := range p.Moved {
			row.Moved = append(row.Moved, movedView{m.Record, d.say.Line("page.learn_moved", fact.About("by", quantity.Share, m.By))})
		}
		groups[i].Rows = append(groups[i].Rows, row)
	}
	return groups
}
