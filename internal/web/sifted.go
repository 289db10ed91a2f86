package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan/sieving"
	"hopperful/shop"
)

// siftedView is the page of one sieve analysis.
type siftedView struct {
	docView
	Again   bool // the lot was sieved more than once
	Simple  bool // one or two sieves
	When    string
	Lot     shop.LotID
	Record  shop.RecordID
	With    []option // lots that can be laid over it
	Chosen  map[string]bool
	More    []chartView
	Service string // where a look at the screen is written down; "" unless one is due
	Picture string // kept with it, "" without one
}

func (s *server) showSieving(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	id, q, ok := s.sievingAsked(w, r, d)
	if !ok {
		return
	}
	lot := shop.LotID(strings.ToUpper(r.PathValue("lot")))
	back := view{Title: d.say.Line("page.sieving_of", fact.Name("record", toString(id))), Place: "stock", Crumb: d.lotCrumb(lot)}
	j := s.askSieving(d.state, id, q)
	if !s.await(w, r, j, d.say.Line("page.sieving_wait", fact.Name("lot", string(lot))), back) {
		return
	}
	if j.err != nil {
		s.failWith(w, r, j.err)
		return
	}
	found := j.value.(sieving.Analysis)
	if wantsJSON(r) {
		writeJSON(w, http.StatusOK, d.say.Document(found.Document))
		return
	}
	v := d.viewSieving(found, q)
	v.First, v.More = drawn(r, viewCharts(d.say, found.Document.Charts))
	v.Lot, v.Record = lot, id
	if rec, ok := d.state.Record(id); ok {
		v.When, v.Picture = d.clock(rec.At), keptPicture(rec)
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
		s.fail(w, r, fault{http.StatusNotFound, d.say.Line("page.no_such_sieving"), d.say.Line("page.lot_lists_records")})
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
		return d.say.Document(v.(sieving.Analysis).Document).Charts
	})
}

func (d *desk) viewSieving(f sieving.Analysis, opt sieving.Options) siftedView {
	v := siftedView{docView: viewDocument(d.say, f.Document), Simple: f.Simple, Chosen: map[string]bool{}}
	for _, id := range opt.With {
		v.Chosen[string(id)] = true
	}
	if s := f.Screen; s != nil && s.Word == sieving.LookNow {
		v.Service = servicePath(shop.ScreenPart, s.Mill)
	}
	v.Again = !opt.Pool && len(d.state.Sievings(f.Lot)) > 1
	for _, id := range d.sievedLots() {
		if id != f.Lot {
			v.With = append(v.With, option{string(id), lotLine(d.say, d.state.Lots.At(id))})
		}
	}
	return v
}

// mostSieved is how many lots are offered to be looked at together: the latest sieved.
const mostSieved = 200

// sievedLots are the lots sieved last, in the order they came.
func (d *desk) sievedLots() []shop.LotID {
	var ids []shop.LotID
	for _, r := range d.state.Records.LatestOf(&shop.Sieved{}) {
		if id := r.Body.(*shop.Sieved).Lot; len(ids) < mostSieved && !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
		if len(ids) == mostSieved {
			break
		}
	}
	return d.state.InOrder(ids)
}

// LotPage is the page of the lot.
func (v siftedView) LotPage() string { return lotPath(v.Lot) }

// sievePath is the page of one sieve analysis.
func sievePath(lot shop.LotID, id shop.RecordID) string {
	return lotPath(lot) + "/sieve/" + toString(id)
}
