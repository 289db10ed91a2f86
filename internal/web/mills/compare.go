package mills

import (
	"cmp"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"hopperful/answer"
	"hopperful/internal/say"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
	"hopperful/internal/web/waiting"
	"hopperful/plan"
	"hopperful/shop"
)

// ComparedView holds one run's readings against their forecast.
type ComparedView struct {
	Say  string
	Read []readView
	Bar  *site.ReckoningView // it is still being reckoned
}

// readView is one reading beside its forecast.
type readView struct {
	Name   string
	Actual figures.View
	Range  string
	Bar    *figures.Bar
	Mark   figures.Mark
}

// The marks of a reading: the grain that falls through, and the one that catches.
var (
	markInside  = figures.Shapes[answer.Fits]
	markOutside = figures.Shapes[answer.Unlikely]
)

func viewReadback(p *say.Printer, b plan.Readback) readView {
	v := readView{Actual: figures.Of(p, b.Actual), Range: p.Number(cmp.Or(b.Forecast.ShownRange(), b.Forecast.Shown())),
		Bar: figures.BarBeside(b.Forecast, b.Actual), Mark: figures.Mark{Word: p.Line("page.outside"), Shape: markOutside}}
	v.Name = v.Actual.Name
	if b.Inside {
		v.Mark = figures.Mark{Word: p.Line("learn.inside"), Shape: markInside}
	}
	return v
}

// Compare holds a run against what the records before it foretold. It never
// waits for long: what is not reckoned yet is told of, and the page at back
// asks again.
func Compare(s *site.Site, w http.ResponseWriter, r *http.Request, st *shop.State, id shop.RecordID, back string) *ComparedView {
	j := s.Slow.Ask("comparison", fmt.Sprintf("%d|%d", st.Newest().ID, id), func() (any, error) { return plan.Compare(st, id) })
	if s.Slow.Within(r, s.Ending, j, site.PageWait/3) != waiting.There {
		bar := s.Reckoning(desk.Speaks(r, st).Line("page.compare_waiting"), j)
		w.Header().Set("Refresh", "1; url="+back)
		return &ComparedView{Bar: &bar}
	}
	if j.Err != nil {
		say, hint := forms.Said(desk.Speaks(r, st), j.Err)
		return &ComparedView{Say: strings.TrimSpace(say + " " + hint)}
	}
	return viewCompared(desk.Speaks(r, st), j.Value.(plan.Compared))
}

func viewCompared(p *say.Printer, c plan.Compared) *ComparedView {
	v := &ComparedView{}
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

// JustGround is the run that was written down a moment ago, as the address says.
func JustGround(d *desk.Desk) (shop.RecordID, bool) {
	id, err := strconv.ParseInt(d.Query("done"), 10, 64)
	if err != nil {
		return 0, false
	}
	r, ok := d.State.Record(shop.RecordID(id))
	if !ok {
		return 0, false
	}
	_, ground := r.Body.(*shop.Ground)
	return r.ID, ground
}
