package mills

import (
	"errors"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/prints"
	"hopperful/internal/web/site"
	"hopperful/internal/web/waiting"
	"hopperful/plan"
	"hopperful/plan/campaign"
	"hopperful/shop"
)

// repeatedAlready reports that what was sent was written the first time.
func repeatedAlready(err error) bool {
	var refused *shop.Error
	return errors.As(err, &refused) && refused.Code == shop.Repeated
}

// PostRun begins the campaign that a plan's page shows, for its print and those
// ticked beside it.
func PostRun(s *site.Site, w http.ResponseWriter, r *http.Request) {
	if !forms.ReadForm(w, r) {
		s.Fail(w, r, site.TooLarge)
		return
	}
	d := s.Desk(r)
	key := r.PostForm.Get("key")
	if was, sent := d.State.Keyed(key); sent {
		http.Redirect(w, r, address.Run(was.ID), http.StatusSeeOther)
		return
	}
	req, err := wantedRun(d, r)
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	j := s.AskPlan(d.State, req)
	if got := s.Slow.Within(r, s.Ending, j, site.ProgramWait); got != waiting.There {
		s.NotReckoned(w, r, got)
		return
	}
	g, _ := j.Value.(plan.Grinding)
	var b *shop.CampaignBegun
	if err = j.Err; err == nil {
		b, err = campaign.Begin(g, req, key)
	}
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	kept, err := s.Store.Append(r.Context(), s.Now(), shop.Record{Body: b})
	switch {
	case repeatedAlready(err):
		http.Redirect(w, r, "/run", http.StatusSeeOther)
	case err != nil:
		s.FailWith(w, r, err)
	default:
		s.Follow(w, r, address.Run(kept[0].ID), kept[0].ID)
	}
}

// wantedRun reads what a campaign is begun for.
func wantedRun(d *desk.Desk, r *http.Request) (plan.Request, error) {
	f := r.PostForm
	req := plan.Request{Polymer: prints.Known(d, f.Get("polymer")), Colour: strings.TrimSpace(f.Get("colour")), Mill: f.Get("mill"), Now: d.Now, Moved: true}
	for _, l := range f["lot"] {
		id, err := shop.ParseLot(l)
		if err != nil {
			return req, err
		}
		req.Lots = append(req.Lots, id)
	}
	for i, name := range slices.Concat(f["need"], f["also"]) {
		n, ok := d.State.Need(name)
		switch {
		case !ok:
			return req, &shop.Error{Code: shop.NotFound, Field: "need", What: fact.Say("page.no_need", fact.Name("need", name)), Advice: fact.Say("page.needs_list")}
		case i == 0:
			req.Need = n
		default:
			req.Also = append(req.Also, n)
		}
	}
	return req, nil
}

// oldest is how long after it happened a touch kept on a device may still say when
// it was: later its clock says nothing.
const oldest = 24 * time.Hour

// saidAt is when a touch happened, by the server's clock as the device has it; now
// where it does not say.
func saidAt(r *http.Request, now time.Time) time.Time {
	ms, err := strconv.ParseInt(r.PostForm.Get("at"), 10, 64)
	at := time.UnixMilli(ms).In(now.Location())
	if err != nil || at.After(now) || now.Sub(at) > oldest {
		return now
	}
	return at
}

// sentTo reads a form sent to a campaign, and finds it.
func sentTo(s *site.Site, w http.ResponseWriter, r *http.Request) (d *desk.Desk, c shop.Campaign, ok bool) {
	if !forms.ReadForm(w, r) {
		s.Fail(w, r, site.TooLarge)
		return nil, c, false
	}
	d = s.Desk(r)
	c, ok = campaignOf(s, w, r, d)
	return d, c, ok
}

// PostMark writes down one touch. One that no longer fits, since another device
// said it first, is answered with where the campaign stands.
func PostMark(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d, c, ok := sentTo(s, w, r)
	if !ok {
		return
	}
	b := &shop.CampaignMarked{Campaign: c.ID, What: shop.Mark(r.PostForm.Get("what")), Key: r.PostForm.Get("key")}
	for _, item := range r.PostForm["ticked"] {
		b.Ticked = append(b.Ticked, shop.SheetItem(item))
	}
	if err := campaign.Fits(c, b.What); err != nil {
		if desk.WantsJSON(r) {
			s.FailWith(w, r, err)
			return
		}
		http.Redirect(w, r, address.Run(c.ID), http.StatusSeeOther)
		return
	}
	if b.What == shop.RunStarted {
		a, _ := ahead(s, r, d, c, quickly)
		cycle := campaign.Charge(c, a)
		b.Cycle = &cycle
	}
	_, err := s.Store.Append(r.Context(), s.Now(), shop.Record{At: saidAt(r, d.Now), Body: b})
	if err != nil && !repeatedAlready(err) {
		s.FailWith(w, r, err)
		return
	}
	http.Redirect(w, r, address.Run(c.ID), http.StatusSeeOther)
}

// PostCharge writes down the charge that ran. What was typed on a device for a
// charge that another has written down meanwhile is shown again, not written twice.
func PostCharge(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d, c, ok := sentTo(s, w, r)
	if !ok {
		return
	}
	key := r.PostForm.Get("key")
	if _, sent := d.State.Keyed(key); sent {
		http.Redirect(w, r, address.Run(c.ID), http.StatusSeeOther)
		return
	}
	in := forms.NewInput(d.Say, r.PostForm)
	k, err := strconv.Atoi(r.PostForm.Get("k"))
	switch {
	case !c.Open():
		in.Refuse("", d.Say.Line("page.run_over"), d.Say.Line("page.run_none_do"))
	case err == nil && k <= c.Done() && k > 0:
		in.Refuse("", d.Say.Line("page.run_written_already"), d.Say.Line("page.run_correct_it"))
	}
	if len(in.Wrong) > 0 {
		drawRun(s, w, r, d, http.StatusConflict, c, in)
		return
	}
	sh := runSheet(d, c)
	filled := filledFrom(d.State, c, ranOf(s, d, c))
	body := in.Read(sh, filled)
	if len(in.Wrong) > 0 {
		drawRun(s, w, r, d, http.StatusUnprocessableEntity, c, in)
		return
	}
	at := c.Stopped
	if c.Stage != shop.NoteStage {
		at = saidAt(r, d.Now)
	}
	mark := shop.Record{At: d.Now, Body: &shop.CampaignMarked{Campaign: c.ID, What: shop.ChargeNoted, Key: key}}
	_, err = s.Store.Append(r.Context(), s.Now(), shop.Record{At: at, Note: in.Typed("note"), Body: body}, mark)
	switch {
	case err != nil && repeatedAlready(err):
	case err != nil && in.Refused(err):
		drawRun(s, w, r, d, http.StatusUnprocessableEntity, c, in)
		return
	case err != nil:
		s.FailWith(w, r, err)
		return
	}
	http.Redirect(w, r, address.Run(c.ID), http.StatusSeeOther)
}
