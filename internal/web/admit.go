package web

import (
	"context"
	"net/http"
	"strings"

	"hopperful/internal/account"
	"hopperful/internal/web/door"
)

// sessionKey is the key of a request's session of an account.
type sessionKey struct{}

// sessionIn is the session of an account that a request belongs to.
func sessionIn(ctx context.Context) (account.Session, bool) {
	own, ok := ctx.Value(sessionKey{}).(account.Session)
	return own, ok
}

// sessionOf looks the request's session up.
func (s *server) sessionOf(r *http.Request) (account.Session, bool, error) {
	c, err := r.Cookie(door.CookieName(r))
	if err != nil {
		return account.Session{}, false, nil
	}
	own, ok, err := s.store.SessionOf(r.Context(), s.now(), c.Value, door.AddressOf(r).Addr().String())
	return own, ok && own.Program == "", err
}

// admitted asks everybody for an account where the shop has accounts, also on this
// computer, and says to all that is asked further on who it is. Else guarded answers.
func (s *server) admitted(next, guarded http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		any, err := s.store.HasAccounts(r.Context())
		if err != nil {
			s.failWith(w, r, err)
			return
		}
		if !any {
			guarded.ServeHTTP(w, r)
			return
		}
		if openToAll(r) {
			next.ServeHTTP(w, r)
			return
		}
		own, in, err := s.sessionOf(r)
		switch {
		case err != nil:
			s.failWith(w, r, err)
		case in:
			ctx := account.As(context.WithValue(r.Context(), sessionKey{}, own), own.Account)
			next.ServeHTTP(w, r.WithContext(ctx))
		default:
			s.askToLogIn(w, r)
		}
	})
}

// loginAccount logs an account in.
func (s *server) loginAccount(w http.ResponseWriter, r *http.Request, next, passphrase string) {
	name := strings.TrimSpace(r.PostForm.Get("name"))
	var err error
	right := s.knock.Opens(r, func() bool {
		var fits bool
		fits, err = s.store.Login(r.Context(), name, passphrase)
		return fits
	})
	if err == nil && !right {
		s.render(w, r, http.StatusUnauthorized, "login", view{Title: "form.log_in", Bare: true, Body: loginView{Next: next, Wrong: true, Names: true, Name: name}})
		return
	}
	var token string
	if err == nil {
		token, err = s.store.Begin(account.As(r.Context(), name), s.now(), account.Session{Account: name, Device: door.DeviceOf(r.UserAgent()), Address: door.AddressOf(r).Addr().String()})
	}
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	door.SetCookie(w, r, token)
	http.Redirect(w, r, next, http.StatusSeeOther)
}
