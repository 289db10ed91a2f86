package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/charts"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/lots"
	"hopperful/internal/web/site"
	"hopperful/internal/web/waiting"
	"hopperful/plan/sieving"
	"hopperful/shop"
)

// siftedView is the page of one sieve analysis.
type siftedView struct {
	figures.Document
	Again   bool // the lot was sieved more than once
	Simple  bool // one or two sieves
	When    string
	Lot     shop.LotID
	Record  shop.RecordID
	With    []forms.Option // lots that can be laid over it
	Chosen  map[string]bool
	More    []charts.View
	Service string // where a look at the screen is written down; "" unless one is due
	Picture string // kept with it, "" without one
}

func (s *server) showSieving(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	id, q, ok := s.sievingAsked(w, r, d)
	if !ok {
		return
	}
	lot := shop.LotID(strings.ToUpper(r.PathValue("lot")))
	back := site.View{Title: d.Say.Line("page.sieving_of", fact.Name("record", address.Number(id))), Place: "stock", Crumb: d.LotCrumb(lot)}
	j := s.askSieving(d.State, id, q)
	if !s.Await(w, r, j, d.Say.Line("page.sieving_wait", fact.Name("lot", string(lot))), back) {
		return
	}
	if j.Err != nil {
		s.FailWith(w, r, j.Err)
		return
	}
	found := j.Value.(sieving.Analysis)
	if desk.WantsJSON(r) {
		site.WriteJSON(w, http.StatusOK, d.Say.Document(found.Document))
		return
	}
	v := viewSieving(d, found, q)
	v.First, v.More = charts.Filed(r, charts.All(d.Say, found.Document.Charts))
	v.Lot, v.Record = lot, id
	if rec, ok := d.State.Record(id); ok {
		v.When, v.Picture = d.Clock(rec.At), lots.KeptPicture(rec)
	}
	back.Body = v
	s.Render(w, r, http.StatusOK, "sieving", back)
}

// sievingAsked reads the address /stock/LOT/sieve/RECORD?with=R2&with=R3,
// with pool=1 for all samples of the lot together.
func (s *server) sievingAsked(w http.ResponseWriter, r *http.Request, d *desk.Desk) (shop.RecordID, sieving.Options, bool) {
	var opt sieving.Options
	lot, err := shop.ParseLot(r.PathValue("lot"))
	n, bad := strconv.ParseInt(r.PathValue("record"), 10, 64)
	rec, ok := d.State.Record(shop.RecordID(n))
	body, sieved := rec.Body.(*shop.Sieved)
	if err != nil || bad != nil || !ok || !sieved || body.Lot != lot {
		s.Fail(w, r, site.Fault{Status: http.StatusNotFound, Say: d.Say.Line("page.no_such_sieving"), Hint: d.Say.Line("page.lot_lists_records")})
		return 0, opt, false
	}
	for _, with := range r.URL.Query()["with"] {
		if id, err := shop.ParseLot(with); err == nil && len(d.State.Sievings(id)) > 0 && !slices.Contains(opt.With, id) {
			opt.With = append(opt.With, id)
		}
	}
	opt.Pool = r.URL.Query().Get("pool") != ""
	return rec.ID, opt, true
}

func (s *server) askSieving(st *shop.State, id shop.RecordID, opt sieving.Options) *waiting.Job {
	key := fmt.Sprintf("%d|%d|%q|%t", st.Newest().ID, id, opt.With, opt.Pool)
	return s.Slow.Ask("sieving", key, func() (any, error) { return sieving.OfRecord(st, id, opt) })
}

// downloadSieving sends the numbers of one of its charts.
func (s *server) downloadSieving(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	id, opt, ok := s.sievingAsked(w, r, d)
	if !ok {
		return
	}
	s.SendJob(w, r, s.askSieving(d.State, id, opt), r.PathValue("chart"), func(v any) []answer.Chart {
		return d.Say.Document(v.(sieving.Analysis).Document).Charts
	})
}

func viewSieving(d *desk.Desk, f sieving.Analysis, opt sieving.Options) siftedView {
	v := siftedView{Document: figures.Laid(d.Say, f.Document), Simple: f.Simple, Chosen: map[string]bool{}}
	for _, id := range opt.With {
		v.Chosen[string(id)] = true
	}
	if s := f.Screen; s != nil && s.Word == sieving.LookNow {
		v.Service = address.Service(shop.ScreenPart, s.Mill)
	}
	v.Again = !opt.Pool && len(d.State.Sievings(f.Lot)) > 1
	for _, id := range sievedLots(d) {
		if id != f.Lot {
			v.With = append(v.With, forms.Option{Value: string(id), Say: desk.LotLine(d.Say, d.State.Lots.At(id))})
		}
	}
	return v
}

// mostSieved is how many lots are offered to be looked at together: the latest sieved.
const mostSieved = 200

// sievedLots are the lots sieved last, in the order they came.
func sievedLots(d *desk.Desk) []shop.LotID {
	var ids []shop.LotID
	for _, r := range d.State.Records.LatestOf(&shop.Sieved{}) {
		if id := r.Body.(*shop.Sieved).Lot; len(ids) < mostSieved && !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
		if len(ids) == mostSieved {
			break
		}
	}
	return d.State.InOrder(ids)
}

// LotPage is the page of the lot.
func (v siftedView) LotPage() string { return address.Lot(v.Lot) }
