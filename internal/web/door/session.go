package door

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
	SessionLife  = 30 * 24 * time.Hour
	MostSessions = 64
)

// The session's cookie. The prefix binds it to this host and to HTTPS (RFC 6265bis,
// section 4.1.3.2), so that only HTTPS has it.
const (
	sessionCookie = "hopperful_session"
	secureCookie  = "__Host-" + sessionCookie
)

// Sessions are the log-ins there are. The browser holds a token of chance; here
// only its hash is kept, and only in memory: a restart asks again.
type Sessions struct {
	now  func() time.Time
	mu   sync.Mutex
	open map[[sha256.Size]byte]*Session
}

// Session is one log-in.
type Session struct {
	ID          string // names it on the page of devices; says nothing of the token
	Device      string // what the browser said it is
	Address     string // where it was last seen
	Begun, Seen time.Time
}

// NewSessions are none yet.
func NewSessions(now func() time.Time) *Sessions {
	return &Sessions{now: now, open: map[[sha256.Size]byte]*Session{}}
}

// CookieName is that of the session on this connection.
func CookieName(r *http.Request) string {
	if r.TLS != nil {
		return secureCookie
	}
	return sessionCookie
}

// SetCookie keeps a token in the browser; an empty one takes it away.
func SetCookie(w http.ResponseWriter, r *http.Request, token string) {
	c := &http.Cookie{Name: CookieName(r), Value: token, Path: "/", MaxAge: int(SessionLife.Seconds()),
		HttpOnly: true, SameSite: http.SameSiteLaxMode, Secure: r.TLS != nil}
	if token == "" {
		c.MaxAge = -1
	}
	http.SetCookie(w, c)
}

// Begin opens a session in place of the one the browser may still have.
func (s *Sessions) Begin(w http.ResponseWriter, r *http.Request) {
	token := rand.Text() + rand.Text() // 260 bits
	id := make([]byte, 8)
	rand.Read(id) // never fails; see crypto/rand
	now := s.now()
	s.mu.Lock()
	defer s.mu.Unlock()
	s.drop(r)
	if len(s.open) >= MostSessions {
		oldest := slices.MinFunc(slices.Collect(maps.Keys(s.open)), func(a, b [sha256.Size]byte) int { return s.open[a].Seen.Compare(s.open[b].Seen) })
		delete(s.open, oldest)
	}
	s.open[sha256.Sum256([]byte(token))] = &Session{ID: hex.EncodeToString(id), Device: DeviceOf(r.UserAgent()),
		Address: AddressOf(r).Addr().String(), Begun: now, Seen: now}
	SetCookie(w, r, token)
}

// drop forgets the browser's session. The caller holds s.mu.
func (s *Sessions) drop(r *http.Request) {
	if c, err := r.Cookie(CookieName(r)); err == nil {
		delete(s.open, sha256.Sum256([]byte(c.Value)))
	}
}

// Of is the session a request belongs to; false when there is none, or it is over.
func (s *Sessions) Of(r *http.Request) (Session, bool) {
	c, err := r.Cookie(CookieName(r))
	if err != nil {
		return Session{}, false
	}
	key, now := sha256.Sum256([]byte(c.Value)), s.now()
	s.mu.Lock()
	defer s.mu.Unlock()
	own, ok := s.open[key]
	if !ok {
		return Session{}, false
	}
	if now.Sub(own.Begun) >= SessionLife {
		delete(s.open, key)
		return Session{}, false
	}
	own.Seen, own.Address = now, AddressOf(r).Addr().String()
	return *own, true
}

// EndOwn ends the session of a request.
func (s *Sessions) EndOwn(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.drop(r)
	SetCookie(w, r, "")
}

// End ends the session of that name; all of them for an empty one.
func (s *Sessions) End(id string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	maps.DeleteFunc(s.open, func(_ [sha256.Size]byte, o *Session) bool { return id == "" || o.ID == id })
}

// List are all sessions that are not over, the one used last first.
func (s *Sessions) List() []Session {
	now := s.now()
	s.mu.Lock()
	defer s.mu.Unlock()
	var all []Session
	for _, o := range s.open {
		if now.Sub(o.Begun) < SessionLife {
			all = append(all, *o)
		}
	}
	slices.SortFunc(all, func(a, b Session) int { return cmp.Or(b.Seen.Compare(a.Seen), cmp.Compare(a.ID, b.ID)) })
	return all
}
