package web

import (
	"fmt"
	"net/http"
	"time"
)

// stillHere is how often a silent line is kept awake, so that proxies and phones do
// not close it, and so that a page notices when it is cut off.
const stillHere = 25 * time.Second

// live tells an open page of new records, as server-sent events. The event
// carries only the newest record's number: the page fetches itself anew, so a
// missed event loses nothing.
func (s *server) live(w http.ResponseWriter, r *http.Request) {
	out := http.NewResponseController(w)
	events, end := s.store.Subscribe()
	defer end()
	h := w.Header()
	h.Set("Content-Type", "text/event-stream")
	h.Set("Cache-Control", "no-store")
	h.Set("X-Accel-Buffering", "no")
	say := func(id int64) bool {
		_, err := fmt.Fprintf(w, "event: record\ndata: %d\n\n", id)
		return err == nil && out.Flush() == nil
	}
	if !say(int64(s.store.State().Newest().ID)) {
		return
	}
	tick := time.NewTicker(stillHere)
	defer tick.Stop()
	for {
		select {
		case <-r.Context().Done():
			return
		case <-s.ending:
			return
		case e, open := <-events:
			if !open || !s.letIn(r) || !say(int64(e.Newest)) {
				return
			}
		case <-tick.C:
			if !s.letIn(r) {
				return
			}
			if _, err := fmt.Fprint(w, "event: here\ndata: 0\n\n"); err != nil || out.Flush() != nil {
				return
			}
		}
	}
}

// letIn says whether a request may still be answered: its session may have been
// ended while a page listens.
func (s *server) letIn(r *http.Request) bool {
	if any, err := s.store.HasAccounts(r.Context()); any || err != nil {
		_, in, err := s.sessionOf(r)
		return in && err == nil
	}
	if s.gate == nil {
		return true
	}
	_, in := s.gate.Sessions.Of(r)
	return in
}
