package site

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"strings"

	"hopperful/fact"
	"hopperful/internal/account"
	"hopperful/internal/store"
	"hopperful/internal/web/desk"
	"hopperful/shop"
)

// Fault is an answer that is not the page asked for: what happened and what to
// do about it.
type Fault struct {
	Status int    `json:"-"`
	Say    string `json:"error"`
	Hint   string `json:"hint,omitempty"`
}

// TooLarge answers a form beyond its bound.
var TooLarge = Fault{http.StatusRequestEntityTooLarge, "form.form_too_long", "form.form_too_long_advice"}

// Fail shows a fault as a page, or as JSON to a program.
func (s *Site) Fail(w http.ResponseWriter, r *http.Request, f Fault) {
	p := desk.Speaks(r, s.Store.State())
	f.Say, f.Hint = p.Word(f.Say), p.Word(f.Hint)
	if ForPrograms(r) {
		refuse(w, f.Status, Refusal{Say: f.Say, Hint: f.Hint, Code: faultCode(f.Status)})
		return
	}
	if desk.WantsJSON(r) {
		WriteJSON(w, f.Status, f)
		return
	}
	s.Render(w, r, f.Status, "fault", View{Title: f.Say, Body: f})
}

// FailWith shows any error: the shop's refusals in their own words, all else as
// a failure with the details in the log only.
func (s *Site) FailWith(w http.ResponseWriter, r *http.Request, err error) {
	if ForPrograms(r) && !errors.Is(err, context.Canceled) && !errors.Is(err, context.DeadlineExceeded) {
		s.FailProgram(w, r, err)
		return
	}
	var refused *shop.Error
	var kept *store.Error
	var barred *account.Refused
	p := desk.Speaks(r, s.Store.State())
	if errors.As(err, &barred) {
		s.Fail(w, r, Fault{http.StatusForbidden, p.Say(barred.What), p.Say(barred.Advice)})
		return
	}
	if errors.As(err, &kept) {
		s.Log.Error("the shop's file", "path", r.URL.Path, "error", err)
		s.Fail(w, r, Fault{http.StatusServiceUnavailable, p.Say(kept.What), strings.TrimSpace(p.Line("form.nothing_was_written", fact.Parts("hint", kept.Advice)))})
		return
	}
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		s.Fail(w, r, Fault{http.StatusServiceUnavailable, "form.hopperful_is_being_stopped", "form.stopping_advice"})
		return
	}
	if !errors.As(err, &refused) {
		s.Log.Error("a request failed", "path", r.URL.Path, "error", err)
		s.Fail(w, r, Fault{http.StatusInternalServerError, "form.something_in_hopperful_failed",
			"form.program_fault_advice"})
		return
	}
	what, advice := p.Refusal(refused)
	s.Fail(w, r, Fault{StatusOf(refused.Code), what, advice})
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

// StatusOf is the status a refusal of the shop is answered with.
func StatusOf(c shop.Code) int {
	switch c {
	case shop.NotFound:
		return http.StatusNotFound
	case shop.Conflict:
		return http.StatusConflict
	}
	return http.StatusUnprocessableEntity
}

// ShowMissing answers an address that is none of ours.
func (s *Site) ShowMissing(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		s.Fail(w, r, Fault{http.StatusMethodNotAllowed, "form.address_takes_nothing", "form.page_back_advice"})
		return
	}
	s.Fail(w, r, Fault{http.StatusNotFound, "form.no_page", "form.no_page_advice"})
}

// WriteJSON writes one object, indented for people who look at it.
func WriteJSON(w http.ResponseWriter, status int, v any) {
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
