package web

import (
	"errors"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"hopperful/fact"
	"hopperful/plan"
	"hopperful/plan/campaign"
	"hopperful/shop"
)

// repeatedAlready reports that what was sent was written the first time.
func repeatedAlready(err error) bool {
	var refused *shop.Error
	return errors.As(err, &refused) && refused.Code == shop.Repeated
}

// postRun begins the campaign that a plan's page shows, for its print and those
// ticked beside it.
func (s *server) postRun(w http.ResponseWriter, r *http.Request) {
	if !readForm(w, r) {
		s.fail(w, r, tooLarge)
		return
	}
	d := s.desk(r)
	key := r.PostForm.Get("key")
	if was, sent := d.state.Keyed(key); sent {
		http.Redirect(w, r, runPath(was.ID), http.StatusSeeOther)
		return
	}
	req, err := d.wantedRun(r)
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	j := s.askPlan(d.state, req)
	if got := s.slow.within(r, s.ending, j, programWait); got != there {
		s.notReckoned(w, r, got)
		return
	}
	g, _ := j.value.(plan.Grinding)
	var b *shop.CampaignBegun
	if err = j.err; err == nil {
		b, err = campaign.Begin(g, req, key)
	}
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	kept, err := s.store.Append(r.Context(), s.now(), shop.Record{Body: b})
	switch {
	case repeatedAlready(err):
		http.Redirect(w, r, "/run", http.StatusSeeOther)
	case err != nil:
		s.failWith(w, r, err)
	default:
		s.follow(w, r, runPath(kept[0].ID), kept[0].ID)
	}
}

// wantedRun reads what a campaign is begun for.
func (d *desk) wantedRun(r *http.Request) (plan.Request, error) {
	f := r.PostForm
	req := plan.Request{Polymer: known(d, f.Get("polymer")), Colour: strings.TrimSpace(f.Get("colour")), Mill: f.Get("mill"), Now: d.now.Truncate(time.Minute), Moved: true}
	for _, l := range f["lot"] {
		id, err := shop.ParseLot(l)
		if err != nil {
			return req, err
		}
		req.Lots = append(req.Lots, id)
	}
	for i, name := range slices.Concat(f["need"], f["also"]) {
		n, ok := d.state.Need(name)
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

// postMark writes down one touch. One that no longer fits, since another device
// said it first, is answered with where the campaign stands.
func (s *server) postMark(w http.ResponseWriter, r *http.Request) {
	if !readForm(w, r) {
		s.fail(w, r, tooLarge)
		return
	}
	d := s.desk(r)
	c, ok := s.campaignOf(w, r, d)
	if !ok {
		return
	}
	b := &shop.CampaignMarked{Campaign: c.ID, What: shop.Mark(r.PostForm.Get("what")), Key: r.PostForm.Get("key")}
	for _, item := range r.PostForm["ticked"] {
		b.Ticked = append(b.Ticked, shop.SheetItem(item))
	}
	if err := campaign.Fits(c, b.What); err != nil {
		if wantsJSON(r) {
			s.failWith(w, r, err)
			return
		}
		http.Redirect(w, r, runPath(c.ID), http.StatusSeeOther)
		return
	}
	if b.What == shop.RunStarted {
		a, _ := s.ahead(r, d, c, quickly)
		cycle := campaign.Charge(c, a)
		b.Cycle = &cycle
	}
	_, err := s.store.Append(r.Context(), s.now(), shop.Record{At: saidAt(r, d.now), Body: b})
	if err != nil && !repeatedAlready(err) {
		s.failWith(w, r, err)
		return
	}
	http.Redirect(w, r, runPath(c.ID), http.StatusSeeOther)
}

// postCharge writes down the charge that ran. What was typed on a device for a
// charge that another has written down meanwhile is shown again, not written twice.
func (s *server) postCharge(w http.ResponseWriter, r *http.Request) {
	if !readForm(w, r) {
		s.fail(w, r, tooLarge)
		return
	}
	d := s.desk(r)
	c, ok := s.campaignOf(w, r, d)
	if !ok {
		return
	}
	key := r.PostForm.Get("key")
	if _, sent := d.state.Keyed(key); sent {
		http.Redirect(w, r, runPath(c.ID), http.StatusSeeOther)
		return
	}
	in := newInput(d.say, r.PostForm)
	k, err := strconv.Atoi(r.PostForm.Get("k"))
	switch {
	case !c.Open():
		in.refuse("", d.say.Line("page.run_over"), d.say.Line("page.run_none_do"))
	case err == nil && k <= c.Done() && k > 0:
		in.refuse("", d.say.Line("page.run_written_already"), d.say.Line("page.run_correct_it"))
	}
	if len(in.Wrong) > 0 {
		s.drawRun(w, r, d, http.StatusConflict, c, in)
		return
	}
	sh := d.runSheet(c)
	filled := filledFrom(d.state, c, s.ranOf(d, c))
	body := in.read(sh, filled)
	if len(in.Wrong) > 0 {
		s.drawRun(w, r, d, http.StatusUnprocessableEntity, c, in)
		return
	}
	at := c.Stopped
	if c.Stage != shop.NoteStage {
		at = saidAt(r, d.now)
	}
	mark := shop.Record{At: d.now, Body: &shop.CampaignMarked{Campaign: c.ID, What: shop.ChargeNoted, Key: key}}
	_, err = s.store.Append(r.Context(), s.now(), shop.Record{At: at, Note: in.typed("note"), Body: body}, mark)
	switch {
	case err != nil && repeatedAlready(err):
	case err != nil && in.refused(err):
		s.drawRun(w, r, d, http.StatusUnprocessableEntity, c, in)
		return
	case err != nil:
		s.failWith(w, r, err)
		return
	}
	http.Redirect(w, r, runPath(c.ID), http.StatusSeeOther)
}
