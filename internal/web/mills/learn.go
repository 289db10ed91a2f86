package mills

import (
	"fmt"
	"net/http"
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/charts"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/site"
	"hopperful/internal/web/waiting"
	"hopperful/plan"
	"hopperful/plan/sieving"
	"hopperful/quantity"
	"hopperful/shop"
)

// learnedView is the page of what a mill's own records have taught: the answer as
// every page lays it out, and two tables drawn with bars.
type learnedView struct {
	figures.Document
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
	Book, Now figures.View
	Bar       *figures.Bar
	Moved     []movedView
}

// movedView is a record that moved a parameter.
type movedView struct {
	Record int64
	Say    string
}

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

func askLearning(s *site.Site, st *shop.State, mill string) *waiting.Job {
	return s.Slow.Ask("learning", fmt.Sprintf("%d|%s", st.Newest().ID, mill), func() (any, error) {
		l, err := plan.Learn(st, mill)
		if err != nil {
			return nil, err
		}
		screen, err := sieving.Screen(st, mill)
		return learned{l, screen}, err
	})
}

// ShowLearning is the page of what a mill's own records have taught.
func ShowLearning(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	m, ok := d.State.Mill(r.PathValue("mill"))
	if !ok {
		s.Fail(w, r, noMill(d, r.PathValue("mill")))
		return
	}
	back := site.View{Title: d.Say.Line("page.learn_title", fact.Name("mill", m.Name)), Place: "machines", Crumb: &address.Link{To: "/machines", Say: d.Say.Line("page.machines")}}
	j := askLearning(s, d.State, m.Name)
	if !s.Await(w, r, j, d.Say.Line("page.learn_waiting", fact.Name("mill", m.Name)), back) {
		return
	}
	if j.Err != nil {
		s.FailWith(w, r, j.Err)
		return
	}
	found := j.Value.(learned)
	if desk.WantsJSON(r) {
		site.WriteJSON(w, http.StatusOK, d.Say.Document(found.document()))
		return
	}
	back.Body = viewLearning(d, r, found)
	s.Render(w, r, http.StatusOK, "learn", back)
}

// noMill is the answer to who asks for a mill nobody described.
func noMill(d *desk.Desk, name string) site.Fault {
	return site.Fault{Status: http.StatusNotFound, Say: d.Say.Line("plan.no_such_mill", fact.Name("mill", name)), Hint: d.Say.Line("page.machines_list")}
}

// DownloadWear sends the numbers of the chart of wear.
func DownloadWear(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	m, ok := d.State.Mill(r.PathValue("mill"))
	if !ok {
		s.ShowMissing(w, r)
		return
	}
	s.SendJob(w, r, askLearning(s, d.State, m.Name), r.PathValue("chart"), func(v any) []answer.Chart {
		return v.(learned).learning.Document().Charts
	})
}

func viewLearning(d *desk.Desk, r *http.Request, found learned) learnedView {
	l := found.learning
	doc := found.document()
	v := learnedView{Document: figures.Laid(d.Say, doc), Mill: l.Mill, Screen: viewScreen(d.Say, &found.screen)}
	v.Tables = nil // drawn with bars instead
	list := charts.All(d.Say, doc.Charts)
	if list = slices.DeleteFunc(list, func(c charts.View) bool { return !c.Drawn() }); len(list) > 0 {
		v.First, v.Others = charts.Filed(r, list)
	}
	for _, c := range l.Forecasts {
		v.Runs = append(v.Runs, viewRun(d, c))
	}
	v.Groups = learnedGroups(d, l.Parameters)
	return v
}

func viewRun(d *desk.Desk, c plan.Compared) runView {
	v := runView{Record: c.Record, When: d.Clock(c.At), Say: d.Say.Say(c.Counted())}
	for _, b := range c.Read {
		v.Read = append(v.Read, viewReadback(d.Say, b))
	}
	if c.Stalled {
		v.Say += " " + d.Say.Line("learn.run_stalled")
	}
	return v
}

// learnedGroups puts the parameters of each plastic under its name.
func learnedGroups(d *desk.Desk, all []plan.Learned) []learnedGroup {
	var groups []learnedGroup
	at := map[string]int{}
	for _, p := range all {
		i, ok := at[p.Polymer]
		if !ok {
			i, at[p.Polymer] = len(groups), len(groups)
			groups = append(groups, learnedGroup{Title: d.Say.Line("page.learn_group", fact.Name("plastic", p.Polymer))})
		}
		row := learnedRow{Book: figures.Of(d.Say, p.Book), Now: figures.Of(d.Say, p.Now), Bar: figures.BarOver(p.Book, p.Now)}
		for _, m := range p.Moved {
			row.Moved = append(row.Moved, movedView{m.Record, d.Say.Line("page.learn_moved", fact.About("by", quantity.Share, m.By))})
		}
		groups[i].Rows = append(groups[i].Rows, row)
	}
	return groups
}
