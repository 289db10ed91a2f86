package web

import (
	"cmp"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"maps"
	"net/http"
	"slices"
	"sync"
	"time"
)

// Bounds of sessions: how long one lasts, and how many there may be; the one
// unused longest goes then.
const (
	sessionLife  = 30 * 24 * time.Hour
	mostSessions = 64
)

// The session's cookie. The prefix binds it to this host and to HTTPS (RFC 6265bis,
// section 4.1.3.2), so that only HTTPS has it.
const (
	sessionCookie = "hopperful_session"
	secureCookie  = "__Host-" + sessionCookie
)

// sessions are the log-ins there are. The browser holds a token of chance; here
// only its hash is kept, and only in memory: a restart asks again.
type sessions struct {
	now  func() time.Time
	mu   sync.Mutex
	open map[[sha256.Size]byte]*session
}

// session is one log-in.
type session struct {
	ID          string // names it on the page of devices; says nothing of the token
	Device      string // what the browser said it is
	Address     string // where it was last seen
	Begun, Seen time.Time
}

func newSessions(now func() time.Time) *sessions {
	return &sessions{now: now, open: map[[sha256.Size]byte]*session{}}
}

func cookieName(r *http.Request) string {
	if r.TLS != nil {
		return secureCookie
	}
	return sessionCookie
}

// setCookie keeps a token in the browser; an empty one takes it away.
func setCookie(w http.ResponseWriter, r *http.Request, token string) {
	c := &http.Cookie{Name: cookieName(r), Value: token, Path: "/", MaxAge: int(sessionLife.Seconds()),
		HttpOnly: true, SameSite: http.SameSiteLaxMode, Secure: r.TLS != nil}
	if token == "" {
		c.MaxAge = -1
	}
	http.SetCookie(w, c)
}

// begin opens a session in place of the one the browser may still have.
func (s *sessions) begin(w http.ResponseWriter, r *http.Request) {
	token := rand.Text() + rand.Text() // 260 bits
	id := make([]byte, 8)
	rand.Read(id) // never fails; see crypto/rand
	now := s.now()
	s.mu.Lock()
	defer s.mu.Unlock()
	s.drop(r)
	if len(s.open) >= mostSessions {
		oldest := slices.MinFunc(slices.Collect(maps.Keys(s.open)), func(a, b [sha256.Size]byte) int { return s.open[a].Seen.Compare(s.open[b].Seen) })
		delete(s.open, oldest)
	}
	s.open[sha256.Sum256([]byte(token))] = &session{ID: hex.EncodeToString(id), Device: deviceOf(r.UserAgent()),
		Address: addressOf(r).Addr().String(), Begun: now, Seen: now}
	setCookie(w, r, token)
}

// drop forgets the browser's session. The caller holds s.mu.
func (s *sessions) drop(r *http.Request) {
	if c, err := r.Cookie(cookieName(r)); err == nil {
		delete(s.open, sha256.Sum256([]byte(c.Value)))
	}
}

// of is the session a request belongs to; false when there is none, or it is over.
func (s *sessions) of(r *http.Request) (session, bool) {
	c, err := r.Cookie(cookieName(r))
	if err != nil {
		return session{}, false
	}
	key, now := sha256.Sum256([]byte(c.Value)), s.now()
	s.mu.Lock()
	defer s.mu.Unlock()
	own, ok := s.open[key]
	if !ok {
		return session{}, false
	}
	if now.Sub(own.Begun) >= sessionLife {
		delete(s.open, key)
		return session{}, false
	}
	own.Seen, own.Address = now, addressOf(r).Addr().String()
	return *own, true
}

// endOwn ends the session of a request.
func (s *sessions) endOwn(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.drop(r)
	setCookie(w, r, "")
}

// end ends the session of that name; all of them for an empty one.
func (s *sessions) end(id string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	maps.DeleteFunc(s.open, func(_ [sha256.Size]byte, o *session) bool { return id == "" || o.ID == id })
}

// list are all sessions that are not over, the one used last first.
func (s *sessions) list() []session {
	now := s.now()
	s.mu.Lock()
	defer s.mu.Unlock()
	var all []session
	for _, o := range s.open {
		if now.Sub(o.Begun) < sessionLife {
			all = append(all, *o)
		}
	}
	slices.SortFunc(all, func(a, b session) int { return cmp.Or(b.Seen.Compare(a.Seen), cmp.Compare(a.ID, b.ID)) })
	return all
}
