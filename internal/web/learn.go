package web

import (
	"fmt"
	"net/http"
	"strconv"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/plan"
	"hopperful/plan/sieving"
	"hopperful/shop"
)

// learnedView is the page of what a mill's own records have taught.
type learnedView struct {
	plan.Learning
	Say, More string
	Screen    *screenView
	Slips     []plan.Suspicion
	Wear      []figView
	WearChart *chartView
	Runs      []runView
	Inside    figView
	Ranks     *chartView
	Groups    []learnedGroup
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
		s.fail(w, r, fault{http.StatusNotFound, "There is no mill called " + r.PathValue("mill") + ".", "The machines page lists them all."})
		return
	}
	back := view{Title: "What the records of " + m.Name + " taught", Place: "machines", Crumb: &link{"/machines", "Machines"}}
	j := s.askLearning(d.state, m.Name)
	if !s.await(w, r, j, "Reading the records of "+m.Name+".", back) {
		return
	}
	if j.err != nil {
		s.failWith(w, r, j.err)
		return
	}
	found := j.value.(learned)
	if wantsJSON(r) {
		writeJSON(w, http.StatusOK, found.learning)
		return
	}
	back.Body = d.viewLearning(found)
	s.render(w, r, http.StatusOK, "learn", back)
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
		return []answer.Chart{v.(learned).learning.Wear.Chart}
	})
}

func (d *desk) viewLearning(found learned) learnedView {
	l := found.learning
	v := learnedView{Learning: l, Slips: l.Suspicious, Screen: viewScreen(d.say, &found.screen), Inside: viewFigure(l.Calibration.Inside)}
	v.Say, v.More = firstSentence(l.Answer)
	wear := []figure.Figure{l.Wear.Ground, l.Wear.Now}
	if l.Wear.Left != nil {
		wear = append(wear, *l.Wear.Left)
	}
	v.Wear = viewFigures(present(wear))
	if chart := viewChart(l.Wear.Chart, d.comma); len(l.Forecasts) > 0 && chart.drawn() {
		chart.File = learnPath(l.Mill) + "/wear.csv"
		v.WearChart = &chart
	}
	for _, c := range l.Forecasts {
		v.Runs = append(v.Runs, d.viewRun(c))
	}
	v.Ranks = rankChart(l.Calibration, d.comma)
	v.Groups = learnedGroups(l.Parameters)
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
	v := runView{Record: c.Record, When: clock(c.At, d.now)}
	for _, b := range c.Read {
		v.Read = append(v.Read, viewReadback(b))
	}
	v.Say = d.say.Say(c.Counted())
	if c.Stalled {
		v.Say += ", stalled"
	}
	return v
}

// rankChart shows whether readings lie where they should: sorted, they climb
// along the diagonal. nil when there are too few to see anything.
func rankChart(c plan.Calibration, comma bool) *chartView {
	const fewest, percent = 5, 100
	if len(c.Ranks) < fewest {
		return nil
	}
	ends := []float64{0, percent}
	v := chartView{Key: "ranks", Title: "Do readings lie where they should?", Summary: c.Verdict, Zero: true, Comma: comma, Lines: []lineView{},
		X:      axisView{Name: "share of readings", Unit: "%"},
		Y:      axisView{Name: "place in their forecast", Unit: "%"},
		Curves: []curveView{{Key: "diagonal", Name: "as it should be", X: ends, Low: ends, Mid: ends, High: ends}}}
	p := answer.Points{Key: "readings", Name: "readings"}
	for i, rank := range c.Ranks {
		p.X = append(p.X, rounded((float64(i)+0.5)/float64(len(c.Ranks))*percent))
		p.Y = append(p.Y, rounded(rank*percent))
	}
	v.Points = []answer.Points{p}
	return &v
}

// rounded has the digits a screen shows.
func rounded(x float64) float64 {
	n, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 4, 64), 64) // it was just written
	return n
}

// learnedGroups puts the parameters of each plastic under its name.
func learnedGroups(all []plan.Learned) []learnedGroup {
	var groups []learnedGroup
	at := map[string]int{}
	for _, p := range all {
		title := "Of the mill"
		if p.Polymer != "" {
			title = "Of " + p.Polymer + " on it"
		}
		i, ok := at[title]
		if !ok {
			i, at[title] = len(groups), len(groups)
			groups = append(groups, learnedGroup{Title: title})
		}
		row := learnedRow{Book: viewFigure(p.Book), Now: viewFigure(p.Now), Bar: barOver(p.Book, p.Now)}
		for _, m := range p.Moved {
			row.Moved = append(row.Moved, movedView{m.Record, fmt.Sprintf("by %.0f %% of the book's spread", m.By*100)})
		}
		groups[i].Rows = append(groups[i].Rows, row)
	}
	return groups
}
