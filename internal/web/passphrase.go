package web

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"encoding/binary"
	"net/http"
	"net/url"
	"strings"
	"time"

	"golang.org/x/crypto/argon2"
)

// Cost of one log-in: 64 MiB and three passes, the second choice RFC 9106
// recommends (section 4) with its four lanes.
const (
	argonTime   = 3
	argonMemory = 64 * 1024 // KiB
	argonLanes  = 4
)

// How long a log-in lasts, and how long a wrong one is made to wait.
const (
	sessionLife = 30 * 24 * time.Hour
	wrongWait   = time.Second
)

const sessionCookie = "hopperful_session"

// gate asks for the passphrase. Only a salted hash of it is kept, and sessions
// are signed with a key of this start, so a restart asks again.
type gate struct {
	salt, hash, key []byte
	now             func() time.Time
	turn            chan struct{} // one log-in at a time: each takes memory, and guessing stays slow
}

func newGate(passphrase string, now func() time.Time) *gate {
	g := &gate{salt: make([]byte, 16), key: make([]byte, 32), now: now, turn: make(chan struct{}, 1)}
	rand.Read(g.salt) // never fails; see crypto/rand
	rand.Read(g.key)
	g.hash = g.derive(passphrase)
	return g
}

func (g *gate) derive(passphrase string) []byte {
	return argon2.IDKey([]byte(passphrase), g.salt, argonTime, argonMemory, argonLanes, 32)
}

// opens reports whether the passphrase is right, after a wait when it is not.
func (g *gate) opens(r *http.Request, passphrase string) bool {
	select {
	case g.turn <- struct{}{}:
		defer func() { <-g.turn }()
	case <-r.Context().Done():
		return false
	}
	if subtle.ConstantTimeCompare(g.derive(passphrase), g.hash) == 1 {
		return true
	}
	select {
	case <-time.After(wrongWait):
	case <-r.Context().Done():
	}
	return false
}

// token is the end of the session, signed.
func (g *gate) token() string {
	end := binary.BigEndian.AppendUint64(nil, uint64(g.now().Add(sessionLife).Unix()))
	return base64.RawURLEncoding.EncodeToString(append(end, g.sign(end)...))
}

func (g *gate) sign(end []byte) []byte {
	m := hmac.New(sha256.New, g.key)
	m.Write(end)
	return m.Sum(nil)
}

// holds reports whether a token is ours and not over.
func (g *gate) holds(token string) bool {
	raw, err := base64.RawURLEncoding.DecodeString(token)
	if err != nil || len(raw) != 8+sha256.Size || !hmac.Equal(raw[8:], g.sign(raw[:8])) {
		return false
	}
	return int64(binary.BigEndian.Uint64(raw)) > g.now().Unix()
}

// gated shows nothing but the log-in page, and what it is drawn with, to whom
// has no session.
func (s *server) gated(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		c, err := r.Cookie(sessionCookie)
		open := r.URL.Path == "/login" || strings.HasPrefix(r.URL.Path, "/assets/")
		if open || err == nil && s.gate.holds(c.Value) {
			next.ServeHTTP(w, r)
			return
		}
		if r.Method != http.MethodGet || wantsJSON(r) {
			s.fail(w, r, fault{http.StatusUnauthorized, "Your log-in is over.", "Log in again, then send it once more; nothing was written."})
			return
		}
		http.Redirect(w, r, "/login?next="+url.QueryEscape(r.URL.RequestURI()), http.StatusSeeOther)
	})
}

// loginView is the log-in page.
type loginView struct {
	Next  string
	Wrong bool
}

func (s *server) showLogin(w http.ResponseWriter, r *http.Request) {
	if s.gate == nil {
		http.Redirect(w, r, "/", http.StatusSeeOther)
		return
	}
	s.render(w, r, http.StatusOK, "login", view{Title: "Log in", Bare: true, Body: loginView{Next: localPath(r.FormValue("next"), "/")}})
}

func (s *server) postLogin(w http.ResponseWriter, r *http.Request) {
	next := "/"
	if s.gate != nil {
		if !readForm(w, r) {
			s.fail(w, r, tooLarge)
			return
		}
		next = localPath(r.PostForm.Get("next"), "/")
		if !s.gate.opens(r, r.PostForm.Get("passphrase")) {
			s.render(w, r, http.StatusUnauthorized, "login", view{Title: "Log in", Bare: true, Body: loginView{Next: next, Wrong: true}})
			return
		}
		http.SetCookie(w, &http.Cookie{Name: sessionCookie, Value: s.gate.token(), Path: "/",
			MaxAge: int(sessionLife.Seconds()), HttpOnly: true, SameSite: http.SameSiteLaxMode, Secure: r.TLS != nil})
	}
	http.Redirect(w, r, next, http.StatusSeeOther)
}

func (s *server) postLogout(w http.ResponseWriter, r *http.Request) {
	http.SetCookie(w, &http.Cookie{Name: sessionCookie, Path: "/", MaxAge: -1, HttpOnly: true, SameSite: http.SameSiteLaxMode, Secure: r.TLS != nil})
	http.Redirect(w, r, "/", http.StatusSeeOther)
}
