package site

import (
	"errors"
	"net/http"
	"strings"

	"hopperful/fact"
	"hopperful/internal/account"
	"hopperful/internal/store"
	"hopperful/internal/web/desk"
	"hopperful/shop"
)

// Refusal is why a request to the API was refused.
type Refusal struct {
	Say   string `json:"say"`
	Hint  string `json:"hint,omitempty"`
	Field string `json:"field,omitempty"` // of the record's body
	Code  string `json:"code"`
	What  string `json:"what,omitempty"` // the code of what is wrong
}

// RefusedAnswer is the answer to a request that was refused.
type RefusedAnswer struct {
	Error Refusal `json:"error"`
}

// APIRoot begins every address for programs.
const APIRoot = "/api/"

// refuse answers a program.
func refuse(w http.ResponseWriter, status int, why Refusal) {
	WriteJSON(w, status, RefusedAnswer{why})
}

// RefuseProgram answers with a refusal of the API's own, in the language asked for.
func (s *Site) RefuseProgram(w http.ResponseWriter, r *http.Request, status int, code string, what, advice fact.Saying) {
	p := desk.Speaks(r, s.Store.State())
	refuse(w, status, Refusal{Say: p.Say(what), Hint: p.Say(advice), Code: code, What: what.Code})
}

// FailProgram answers with an error: the shop's refusals in their own words, all else
// as a failure with the details in the log only.
func (s *Site) FailProgram(w http.ResponseWriter, r *http.Request, err error) {
	var refused *shop.Error
	var kept *store.Error
	var barred *account.Refused
	p := desk.Speaks(r, s.Store.State())
	switch {
	case errors.As(err, &barred):
		refuse(w, http.StatusForbidden, Refusal{Say: p.Say(barred.What), Hint: p.Say(barred.Advice), Code: "not_allowed"})
	case errors.As(err, &refused):
		what, advice := p.Refusal(refused)
		refuse(w, StatusOf(refused.Code), Refusal{Say: what, Hint: advice, Field: refused.Field, Code: string(refused.Code), What: refused.What.Code})
	case errors.As(err, &kept):
		s.Log.Error("the shop's file", "path", r.URL.Path, "error", err)
		refuse(w, http.StatusServiceUnavailable, Refusal{Say: p.Say(kept.What), Hint: p.Say(kept.Advice), Code: string(kept.Code)})
	default:
		s.Log.Error("a request failed", "path", r.URL.Path, "error", err)
		refuse(w, http.StatusInternalServerError, Refusal{Say: p.Line("form.something_in_hopperful_failed"), Hint: p.Line("api.log_says_more"), Code: "failed"})
	}
}

// ForPrograms reports whether a request is one of the API's.
func ForPrograms(r *http.Request) bool { return strings.HasPrefix(r.URL.Path, APIRoot) }
