package live

import (
	"hopperful/fact"

	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"slices"
	"strings"
	"sync"
	"time"

	"golang.org/x/crypto/argon2"
)

// Guessing costs time and memory; a sensor that comes back again and again does not.
const (
	hashTime    = 2
	hashMemory  = 19 << 10 // kB
	hashLength  = 32
	saltLength  = 16
	leastSecret = 10
	mostSecret  = 200
	mostGuesses = 8 // of one address in guessSpan
	guessSpan   = time.Minute
	mostCallers = 1024
)

func hashOf(password string, salt []byte) []byte {
	return argon2.IDKey([]byte(password), salt, hashTime, hashMemory, 1, hashLength)
}

// NewUser makes somebody who may send to the shop's own broker. An empty password is made
// up; the one that counts is returned, and only its hash is kept.
func NewUser(name, password string) (User, string, error) {
	if name == "" || len(name) > mostName || !plainText(name) || strings.ContainsAny(name, " :") {
		return User{}, "", &Refusal{fact.Say("live.not_a_user_name", fact.Name("name", name)), fact.Say("live.do_name_letters")}
	}
	if password == "" {
		password = strings.ToLower(rand.Text())[:20]
	}
	if n := len(password); n < leastSecret || n > mostSecret {
		return User{}, "", &Refusal{fact.Say("live.password_length", fact.Count("n", n), fact.Count("least_secret", leastSecret), fact.Count("most_secret", mostSecret)), fact.Say("live.do_leave_password")}
	}
	u := User{Name: name, Salt: make([]byte, saltLength)}
	if _, err := rand.Read(u.Salt); err != nil {
		return User{}, "", err
	}
	u.Hash = hashOf(password, u.Salt)
	return u, password, nil
}

// gate lets sensors in.
type gate struct {
	users []User
	now   func() time.Time

	hashing sync.Mutex // one at a time: a crowd of guesses takes no more than one's memory
	mu      sync.Mutex
	known   map[string][sha256.Size]byte // of users, what was right before
	key     [32]byte
	wrong   map[string][]time.Time // by address
}

func newGate(users []User, now func() time.Time) (*gate, error) {
	g := &gate{users: users, now: now, known: map[string][sha256.Size]byte{}, wrong: map[string][]time.Time{}}
	_, err := rand.Read(g.key[:])
	return g, err
}

// mark is what is remembered of a right password while the program runs.
func (g *gate) mark(name, password string) [sha256.Size]byte {
	h := sha256.New()
	h.Write(g.key[:])
	h.Write([]byte(name))
	h.Write([]byte{0})
	h.Write([]byte(password))
	return [sha256.Size]byte(h.Sum(nil))
}

// lets reports whether a caller from an address may come in.
func (g *gate) lets(address, name, password string) bool {
	if len(name) > mostName || len(password) > mostSecret {
		return false
	}
	mark := g.mark(name, password)
	g.mu.Lock()
	was, ok := g.known[name]
	g.mu.Unlock()
	if ok && subtle.ConstantTimeCompare(was[:], mark[:]) == 1 {
		return true
	}
	if !g.mayGuess(address) {
		return false
	}
	i := slices.IndexFunc(g.users, func(u User) bool { return u.Name == name })
	u := User{Salt: g.key[:saltLength], Hash: make([]byte, hashLength)} // takes as long for a name that nobody has
	if i >= 0 {
		u = g.users[i]
	}
	g.hashing.Lock()
	right := subtle.ConstantTimeCompare(hashOf(password, u.Salt), u.Hash) == 1 && i >= 0
	g.hashing.Unlock()
	if right {
		g.mu.Lock()
		g.known[name] = mark
		delete(g.wrong, address)
		g.mu.Unlock()
	}
	return right
}

// mayGuess counts a guess before it is looked at.
func (g *gate) mayGuess(address string) bool {
	g.mu.Lock()
	defer g.mu.Unlock()
	now := g.now()
	if len(g.wrong) > mostCallers {
		for a, all := range g.wrong {
			if now.Sub(all[len(all)-1]) > guessSpan {
				delete(g.wrong, a)
			}
		}
		if len(g.wrong) > mostCallers {
			return false
		}
	}
	fresh := slices.DeleteFunc(g.wrong[address], func(at time.Time) bool { return now.Sub(at) > guessSpan })
	if len(fresh) >= mostGuesses {
		g.wrong[address] = fresh
		return false
	}
	g.wrong[address] = append(fresh, now)
	return true
}
