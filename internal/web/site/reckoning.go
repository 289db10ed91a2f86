package site

import (
	"fmt"
	"net/http"
	"strconv"
	"time"

	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/door"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/waiting"
	"hopperful/plan"
	"hopperful/plan/blend"
	"hopperful/plan/fit"
	"hopperful/quantity"
	"hopperful/shop"
)

// How long an answer waits for what has to be reckoned: a person is told what
// goes on after less than a second, a program is not.
const (
	PageWait    = 900 * time.Millisecond
	ProgramWait = 5 * time.Minute
)

// ReckoningView is shown while something is reckoned.
type ReckoningView struct {
	What           string // "Reckoning the plan for four planter feet."
	Gone, Usual    string
	Value, Longest float64      // of the bar [s]; no end known when Longest is 0
	Else           address.Link // where to go meanwhile
}

// Reckoning is the bar of a job under way.
func (s *Site) Reckoning(what string, j *waiting.Job) ReckoningView {
	gone, usual := time.Since(j.Start), s.Slow.Usual(j.Kind)
	v := ReckoningView{What: what, Gone: quantity.Duration.Rough(gone.Seconds()), Value: gone.Seconds()}
	if usual > gone {
		v.Usual, v.Longest = quantity.Duration.Rough(usual.Seconds()), usual.Seconds()
	}
	return v
}

// Await waits for a job as long as its reader would. When that is not enough it
// answers by itself, with a page that asks again, and returns false.
func (s *Site) Await(w http.ResponseWriter, r *http.Request, j *waiting.Job, what string, back View) bool {
	wait := PageWait
	if desk.WantsJSON(r) {
		wait = ProgramWait
	}
	got := s.Slow.Within(r, s.Ending, j, wait)
	if got == waiting.There {
		return true
	}
	if desk.WantsJSON(r) {
		s.NotReckoned(w, r, got)
		return false
	}
	v := s.Reckoning(what, j)
	v.Else = *PlaceLink(back.Place)
	w.Header().Set("Refresh", "1")
	back.Title, back.Body = what, v
	s.Render(w, r, http.StatusOK, "reckoning", back)
	return false
}

// AwaitAsked waits for what an address asks with a sheet. What cannot be read and
// what the sheet can show refused are left to the page, with nothing found; all
// else, and every program, it answers by itself, and returns false.
func AwaitAsked[T any](s *Site, w http.ResponseWriter, r *http.Request, a forms.Asked, begin func() *waiting.Job, what string, back View) (T, bool) {
	var found T
	if desk.WantsJSON(r) && s.Unreadable(w, r, a) {
		return found, false
	}
	if len(a.In.Wrong) > 0 {
		return found, true
	}
	j := begin()
	if !s.Await(w, r, j, what, back) {
		return found, false
	}
	found, _ = j.Value.(T)
	switch {
	case j.Err != nil && (desk.WantsJSON(r) || !a.Refused(j.Err)):
		s.FailWith(w, r, j.Err)
		return found, false
	case desk.WantsJSON(r):
		WriteJSON(w, http.StatusOK, s.worded(r, found))
		return found, false
	}
	return found, true
}

// worded is what a program gets of an answer: a document in words, all else as it is.
func (s *Site) worded(r *http.Request, found any) any {
	p := desk.Speaks(r, s.Store.State())
	switch f := found.(type) {
	case fit.Fitness:
		return p.Document(f.Document)
	case blend.Blending:
		return p.Document(f.Document())
	case fit.Drying:
		return p.Document(f.Document)
	}
	return found
}

// tooLong answers a program that has waited in vain.
var tooLong = Fault{http.StatusServiceUnavailable, "form.reckoned_too_long", "form.reckoned_too_long_advice"}

// tooMuch answers a program for whose question there is no place.
var tooMuch = Fault{http.StatusTooManyRequests, "form.too_much_reckoned", "form.too_much_reckoned_advice"}

// NotReckoned answers a program whose question was not answered in time.
func (s *Site) NotReckoned(w http.ResponseWriter, r *http.Request, got waiting.Waited) {
	w.Header().Set("Retry-After", strconv.Itoa(door.ComeBack))
	if got == waiting.NoPlace {
		s.Fail(w, r, tooMuch)
		return
	}
	s.Fail(w, r, tooLong)
}

// AskPlan begins to reckon a plan, or finds it reckoned.
func (s *Site) AskPlan(st *shop.State, req plan.Request) *waiting.Job {
	key := fmt.Sprintf("%d|%s|%s|%s|%q|%s|%d", st.Newest().ID, req.Need.Name, req.Polymer, req.Colour, req.Lots, req.Mill, req.By.Unix())
	for _, n := range req.Also {
		key += "|" + n.Name
	}
	return s.Slow.Ask("plan", key, func() (any, error) { return plan.Grind(st, req) })
}
