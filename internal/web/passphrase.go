package web

import (
	"crypto/rand"
	"crypto/subtle"
	"maps"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"strconv"
	"strings"
	"sync"
	"time"

	"hopperful/internal/account"
)

// Bounds of the door: how long a wrong passphrase is made to wait, how many may
// wait from one address and in all, and when to come back when there are more.
const (
	wrongWait   = time.Second
	mostWaiting = 2
	mostAtDoor  = 32
	mostWrong   = 50        // from one address within the time below (OWASP ASVS 4.0.3, 2.2.1: at most 100 an hour)
	wrongFor    = time.Hour // how long one is remembered
	mostKnown   = 4096      // addresses remembered
	comeBack    = 2         // seconds
)

// LeastPassphrase is the fewest characters a passphrase may have. OWASP ASVS
// 4.0.3, 2.1.1, wants 12 where people choose their own; here one is chosen for the
// shop and guessing is slow: two tries in a second and a bit from an address.
const LeastPassphrase = 10

// gate asks for the passphrase. Only a salted hash of it is kept.
type gate struct {
	*knocking
	salt, hash []byte
	sessions   *sessions
}

// knocking bounds the guessing at a door.
type knocking struct {
	turn    chan struct{} // one log-in at a time: each takes memory
	mu      sync.Mutex
	now     func() time.Time
	waiting map[netip.Prefix]int // at the door, by address
	wrong   map[netip.Prefix]misses
	inAll   int
}

func newKnocking(now func() time.Time) *knocking {
	return &knocking{turn: make(chan struct{}, 1), waiting: map[netip.Prefix]int{}, now: now, wrong: map[netip.Prefix]misses{}}
}

// misses are the wrong ones of an address.
type misses struct {
	n     int
	since time.Time
}

func newGate(passphrase string, now func() time.Time) *gate {
	g := &gate{knocking: newKnocking(now), salt: make([]byte, 16), sessions: newSessions(now)}
	rand.Read(g.salt) // never fails; see crypto/rand
	g.hash = account.Derive(passphrase, g.salt)
	return g
}

// fits says whether a passphrase is the shop's.
func (g *gate) fits(passphrase string) bool {
	return subtle.ConstantTimeCompare(account.Derive(passphrase, g.salt), g.hash) == 1
}

// addressOf is who asks: the address, or of IPv6 the network of 64 bits, all of
// which one asker has.
func addressOf(r *http.Request) netip.Prefix {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		host = r.RemoteAddr
	}
	a, err := netip.ParseAddr(host)
	if err != nil {
		return netip.Prefix{}
	}
	a = a.Unmap().WithZone("")
	bits := a.BitLen()
	if a.Is6() {
		bits = 64
	}
	p, err := a.Prefix(bits)
	if err != nil {
		return netip.Prefix{}
	}
	return p
}

// enter takes a place at the door; false when there is none for this address.
func (g *knocking) enter(who netip.Prefix) bool {
	g.mu.Lock()
	defer g.mu.Unlock()
	if t := g.wrong[who]; t.n >= mostWrong && g.now().Sub(t.since) < wrongFor {
		return false
	}
	if g.waiting[who] >= mostWaiting || g.inAll >= mostAtDoor {
		return false
	}
	g.waiting[who]++
	g.inAll++
	return true
}

func (g *knocking) leave(who netip.Prefix) {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.inAll--
	if g.waiting[who]--; g.waiting[who] <= 0 {
		delete(g.waiting, who)
	}
}

// note remembers a wrong passphrase.
func (g *knocking) note(who netip.Prefix) {
	g.mu.Lock()
	defer g.mu.Unlock()
	now := g.now()
	t := g.wrong[who]
	if now.Sub(t.since) >= wrongFor {
		t = misses{since: now}
	}
	if len(g.wrong) >= mostKnown {
		maps.DeleteFunc(g.wrong, func(_ netip.Prefix, t misses) bool { return now.Sub(t.since) >= wrongFor || t.n < mostWrong })
	}
	t.n++
	g.wrong[who] = t
}

// opens reports whether what was said is right. A wrong one waits, not in the
// turn of others but in a place of its own address.
func (g *knocking) opens(r *http.Request, fits func() bool) bool {
	select {
	case g.turn <- struct{}{}:
	case <-r.Context().Done():
		return false
	}
	right := fits()
	<-g.turn
	if right {
		return true
	}
	g.note(addressOf(r))
	select {
	case <-time.After(wrongWait):
	case <-r.Context().Done():
	}
	return false
}

// gated shows nothing but the log-in page, and what it is drawn with, to whom
// has no session.
func (s *server) gated(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if _, in := s.gate.sessions.of(r); in || openToAll(r) {
			next.ServeHTTP(w, r)
			return
		}
		s.askToLogIn(w, r)
	})
}

// openToAll says whether an address tells nothing of the shop, or asks for a token itself.
func openToAll(r *http.Request) bool {
	return r.URL.Path == "/login" || strings.HasPrefix(r.URL.Path, "/assets/") || forPrograms(r) || r.URL.Path == workerPath || r.URL.Path == offlinePath
}

// askToLogIn answers who is not logged in: with the way to the log-in, and what would have
// written with a refusal.
func (s *server) askToLogIn(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet || wantsJSON(r) {
		s.fail(w, r, fault{http.StatusUnauthorized, "form.your_log_in_is_over", "form.log_in_again_then_send"})
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

func (s *server) showLogin(w http.ResponseWriter, r *http.Request) {
	names, err := s.store.HasAccounts(r.Context())
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	if s.gate == nil && !names {
		http.Redirect(w, r, "/", http.StatusSeeOther)
		return
	}
	s.render(w, r, http.StatusOK, "login", view{Title: "form.log_in", Bare: true, Body: loginView{Next: localPath(r.FormValue("next"), "/"), Names: names}})
}

func (s *server) postLogin(w http.ResponseWriter, r *http.Request) {
	names, err := s.store.HasAccounts(r.Context())
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	if s.gate == nil && !names {
		http.Redirect(w, r, "/", http.StatusSeeOther)
		return
	}
	door := s.knock
	if !names {
		door = s.gate.knocking
	}
	who := addressOf(r)
	if !door.enter(who) {
		w.Header().Set("Retry-After", strconv.Itoa(comeBack))
		s.fail(w, r, fault{http.StatusTooManyRequests, "form.too_many_log_ins_are", "form.wait_a_few_seconds_after"})
		return
	}
	defer door.leave(who)
	if !readForm(w, r) {
		s.fail(w, r, tooLarge)
		return
	}
	next := localPath(r.PostForm.Get("next"), "/")
	said := r.PostForm.Get("passphrase")
	if names {
		s.loginAccount(w, r, next, said)
		return
	}
	if !door.opens(r, func() bool { return s.gate.fits(said) }) {
		s.render(w, r, http.StatusUnauthorized, "login", view{Title: "form.log_in", Bare: true, Body: loginView{Next: next, Wrong: true}})
		return
	}
	s.gate.sessions.begin(w, r)
	http.Redirect(w, r, next, http.StatusSeeOther)
}

func (s *server) postLogout(w http.ResponseWriter, r *http.Request) {
	if own, ok := sessionIn(r.Context()); ok {
		if err := s.store.End(r.Context(), own.Account, own.ID); err != nil {
			s.failWith(w, r, err)
			return
		}
		setCookie(w, r, "")
		forgetDevice(w)
	} else if s.gate != nil {
		s.gate.sessions.endOwn(w, r)
		forgetDevice(w)
	}
	http.Redirect(w, r, "/", http.StatusSeeOther)
}
