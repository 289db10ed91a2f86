package site

import (
	"fmt"
	"net/http"
	"time"
)

// StillHere is how often a silent line is kept awake, so that proxies and phones do
// not close it, and so that a page notices when it is cut off.
const StillHere = 25 * time.Second

// Live tells an open page of new records, as server-sent events. The event
// carries only the newest record's number: the page fetches itself anew, so a
// missed event loses nothing.
func Live(s *Site, w http.ResponseWriter, r *http.Request) {
	out := http.NewResponseController(w)
	events, end := s.Store.Subscribe()
	defer end()
	h := w.Header()
	h.Set("Content-Type", "text/event-stream")
	h.Set("Cache-Control", "no-store")
	h.Set("X-Accel-Buffering", "no")
	say := func(id int64) bool {
		_, err := fmt.Fprintf(w, "event: record\ndata: %d\n\n", id)
		return err == nil && out.Flush() == nil
	}
	if !say(int64(s.Store.State().Newest().ID)) {
		return
	}
	tick := time.NewTicker(StillHere)
	defer tick.Stop()
	for {
		select {
		case <-r.Context().Done():
			return
		case <-s.Ending:
			return
		case e, open := <-events:
			if !open || !s.LetIn(r) || !say(int64(e.Newest)) {
				return
			}
		case <-tick.C:
			if !s.LetIn(r) {
				return
			}
			if _, err := fmt.Fprint(w, "event: here\ndata: 0\n\n"); err != nil || out.Flush() != nil {
				return
			}
		}
	}
}
