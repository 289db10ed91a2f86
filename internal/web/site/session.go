package site

import (
	"context"
	"net/http"

	"hopperful/internal/account"
	"hopperful/internal/web/door"
)

// SessionKey is the key of a request's session of an account.
type SessionKey struct{}

// SessionIn is the session of an account that a request belongs to.
func SessionIn(ctx context.Context) (account.Session, bool) {
	own, ok := ctx.Value(SessionKey{}).(account.Session)
	return own, ok
}

// WhoseAnswer is the account an answer is for, and what that may do: a page says whose
// it is, and shows what may be written.
func WhoseAnswer(r *http.Request) string {
	own, in := SessionIn(r.Context())
	if !in {
		return ""
	}
	return own.Account + "|" + string(own.Role)
}

// SessionOf looks the request's session up.
func (s *Site) SessionOf(r *http.Request) (account.Session, bool, error) {
	c, err := r.Cookie(door.CookieName(r))
	if err != nil {
		return account.Session{}, false, nil
	}
	own, ok, err := s.Store.SessionOf(r.Context(), s.Now(), c.Value, door.AddressOf(r).Addr().String())
	return own, ok && own.Program == "", err
}

// LetIn says whether a request may still be answered: its session may have been
// ended while a page listens.
func (s *Site) LetIn(r *http.Request) bool {
	if any, err := s.Store.HasAccounts(r.Context()); any || err != nil {
		_, in, err := s.SessionOf(r)
		return in && err == nil
	}
	if s.Gate == nil {
		return true
	}
	_, in := s.Gate.Sessions.Of(r)
	return in
}
