package web

import (
	"fmt"
	"net/http"
	"strconv"
	"time"

	"hopperful/internal/web/door"
	"hopperful/plan"
	"hopperful/plan/blend"
	"hopperful/plan/fit"
	"hopperful/quantity"
	"hopperful/shop"
)

// How long an answer waits for what has to be reckoned: a person is told what
// goes on after less than a second, a program is not.
const (
	pageWait    = 900 * time.Millisecond
	programWait = 5 * time.Minute
)

// reckoningView is shown while something is reckoned.
type reckoningView struct {
	What           string // "Reckoning the plan for four planter feet."
	Gone, Usual    string
	Value, Longest float64 // of the bar [s]; no end known when Longest is 0
	Else           link    // where to go meanwhile
}

// reckoning is the bar of a job under way.
func (s *server) reckoning(what string, j *job) reckoningView {
	gone, usual := time.Since(j.start), s.slow.usual(j.kind)
	v := reckoningView{What: what, Gone: quantity.Duration.Rough(gone.Seconds()), Value: gone.Seconds()}
	if usual > gone {
		v.Usual, v.Longest = quantity.Duration.Rough(usual.Seconds()), usual.Seconds()
	}
	return v
}

// await waits for a job as long as its reader would. When that is not enough it
// answers by itself, with a page that asks again, and returns false.
func (s *server) await(w http.ResponseWriter, r *http.Request, j *job, what string, back view) bool {
	wait := pageWait
	if wantsJSON(r) {
		wait = programWait
	}
	got := s.slow.within(r, s.ending, j, wait)
	if got == there {
		return true
	}
	if wantsJSON(r) {
		s.notReckoned(w, r, got)
		return false
	}
	v := s.reckoning(what, j)
	v.Else = *placeLink(back.Place)
	w.Header().Set("Refresh", "1")
	back.Title, back.Body = what, v
	s.render(w, r, http.StatusOK, "reckoning", back)
	return false
}

// awaitAsked waits for what an address asks with a sheet. What cannot be read and
// what the sheet can show refused are left to the page, with nothing found; all
// else, and every program, it answers by itself, and returns false.
func awaitAsked[T any](s *server, w http.ResponseWriter, r *http.Request, a asked, begin func() *job, what string, back view) (T, bool) {
	var found T
	if wantsJSON(r) && s.unreadable(w, r, a) {
		return found, false
	}
	if len(a.in.Wrong) > 0 {
		return found, true
	}
	j := begin()
	if !s.await(w, r, j, what, back) {
		return found, false
	}
	found, _ = j.value.(T)
	switch {
	case j.err != nil && (wantsJSON(r) || !a.refused(j.err)):
		s.failWith(w, r, j.err)
		return found, false
	case wantsJSON(r):
		writeJSON(w, http.StatusOK, s.worded(r, found))
		return found, false
	}
	return found, true
}

// worded is what a program gets of an answer: a document in words, all else as it is.
func (s *server) worded(r *http.Request, found any) any {
	p := speaks(r, s.store.State())
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
var tooLong = fault{http.StatusServiceUnavailable, "form.this_takes_longer_than_an", "form.ask_again_it_is_being"}

// tooMuch answers a program for whose question there is no place.
var tooMuch = fault{http.StatusTooManyRequests, "form.too_much_is_being_reckoned", "form.ask_again_in_a_while"}

// notReckoned answers a program whose question was not answered in time.
func (s *server) notReckoned(w http.ResponseWriter, r *http.Request, got waited) {
	w.Header().Set("Retry-After", strconv.Itoa(door.ComeBack))
	if got == noPlace {
		s.fail(w, r, tooMuch)
		return
	}
	s.fail(w, r, tooLong)
}

// askPlan begins to reckon a plan, or finds it reckoned.
func (s *server) askPlan(st *shop.State, req plan.Request) *job {
	key := fmt.Sprintf("%d|%s|%s|%s|%q|%s|%d", st.Newest().ID, req.Need.Name, req.Polymer, req.Colour, req.Lots, req.Mill, req.By.Unix())
	for _, n := range req.Also {
		key += "|" + n.Name
	}
	return s.slow.ask("plan", key, func() (any, error) { return plan.Grind(st, req) })
}
