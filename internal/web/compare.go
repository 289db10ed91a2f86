package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"hopperful/answer"
	"hopperful/internal/say"
	"hopperful/plan"
	"hopperful/shop"
)

// comparedView holds one run's readings against their forecast.
type comparedView struct {
	Say  string
	Read []readView
	Bar  *reckoningView // it is still being reckoned
}

// readView is one reading beside its forecast.
type readView struct {
	Name   string
	Actual figView
	Range  string
	Bar    *barView
	Mark   mark
}

// The marks of a reading: the grain that falls through, and the one that catches.
var (
	markInside  = mark{"inside", shapes[answer.Fits]}
	markOutside = mark{"outside", shapes[answer.Unlikely]}
)

func viewReadback(b plan.Readback) readView {
	v := readView{Name: b.Forecast.Name, Actual: viewFigure(b.Actual), Range: orSay(b.Forecast.ShownRange(), b.Forecast.Shown()),
		Bar: barBeside(b.Forecast, b.Actual), Mark: markOutside}
	if b.Inside {
		v.Mark = markInside
	}
	return v
}

// compare holds a run against what the records before it foretold. It never
// waits for long: what is not reckoned yet is told of, and the page at back
// asks again.
func (s *server) compare(w http.ResponseWriter, r *http.Request, st *shop.State, id shop.RecordID, back string) *comparedView {
	j := s.slow.ask("comparison", fmt.Sprintf("%d|%d", st.Newest().ID, id), func() (any, error) { return plan.Compare(st, id) })
	if s.slow.within(r, s.ending, j, pageWait/3) != there {
		bar := s.reckoning("The forecast for this charge is being reckoned.", j)
		w.Header().Set("Refresh", "1; url="+back)
		return &comparedView{Bar: &bar}
	}
	if j.err != nil {
		say, hint := sentence(j.err)
		return &comparedView{Say: strings.TrimSpace(say + " " + hint)}
	}
	return viewCompared(speaks(st), j.value.(plan.Compared))
}

func viewCompared(p *say.Printer, c plan.Compared) *comparedView {
	v := &comparedView{}
	for _, b := range c.Read {
		v.Read = append(v.Read, viewReadback(b))
	}
	v.Say = p.Say(c.Counted())
	if c.Far {
		v.Say += " No run before it was like this one."
	}
	if c.Stalled {
		v.Say += " The blade stalled; the next plan counts with that."
	}
	return v
}

// justGround is the run that was written down a moment ago, as the address says.
func justGround(d *desk) (shop.RecordID, bool) {
	id, err := strconv.ParseInt(d.query("done"), 10, 64)
	if err != nil {
		return 0, false
	}
	r, ok := d.state.Record(shop.RecordID(id))
	if !ok {
		return 0, false
	}
	_, ground := r.Body.(*shop.Ground)
	return r.ID, ground
}
