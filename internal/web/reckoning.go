package web

import (
	"net/http"
	"time"

	"hopperful/quantity"
	"hopperful/shop"
)

// How long an answer waits for its plan: a person is told what goes on after
// less than a second, a program is not.
const (
	pageWait    = 900 * time.Millisecond
	programWait = 5 * time.Minute
)

// reckoningView is shown while a plan is under way.
type reckoningView struct {
	Need           string
	Gone, Usual    string
	Value, Longest float64 // of the bar [s]; no end known when Longest is 0
}

// showReckoning says that a plan is under way and asks again by itself.
func (s *server) showReckoning(w http.ResponseWriter, r *http.Request, need shop.Need, j *planJob) {
	if wantsJSON(r) {
		s.fail(w, r, fault{http.StatusServiceUnavailable, "The plan takes longer than this answer may.", "Ask again; it is being reckoned."})
		return
	}
	gone, usual := time.Since(j.start), s.plans.usual()
	v := reckoningView{Need: need.Name, Gone: quantity.Duration.Rough(gone.Seconds()), Value: gone.Seconds()}
	if usual > gone {
		v.Usual, v.Longest = quantity.Duration.Rough(usual.Seconds()), usual.Seconds()
	}
	w.Header().Set("Refresh", "1")
	s.render(w, r, http.StatusOK, "reckoning", view{Title: "Reckoning " + need.Name, Place: "plan", Crumb: &link{"/plan", "Plan"}, Body: v})
}
