package web

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"strings"

	"hopperful/fact"
	"hopperful/internal/account"
	"hopperful/internal/store"
	"hopperful/shop"
)

// fault is an answer that is not the page asked for: what happened and what to
// do about it.
type fault struct {
	Status int    `json:"-"`
	Say    string `json:"error"`
	Hint   string `json:"hint,omitempty"`
}

// tooLarge answers a form beyond its bound.
var tooLarge = fault{http.StatusRequestEntityTooLarge, "form.that_is_more_than_this", "form.send_less_text_at_most"}

// fail shows a fault as a page, or as JSON to a program.
func (s *server) fail(w http.ResponseWriter, r *http.Request, f fault) {
	p := speaks(r, s.store.State())
	f.Say, f.Hint = p.Word(f.Say), p.Word(f.Hint)
	if forPrograms(r) {
		refuse(w, f.Status, Refusal{Say: f.Say, Hint: f.Hint, Code: faultCode(f.Status)})
		return
	}
	if wantsJSON(r) {
		writeJSON(w, f.Status, f)
		return
	}
	s.render(w, r, f.Status, "fault", view{Title: f.Say, Body: f})
}

// failWith shows any error: the shop's refusals in their own words, all else as
// a failure with the details in the log only.
func (s *server) failWith(w http.ResponseWriter, r *http.Request, err error) {
	if forPrograms(r) && !errors.Is(err, context.Canceled) && !errors.Is(err, context.DeadlineExceeded) {
		s.apiFail(w, r, err)
		return
	}
	var refused *shop.Error
	var kept *store.Error
	var barred *account.Refused
	p := speaks(r, s.store.State())
	if errors.As(err, &barred) {
		s.fail(w, r, fault{http.StatusForbidden, p.Say(barred.What), p.Say(barred.Advice)})
		return
	}
	if errors.As(err, &kept) {
		s.log.Error("the shop's file", "path", r.URL.Path, "error", err)
		s.fail(w, r, fault{http.StatusServiceUnavailable, p.Say(kept.What), strings.TrimSpace(p.Line("form.nothing_was_written", fact.Parts("hint", kept.Advice)))})
		return
	}
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		s.fail(w, r, fault{http.StatusServiceUnavailable, "form.hopperful_is_being_stopped", "form.nothing_was_written_send_it"})
		return
	}
	if !errors.As(err, &refused) {
		s.log.Error("a request failed", "path", r.URL.Path, "error", err)
		s.fail(w, r, fault{http.StatusInternalServerError, "form.something_in_hopperful_failed",
			"form.what_was_recorded_before_is"})
		return
	}
	what, advice := p.Refusal(refused)
	s.fail(w, r, fault{statusOf(refused.Code), what, advice})
}

// faultCode is the code that a program is told with a status.
func faultCode(status int) string {
	switch status {
	case http.StatusNotFound:
		return string(shop.NotFound)
	case http.StatusConflict:
		return string(shop.Conflict)
	case http.StatusUnprocessableEntity:
		return string(shop.Invalid)
	case http.StatusServiceUnavailable, http.StatusTooManyRequests:
		return "later"
	}
	return "failed"
}

func statusOf(c shop.Code) int {
	switch c {
	case shop.NotFound:
		return http.StatusNotFound
	case shop.Conflict:
		return http.StatusConflict
	}
	return http.StatusUnprocessableEntity
}

func (s *server) showMissing(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		s.fail(w, r, fault{http.StatusMethodNotAllowed, "form.nothing_can_be_sent_to", "form.go_back_to_the_page"})
		return
	}
	s.fail(w, r, fault{http.StatusNotFound, "form.there_is_no_page_at", "form.it_may_have_been_mistyped"})
}

// wantsJSON reports whether the caller is a program that asks for JSON.
func wantsJSON(r *http.Request) bool {
	accept := r.Header.Get("Accept")
	return strings.Contains(accept, "application/json") && !strings.Contains(accept, "text/html")
}

// writeJSON writes one object, indented for people who look at it.
func writeJSON(w http.ResponseWriter, status int, v any) {
	text, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		http.Error(w, `{"error":"the answer could not be written as JSON"}`, http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	w.Write(append(text, '\n'))
}
