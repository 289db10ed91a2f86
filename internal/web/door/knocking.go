package door

import (
	"crypto/rand"
	"crypto/subtle"
	"maps"
	"net"
	"net/http"
	"net/netip"
	"sync"
	"time"

	"hopperful/internal/account"
)

// Bounds of the door: how long a wrong passphrase is made to wait, how many may
// wait from one address and in all, and when to come back when there are more.
const (
	wrongWait   = time.Second
	MostWaiting = 2
	mostAtDoor  = 32
	MostWrong   = 50        // from one address within the time below (OWASP ASVS 4.0.3, 2.2.1: at most 100 an hour)
	WrongFor    = time.Hour // how long one is remembered
	mostKnown   = 4096      // addresses remembered
	ComeBack    = 2         // seconds
)

// LeastPassphrase is the fewest characters a passphrase may have. OWASP ASVS
// 4.0.3, 2.1.1, wants 12 where people choose their own; here one is chosen for the
// shop and guessing is slow: two tries in a second and a bit from an address.
const LeastPassphrase = 10

// Gate asks for the passphrase. Only a salted hash of it is kept.
type Gate struct {
	*Knocking
	salt, hash []byte
	Sessions   *Sessions
}

// Knocking bounds the guessing at a door.
type Knocking struct {
	turn    chan struct{} // one log-in at a time: each takes memory
	mu      sync.Mutex
	now     func() time.Time
	waiting map[netip.Prefix]int // at the door, by address
	wrong   map[netip.Prefix]misses
	inAll   int
}

// NewKnocking is a door at which nobody has knocked.
func NewKnocking(now func() time.Time) *Knocking {
	return &Knocking{turn: make(chan struct{}, 1), waiting: map[netip.Prefix]int{}, now: now, wrong: map[netip.Prefix]misses{}}
}

// misses are the wrong ones of an address.
type misses struct {
	n     int
	since time.Time
}

// NewGate is a gate with that passphrase.
func NewGate(passphrase string, now func() time.Time) *Gate {
	g := &Gate{Knocking: NewKnocking(now), salt: make([]byte, 16), Sessions: NewSessions(now)}
	rand.Read(g.salt) // never fails; see crypto/rand
	g.hash = account.Derive(passphrase, g.salt)
	return g
}

// Fits says whether a passphrase is the shop's.
func (g *Gate) Fits(passphrase string) bool {
	return subtle.ConstantTimeCompare(account.Derive(passphrase, g.salt), g.hash) == 1
}

// AddressOf is who asks: the address, or of IPv6 the network of 64 bits, all of
// which one asker has.
func AddressOf(r *http.Request) netip.Prefix {
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

// Enter takes a place at the door; false when there is none for this address.
func (g *Knocking) Enter(who netip.Prefix) bool {
	g.mu.Lock()
	defer g.mu.Unlock()
	if t := g.wrong[who]; t.n >= MostWrong && g.now().Sub(t.since) < WrongFor {
		return false
	}
	if g.waiting[who] >= MostWaiting || g.inAll >= mostAtDoor {
		return false
	}
	g.waiting[who]++
	g.inAll++
	return true
}

// Leave gives the place at the door back.
func (g *Knocking) Leave(who netip.Prefix) {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.inAll--
	if g.waiting[who]--; g.waiting[who] <= 0 {
		delete(g.waiting, who)
	}
}

// Note remembers a wrong passphrase.
func (g *Knocking) Note(who netip.Prefix) {
	g.mu.Lock()
	defer g.mu.Unlock()
	now := g.now()
	t := g.wrong[who]
	if now.Sub(t.since) >= WrongFor {
		t = misses{since: now}
	}
	if len(g.wrong) >= mostKnown {
		maps.DeleteFunc(g.wrong, func(_ netip.Prefix, t misses) bool { return now.Sub(t.since) >= WrongFor || t.n < MostWrong })
	}
	t.n++
	g.wrong[who] = t
}

// Opens reports whether what was said is right. A wrong one waits, not in the
// turn of others but in a place of its own address.
func (g *Knocking) Opens(r *http.Request, fits func() bool) bool {
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
	g.Note(AddressOf(r))
	select {
	case <-time.After(wrongWait):
	case <-r.Context().Done():
	}
	return false
}
