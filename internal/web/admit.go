package web

import (
	"context"
	"net/http"
	"strings"

	"hopperful/internal/account"
	"hopperful/internal/web/door"
	"hopperful/internal/web/site"
)

// admitted asks everybody for an account where the shop has accounts, also on this
// computer, and says to all that is asked further on who it is. Else guarded answers.
func (s *server) admitted(next, guarded http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		any, err := s.Store.HasAccounts(r.Context())
		if err != nil {
			s.FailWith(w, r, err)
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
		own, in, err := s.SessionOf(r)
		switch {
		case err != nil:
			s.FailWith(w, r, err)
		case in:
			ctx := account.As(context.WithValue(r.Context(), site.SessionKey{}, own), own.Account)
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
		fits, err = s.Store.Login(r.Context(), name, passphrase)
		return fits
	})
	if err == nil && !right {
		s.Render(w, r, http.StatusUnauthorized, "login", site.View{Title: "form.log_in", Bare: true, Body: loginView{Next: next, Wrong: true, Names: true, Name: name}})
		return
	}
	var token string
	if err == nil {
		token, err = s.Store.Begin(account.As(r.Context(), name), s.Now(), account.Session{Account: name, Device: door.DeviceOf(r.UserAgent()), Address: door.AddressOf(r).Addr().String()})
	}
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	door.SetCookie(w, r, token)
	http.Redirect(w, r, next, http.StatusSeeOther)
}
