package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"hopperful/answer"
	"hopperful/plan/sieving"
	"hopperful/shop"
)

// siftedView is the page of one sieve analysis.
type siftedView struct {
	Again bool // the lot was sieved more than once
	sieving.Analysis
	Say     string // the answer's first sentence
	More    string // the others
	When    string
	Record  shop.RecordID
	First   *chartView
	Others  []chartView
	Numbers []figView
	Weighed []figView
	Rows    []siftedRow
	Fits    []siftedFit
	Screen  *screenView
	With    []option // lots that can be laid over it
	Chosen  map[string]bool
	Picture string // kept with it, "" without one
	Lot     shop.LotID
}

// siftedRow is one sieve.
type siftedRow struct{ Sieve, Retained, Share, Passing, Range string }

// siftedFit is one law fitted.
type siftedFit struct {
	sieving.Fit
	Scale, Shape, Miss figView
}

func (s *server) showSieving(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	id, q, ok := s.sievingAsked(w, r, d)
	if !ok {
		return
	}
	lot := shop.LotID(strings.ToUpper(r.PathValue("lot")))
	back := view{Title: "Sieving " + toString(id), Place: "stock", Crumb: &link{lotPath(lot), "Lot " + string(lot)}}
	j := s.askSieving(d.state, id, q)
	if !s.await(w, r, j, "Reckoning the sieving of "+string(lot)+".", back) {
		return
	}
	if j.err != nil {
		s.failWith(w, r, j.err)
		return
	}
	found := j.value.(sieving.Analysis)
	if wantsJSON(r) {
		found.Figures = d.say.Figures(found.Figures)
		writeJSON(w, http.StatusOK, found)
		return
	}
	v := d.viewSieving(found, q)
	v.First, v.Others = drawn(r, viewSieveCharts(found.Charts, d.comma))
	v.Lot, v.Record = lot, id
	if rec, ok := d.state.Record(id); ok {
		v.When, v.Picture = clock(rec.At, d.now), keptPicture(rec)
	}
	back.Body = v
	s.render(w, r, http.StatusOK, "sieving", back)
}

// sievingAsked reads the address /stock/LOT/sieve/RECORD?with=R2&with=R3,
// with pool=1 for all samples of the lot together.
func (s *server) sievingAsked(w http.ResponseWriter, r *http.Request, d *desk) (shop.RecordID, sieving.Options, bool) {
	var opt sieving.Options
	lot, err := shop.ParseLot(r.PathValue("lot"))
	n, bad := strconv.ParseInt(r.PathValue("record"), 10, 64)
	rec, ok := d.state.Record(shop.RecordID(n))
	body, sieved := rec.Body.(*shop.Sieved)
	if err != nil || bad != nil || !ok || !sieved || body.Lot != lot {
		s.fail(w, r, fault{http.StatusNotFound, "There is no such sieving of that lot.", "The lot's page lists its records."})
		return 0, opt, false
	}
	for _, with := range r.URL.Query()["with"] {
		if id, err := shop.ParseLot(with); err == nil && len(d.state.Sievings(id)) > 0 && !slices.Contains(opt.With, id) {
			opt.With = append(opt.With, id)
		}
	}
	opt.Pool = r.URL.Query().Get("pool") != ""
	return rec.ID, opt, true
}

func (s *server) askSieving(st *shop.State, id shop.RecordID, opt sieving.Options) *job {
	key := fmt.Sprintf("%d|%d|%q|%t", st.Newest().ID, id, opt.With, opt.Pool)
	return s.slow.ask("sieving", key, func() (any, error) { return sieving.OfRecord(st, id, opt) })
}

// downloadSieving sends the numbers of one of its charts.
func (s *server) downloadSieving(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	id, opt, ok := s.sievingAsked(w, r, d)
	if !ok {
		return
	}
	s.sendJob(w, r, s.askSieving(d.state, id, opt), r.PathValue("chart"), func(v any) []answer.Chart {
		var charts []answer.Chart
		for _, c := range v.(sieving.Analysis).Charts {
			charts = append(charts, c.Chart)
		}
		return charts
	})
}

func (d *desk) viewSieving(f sieving.Analysis, opt sieving.Options) siftedView {
	v := siftedView{Analysis: f, Numbers: viewFigures(f.Figures), Weighed: viewFigures(f.Masses), Screen: viewScreen(d.say, f.Screen), Chosen: map[string]bool{}}
	for _, id := range opt.With {
		v.Chosen[string(id)] = true
	}
	v.Again = !opt.Pool && len(d.state.Sievings(f.Lot)) > 1
	v.Say, v.More = firstSentence(f.Answer)
	for _, row := range f.Rows {
		line := siftedRow{Sieve: row.Sieve, Retained: row.Retained.Shown(), Share: row.Share.Shown()}
		if row.Passing != nil {
			line.Passing, line.Range = row.Passing.Shown(), row.Passing.ShownRange()
		}
		v.Rows = append(v.Rows, line)
	}
	for _, one := range f.Fits {
		v.Fits = append(v.Fits, siftedFit{one, viewFigure(one.Scale), viewFigure(one.Shape), viewFigure(one.Miss)})
	}
	for _, id := range d.state.Order {
		if id != f.Lot && len(d.state.Sievings(id)) > 0 {
			v.With = append(v.With, option{string(id), localised(lotLine(d.state.Lots[id]), d.comma)})
		}
	}
	return v
}

// LotPage is the page of the lot.
func (v siftedView) LotPage() string { return lotPath(v.Lot) }

func viewSieveCharts(charts []sieving.Chart, comma bool) []chartView {
	var views []chartView
	for _, c := range charts {
		views = append(views, viewSieveChart(c, comma))
	}
	return views
}

// viewSieveChart is a chart with its measurements and, where it is a plotting
// paper, the paper's lines.
func viewSieveChart(c sieving.Chart, comma bool) chartView {
	v := viewChart(c.Chart, comma)
	v.Bars = c.Key == "density"
	v.Zero = v.Zero && len(c.XTicks) == 0
	for _, p := range c.Points {
		v.Points = append(v.Points, pointView{p.Key, p.Name, v.X.all(p.X), v.Y.all(p.Y)})
	}
	for _, t := range c.XTicks {
		v.XTicks = append(v.XTicks, tickView{t.At, localised(t.Label, comma)})
	}
	for _, t := range c.YTicks {
		v.YTicks = append(v.YTicks, tickView{t.At, localised(t.Label, comma)})
	}
	return v
}

// sievePath is the page of one sieve analysis.
func sievePath(lot shop.LotID, id shop.RecordID) string {
	return lotPath(lot) + "/sieve/" + toString(id)
}
