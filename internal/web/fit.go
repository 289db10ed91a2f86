package web

import (
	"fmt"
	"net/http"
	"strings"

	"hopperful/answer"
	"hopperful/plan/fit"
	"hopperful/quantity"
	"hopperful/shop"
)

// fitView is the page that says whether a lot is fit for a print.
type fitView struct {
	fit.Fitness
	Say, More string
	Mark      mark
	Items     []fitItem
	Chance    figView
	Settings  []figView
	Numbers   []figView
	Warn      []warnView
	First     *chartView
	Others    []chartView
	Ask       formView
	Dry       string // how to dry the lot
	PlanPath  string
	Act       link // the cheapest thing that helps
}

// fitItem is one question and its answer.
type fitItem struct {
	fit.Item
	Mark   mark
	InTen  string
	Figure *figView
	Remedy string // "5 min; then it holds in 86 of 100 cases"
}

// fitPath is the page for a lot and a print.
func fitPath(lot shop.LotID, need string) string {
	return "/fit/" + pathSegment(string(lot)) + "/" + pathSegment(need)
}

// fitSheet asks what the check may be told.
func fitSheet(d *desk) sheet {
	var printers []option
	for _, p := range d.state.Printers {
		if !p.Retired {
			printers = append(printers, option{p.Name, p.Name})
		}
	}
	fields := []field{
		amount("nozzle_m", "Another nozzle", quantity.Length, "mm", "Empty takes the printer's."),
		amount("temperature_k", "Temperature of the melt", quantity.Temperature, "°C", "Empty takes what is usual."),
		amount("strength", "Strength it must keep", quantity.Share, "%", "Of a fresh print's. Empty takes 80 %."),
	}
	if len(printers) > 1 {
		fields = append([]field{{Path: "printer", Label: "Printer", As: asSelect, Choices: printers}}, fields...)
	}
	return sheet{Submit: "Ask again", Groups: []group{{Fields: fields}}}
}

// fitAsked reads the address /fit/LOT/NEED?printer=…; false when the answer is
// already given.
func (s *server) fitAsked(w http.ResponseWriter, r *http.Request, d *desk) (fit.Request, asked, bool) {
	lot, err := shop.ParseLot(r.PathValue("lot"))
	need, ok := d.state.Need(r.PathValue("need"))
	if _, known := d.state.Lot(lot); err != nil || !ok || !known {
		s.fail(w, r, fault{http.StatusNotFound, "There is no such lot or print.", "The page of prints and the stock list them all."})
		return fit.Request{}, asked{}, false
	}
	a := readQuery(r.URL.Query(), fitSheet(d))
	return fit.Request{Lot: lot, Need: need, Printer: a.words["printer"], Nozzle: a.number("nozzle_m"),
		Temperature: a.number("temperature_k"), Strength: a.number("strength"), Now: d.now}, a, true
}

func (s *server) askFit(st *shop.State, req fit.Request, a asked) *job {
	key := fmt.Sprintf("%d|%s|%s|%s", st.Newest().ID, req.Lot, req.Need.Name, a.key())
	return s.slow.ask("fitness", key, func() (any, error) { return fit.Judge(st, req) })
}

func (s *server) showFit(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	req, a, ok := s.fitAsked(w, r, d)
	if !ok {
		return
	}
	back := view{Title: "Is " + string(req.Lot) + " fit for " + req.Need.Name + "?", Place: "plan", Crumb: &link{planPath(req.Need.Name), "Plan for " + req.Need.Name}}
	found, ok := awaitAsked[fit.Fitness](s, w, r, a, func() *job { return s.askFit(d.state, req, a) }, "Asking whether "+string(req.Lot)+" is fit for "+req.Need.Name+".", back)
	if !ok {
		return
	}
	v, status := d.viewFit(found, req), http.StatusOK
	if len(a.in.Wrong) > 0 {
		v.Say, status = "This cannot be asked like that.", http.StatusUnprocessableEntity
	}
	v.Ask = askForm(r, fitSheet(d), a)
	v.First, v.Others = drawn(r, viewCharts(found.Charts, d.comma))
	back.Body = v
	s.render(w, r, status, "fit", back)
}

func (s *server) downloadFit(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	req, a, ok := s.fitAsked(w, r, d)
	if !ok || s.unreadable(w, r, a) {
		return
	}
	s.sendJob(w, r, s.askFit(d.state, req, a), r.PathValue("chart"), func(v any) []answer.Chart { return v.(fit.Fitness).Charts })
}

func (d *desk) viewFit(f fit.Fitness, req fit.Request) fitView {
	v := fitView{Fitness: f, Mark: markOf(f.Verdict), Settings: viewFigures(f.Sheet.Settings), Numbers: viewFigures(f.Figures),
		Warn: gather(f.Cautions), PlanPath: planPath(req.Need.Name), Dry: "/dry/" + pathSegment(string(req.Lot))}
	// The answer runs on after the deciding question.
	v.Say, v.More, _ = strings.Cut(f.Answer, "? ")
	if v.More != "" {
		v.Say += "?"
	}
	if f.Chance.Key != "" && f.Refused == nil {
		v.Chance = viewFigure(f.Chance)
	}
	for _, x := range f.Items {
		one := fitItem{Item: x, Mark: markOf(x.Verdict), InTen: inTen(x.Chance)}
		if x.Figure != nil {
			g := viewFigure(*x.Figure)
			g.Mark = nil // the item's own mark counts everything, not the figure alone
			one.Figure = &g
		}
		if c := x.Change; c != nil {
			one.Remedy = c.Shown
			if c.Chance != nil {
				one.Remedy = strings.TrimPrefix(one.Remedy+"; then it goes well "+inTen(*c.Chance), "; ")
			}
		}
		v.Items = append(v.Items, one)
	}
	v.Act = fitAct(f)
	return v
}

// fitAct is where the deciding question is worked on.
func fitAct(f fit.Fitness) link {
	lot := "?lot=" + string(f.Lot)
	acts := map[string]link{
		"enough": {planPath(f.NeedName), "Plan to grind more"}, "polymer": {"/record/sort" + lot, "Sort it"}, "metal": {"/record/magnet" + lot, "Past the magnet"},
		"sizes": {"/record/dedust" + lot, "Take the dust off"}, "dry": {"/dry/" + string(f.Lot), "See how to dry it"}, "runs": {"/record/jar" + lot, "Weigh a jar of it"},
		"takes_in": {"/record/flow" + lot, "Test the flow"}, "melts": {"/record/flow" + lot, "Test the flow"}, "pressure": {"/record/flow" + lot, "Test the flow"},
		"open": {"/record/dedust" + lot, "Sift it finer"},
	}
	if act, ok := acts[f.Decides]; ok && f.Verdict != answer.Yes && f.Refused == nil {
		return act
	}
	if f.Refused != nil {
		return link{lotPath(f.Lot), "See the lot"}
	}
	return link{"/record/print?lot=" + string(f.Lot) + "&need=" + queryEscape(f.NeedName), "Record the print"}
}
