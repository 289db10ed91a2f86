package web

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/door"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
)

// gated shows nothing but the log-in page, and what it is drawn with, to whom
// has no session.
func (s *server) gated(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if _, in := s.Gate.Sessions.Of(r); in || openToAll(r) {
			next.ServeHTTP(w, r)
			return
		}
		s.askToLogIn(w, r)
	})
}

// openToAll says whether an address tells nothing of the shop, or asks for a token itself.
func openToAll(r *http.Request) bool {
	return r.URL.Path == "/login" || strings.HasPrefix(r.URL.Path, "/assets/") || site.ForPrograms(r) || r.URL.Path == workerPath || r.URL.Path == offlinePath
}

// askToLogIn answers who is not logged in: with the way to the log-in, and what would have
// written with a refusal.
func (s *server) askToLogIn(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet || desk.WantsJSON(r) {
		s.Fail(w, r, site.Fault{Status: http.StatusUnauthorized, Say: "form.your_log_in_is_over", Hint: "form.logged_out_advice"})
		return
	}
	http.Redirect(w, r, "/login?next="+url.QueryEscape(r.URL.RequestURI()), http.StatusSeeOther)
}

// loginView is the log-in page.
type loginView struct {
	Next  string
	Wrong bool
	Names bool   // the shop has accounts: a name is asked for too
	Name  string // as it was typed
}

// logsIn says whether somebody has to log in here at all, and by a name too; whoever
// need not is led on.
func (s *server) logsIn(w http.ResponseWriter, r *http.Request) (names, yes bool) {
	names, err := s.Store.HasAccounts(r.Context())
	if err != nil {
		s.FailWith(w, r, err)
		return false, false
	}
	if s.Gate == nil && !names {
		http.Redirect(w, r, "/", http.StatusSeeOther)
		return false, false
	}
	return names, true
}

func (s *server) showLogin(w http.ResponseWriter, r *http.Request) {
	names, yes := s.logsIn(w, r)
	if !yes {
		return
	}
	s.Render(w, r, http.StatusOK, "login", site.View{Title: "form.log_in", Bare: true, Body: loginView{Next: address.Local(r.FormValue("next"), "/"), Names: names}})
}

func (s *server) postLogin(w http.ResponseWriter, r *http.Request) {
	names, yes := s.logsIn(w, r)
	if !yes {
		return
	}
	at := s.knock
	if !names {
		at = s.Gate.Knocking
	}
	who := door.AddressOf(r)
	if !at.Enter(who) {
		w.Header().Set("Retry-After", strconv.Itoa(door.ComeBack))
		s.Fail(w, r, site.Fault{Status: http.StatusTooManyRequests, Say: "form.too_many_logins", Hint: "form.too_many_logins_advice"})
		return
	}
	defer at.Leave(who)
	if !forms.ReadForm(w, r) {
		s.Fail(w, r, site.TooLarge)
		return
	}
	next := address.Local(r.PostForm.Get("next"), "/")
	said := r.PostForm.Get("passphrase")
	if names {
		s.loginAccount(w, r, next, said)
		return
	}
	if !at.Opens(r, func() bool { return s.Gate.Fits(said) }) {
		s.Render(w, r, http.StatusUnauthorized, "login", site.View{Title: "form.log_in", Bare: true, Body: loginView{Next: next, Wrong: true}})
		return
	}
	s.Gate.Sessions.Begin(w, r)
	http.Redirect(w, r, next, http.StatusSeeOther)
}

func (s *server) postLogout(w http.ResponseWriter, r *http.Request) {
	if own, ok := site.SessionIn(r.Context()); ok {
		if err := s.Store.End(r.Context(), own.Account, own.ID); err != nil {
			s.FailWith(w, r, err)
			return
		}
		door.SetCookie(w, r, "")
		forgetDevice(w)
	} else if s.Gate != nil {
		s.Gate.Sessions.EndOwn(w, r)
		forgetDevice(w)
	}
	http.Redirect(w, r, "/", http.StatusSeeOther)
}
