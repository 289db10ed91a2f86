package web

import (
	"fmt"
	"net/http"
	"time"

	"hopperful/plan"
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
	if j.within(r.Context(), wait) {
		return true
	}
	if wantsJSON(r) {
		s.fail(w, r, tooLong)
		return false
	}
	v := s.reckoning(what, j)
	v.Else = *placeLink(back.Place)
	w.Header().Set("Refresh", "1")
	back.Title, back.Body = what, v
	s.render(w, r, http.StatusOK, "reckoning", back)
	return false
}

// tooLong answers a program that has waited in vain.
var tooLong = fault{http.StatusServiceUnavailable, "This takes longer than an answer may.", "Ask again; it is being reckoned."}

// askPlan begins to reckon a plan, or finds it reckoned.
func (s *server) askPlan(st *shop.State, req plan.Request) *job {
	key := fmt.Sprintf("%d|%s|%s|%s|%q|%s|%d", st.Newest().ID, req.Need.Name, req.Polymer, req.Colour, req.Lots, req.Mill, req.By.Unix())
	return s.slow.ask("plan", key, func() (any, error) { return plan.Grind(st, req) })
}
