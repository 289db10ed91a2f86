package web

import (
	"crypto/rand"
	"fmt"
	"net/http"
	"strconv"
	"time"

	"hopperful/plan/campaign"
	"hopperful/shop"
)

// The page of a campaign, for the phone beside the mill. It is drawn from the
// records alone, so that it is there at once; the plan of the rest is reckoned
// beside it and shown when it is there. run.js runs the clock, keeps what is typed
// on the device, and sends it when the network lets it.

// showRuns leads to the campaign that goes on, or lists several.
func (s *server) showRuns(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	if open := d.state.Campaigning(); len(open) == 1 {
		http.Redirect(w, r, runPath(open[0].ID), http.StatusSeeOther)
		return
	}
	s.render(w, r, http.StatusOK, "runs", view{Title: d.say.Line("page.run_title"), Place: "now", Body: viewDocument(d.say, campaign.Now(d.state, d.now))})
}

func runPath(id shop.RecordID) string { return "/run/" + toString(id) }

// campaignOf reads which campaign an address names.
func (s *server) campaignOf(w http.ResponseWriter, r *http.Request, d *desk) (shop.Campaign, bool) {
	id, err := strconv.ParseInt(r.PathValue("campaign"), 10, 64)
	c, ok := d.state.Campaign(shop.RecordID(id))
	if err != nil || !ok {
		s.fail(w, r, fault{http.StatusNotFound, d.say.Line("page.run_none"), d.say.Line("page.run_none_do")})
	}
	return c.On(saidAt(r, d.now)), err == nil && ok
}

// rest asks for the plan of a campaign's rest; one that is under way or over needs
// none. It hangs on the records alone, so every device is shown the same.
func (s *server) rest(d *desk, c shop.Campaign) *job {
	if c.Stage == shop.RunStage || c.Stage == shop.NoteStage || !c.Open() && c.Done() == 0 {
		return nil
	}
	st, now := d.state, d.now
	key := fmt.Sprintf("%d|%d|%d", st.Newest().ID, c.ID, now.Unix()/3600)
	return s.slow.ask("campaign", key, func() (any, error) { return campaign.Plan(st, c.ID, now) })
}

// quickly is how long a page waits for a plan before it is shown without.
const quickly = 300 * time.Millisecond

// ahead is the plan of the rest, nil while it is reckoned; planning says that.
func (s *server) ahead(r *http.Request, d *desk, c shop.Campaign, wait time.Duration) (a *campaign.Ahead, planning bool) {
	j := s.rest(d, c)
	if j == nil {
		return nil, false
	}
	if s.slow.within(r, s.ending, j, wait) != there {
		return nil, true
	}
	if j.err != nil {
		s.log.Info("no plan of a campaign's rest", "campaign", c.ID, "error", j.err)
	}
	a, _ = j.value.(*campaign.Ahead)
	return a, false
}

func (s *server) showRun(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	c, ok := s.campaignOf(w, r, d)
	if !ok {
		return
	}
	if wantsJSON(r) {
		a, _ := s.ahead(r, d, c, programWait)
		doc, err := campaign.Of(d.state, c.ID, d.now, a)
		if err != nil {
			s.failWith(w, r, err)
			return
		}
		writeJSON(w, http.StatusOK, d.say.Document(doc))
		return
	}
	s.drawRun(w, r, d, http.StatusOK, c, nil)
}

// drawRun draws the page; in is what was typed of a charge and refused.
func (s *server) drawRun(w http.ResponseWriter, r *http.Request, d *desk, status int, c shop.Campaign, in *input) {
	a, planning := s.ahead(r, d, c, quickly)
	doc, err := campaign.Of(d.state, c.ID, d.now, a)
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	ran := s.ranOf(d, c)
	v := d.viewAtMill(c, a, viewDocument(d.say, doc), in, ran)
	v.Live, v.Ran = s.liveOf(d, c.Mill), d.ranSays(ran)
	v.Planning = planning
	s.render(w, r, status, "run", view{Title: d.say.Line("page.run_title"), Place: "now", Body: v})
}

// showClock tells the server's time, so that every device counts the same second.
func (s *server) showClock(w http.ResponseWriter, _ *http.Request) {
	writeJSON(w, http.StatusOK, struct {
		Now int64 `json:"now"` // ms
	}{s.now().UnixMilli()})
}

// newKey is a key for one touch of one page.
func newKey() string { return rand.Text() }
