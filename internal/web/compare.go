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
	markInside  = shapes[answer.Fits]
	markOutside = shapes[answer.Unlikely]
)

func viewReadback(p *say.Printer, b plan.Readback) readView {
	v := readView{Actual: viewFigureIn(p, b.Actual), Range: p.Number(orSay(b.Forecast.ShownRange(), b.Forecast.Shown())),
		Bar: barBeside(b.Forecast, b.Actual), Mark: mark{p.Line("page.outside"), markOutside}}
	v.Name = v.Actual.Name
	if b.Inside {
		v.Mark = mark{p.Line("learn.inside"), markInside}
	}
	return v
}

// compare holds a run against what the records before it foretold. It never
// waits for long: what is not reckoned yet is told of, and the page at back
// asks again.
func (s *server) compare(w http.ResponseWriter, r *http.Request, st *shop.State, id shop.RecordID, back string) *comparedView {
	j := s.slow.ask("comparison", fmt.Sprintf("%d|%d", st.Newest().ID, id), func() (any, error) { return plan.Compare(st, id) })
	if s.slow.within(r, s.ending, j, pageWait/3) != there {
		bar := s.reckoning(speaks(r, st).Line("page.compare_waiting"), j)
		w.Header().Set("Refresh", "1; url="+back)
		return &comparedView{Bar: &bar}
	}
	if j.err != nil {
		say, hint := saidIn(speaks(r, st), j.err)
		return &comparedView{Say: strings.TrimSpace(say + " " + hint)}
	}
	return viewCompared(speaks(r, st), j.value.(plan.Compared))
}

func viewCompared(p *say.Printer, c plan.Compared) *comparedView {
	v := &comparedView{}
	for _, b := range c.Read {
		v.Read = append(v.Read, viewReadback(p, b))
	}
	v.Say = p.Say(c.Counted())
	if c.Far {
		v.Say += " " + p.Line("learn.far")
	}
	if c.Stalled {
		v.Say += " " + p.Line("learn.run_stalled")
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
