package mills

import (
	"fmt"
	"net/http"
	"strconv"
	"time"

	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
	"hopperful/internal/web/waiting"
	"hopperful/plan/campaign"
	"hopperful/shop"
)

// The page of a campaign, for the phone beside the mill. It is drawn from the
// records alone, so that it is there at once; the plan of the rest is reckoned
// beside it and shown when it is there. run.js runs the clock, keeps what is typed
// on the device, and sends it when the network lets it.

// ShowRuns leads to the campaign that goes on, or lists several.
func ShowRuns(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	if open := d.State.Campaigning(); len(open) == 1 {
		http.Redirect(w, r, address.Run(open[0].ID), http.StatusSeeOther)
		return
	}
	s.Render(w, r, http.StatusOK, "runs", site.View{Title: d.Say.Line("page.run_title"), Place: "now", Body: figures.Laid(d.Say, campaign.Now(d.State, d.Now))})
}

// campaignOf reads which campaign an address names.
func campaignOf(s *site.Site, w http.ResponseWriter, r *http.Request, d *desk.Desk) (shop.Campaign, bool) {
	id, err := strconv.ParseInt(r.PathValue("campaign"), 10, 64)
	c, ok := d.State.Campaign(shop.RecordID(id))
	if err != nil || !ok {
		s.Fail(w, r, site.Fault{Status: http.StatusNotFound, Say: d.Say.Line("page.run_none"), Hint: d.Say.Line("page.run_none_do")})
	}
	return c.On(saidAt(r, d.Now)), err == nil && ok
}

// rest asks for the plan of a campaign's rest; one that is under way or over needs
// none. It hangs on the records alone, so every device is shown the same.
func rest(s *site.Site, d *desk.Desk, c shop.Campaign) *waiting.Job {
	if c.Stage == shop.RunStage || c.Stage == shop.NoteStage || !c.Open() && c.Done() == 0 {
		return nil
	}
	st, now := d.State, d.Now
	key := fmt.Sprintf("%d|%d|%d", st.Newest().ID, c.ID, now.Unix()/3600)
	return s.Slow.Ask("campaign", key, func() (any, error) { return campaign.Plan(st, c.ID, now) })
}

// quickly is how long a page waits for a plan before it is shown without.
const quickly = 300 * time.Millisecond

// ahead is the plan of the rest, nil while it is reckoned; planning says that.
func ahead(s *site.Site, r *http.Request, d *desk.Desk, c shop.Campaign, wait time.Duration) (a *campaign.Ahead, planning bool) {
	j := rest(s, d, c)
	if j == nil {
		return nil, false
	}
	if s.Slow.Within(r, s.Ending, j, wait) != waiting.There {
		return nil, true
	}
	if j.Err != nil {
		s.Log.Info("no plan of a campaign's rest", "campaign", c.ID, "error", j.Err)
	}
	a, _ = j.Value.(*campaign.Ahead)
	return a, false
}

// ShowRun is the page of a campaign, for the phone beside the mill.
func ShowRun(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	c, ok := campaignOf(s, w, r, d)
	if !ok {
		return
	}
	if desk.WantsJSON(r) {
		a, _ := ahead(s, r, d, c, site.ProgramWait)
		doc, err := campaign.Of(d.State, c.ID, d.Now, a)
		if err != nil {
			s.FailWith(w, r, err)
			return
		}
		site.WriteJSON(w, http.StatusOK, d.Say.Document(doc))
		return
	}
	drawRun(s, w, r, d, http.StatusOK, c, nil)
}

// drawRun draws the page; in is what was typed of a charge and refused.
func drawRun(s *site.Site, w http.ResponseWriter, r *http.Request, d *desk.Desk, status int, c shop.Campaign, in *forms.Input) {
	a, planning := ahead(s, r, d, c, quickly)
	doc, err := campaign.Of(d.State, c.ID, d.Now, a)
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	ran := ranOf(s, d, c)
	v := viewAtMill(d, c, a, figures.Laid(d.Say, doc), in, ran)
	v.Live, v.Ran = liveOf(s, d, c.Mill), ranSays(d, ran)
	v.Planning = planning
	s.Render(w, r, status, "run", site.View{Title: d.Say.Line("page.run_title"), Place: "now", Body: v})
}

// ShowClock tells the server's time, so that every device counts the same second.
func ShowClock(s *site.Site, w http.ResponseWriter, _ *http.Request) {
	site.WriteJSON(w, http.StatusOK, struct {
		Now int64 `json:"now"` // ms
	}{s.Now().UnixMilli()})
}
