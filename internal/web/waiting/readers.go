package waiting

import (
	"bytes"
	"net/http"
	"regexp"
	"strconv"
	"sync"
	"time"

	"hopperful/internal/web/door"
	"hopperful/shop"
)

// Bounds of shared answers. A page tells the minute, so one second old is still right.
const (
	sharedFor  = time.Second
	MostShared = 16 << 20 // bytes of them, packed ones counted too
)

// sharable are the pages that follow from the shop and the address alone, and that many
// look at: not those with a clock that runs, a log-in, or something half typed.
var sharable = regexp.MustCompile(`^/($|stock$|stock/[A-Z][0-9]+(/family)?$|records$|plan/[^/]+$|blend/[^/]+$|fit/[^/]+/[^/]+$|dry/[^/]+$|machines/[^/]+/(learn|upkeep)$|books$|dose$)`)

// Shared gives everybody who asks the same of the same state within a second the same
// answer: one of them has it made, the others wait for it.
type Shared struct {
	now  func() time.Time
	Lock sync.Mutex
	Kept map[sharedKey]*sharedAnswer
	Size int
}

// sharedKey is all an answer follows from.
type sharedKey struct {
	newest    shop.RecordID
	host, url string
	accept    string // the kind of answer, and its languages
	who       string // the account it is for, and what that may do; empty in a shop without
}

// sharedAnswer is an answer that is there once done is closed.
type sharedAnswer struct {
	asked time.Time // by the shop's clock
	since time.Time // by the machine's
	done  chan struct{}

	good   bool // it may be given to others
	head   http.Header
	body   []byte
	pack   sync.Once
	packed []byte
}

// NewShared holds nothing yet; now is the shop's clock.
func NewShared(now func() time.Time) *Shared {
	return &Shared{now: now, Kept: map[sharedKey]*sharedAnswer{}}
}

// Of wraps the pages; who says for whom a request is answered, empty where everybody is the same.
func (c *Shared) Of(newest func() shop.RecordID, who func(*http.Request) string, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodGet || !sharable.MatchString(r.URL.Path) || r.URL.Query().Has("done") {
			next.ServeHTTP(w, r)
			return
		}
		key := sharedKey{newest(), r.Host, r.URL.RequestURI(), r.Header.Get("Accept") + "|" + r.Header.Get("Accept-Language"), who(r)}
		a, mine := c.find(key)
		if mine {
			c.make(key, a, next, w, r)
			return
		}
		select {
		case <-a.done:
		case <-r.Context().Done():
			return
		}
		if !a.good {
			next.ServeHTTP(w, r)
			return
		}
		a.give(w, r)
	})
}

// find is the answer that is there or under way; mine says that the caller is to make
// it.
func (c *Shared) find(key sharedKey) (a *sharedAnswer, mine bool) {
	c.Lock.Lock()
	defer c.Lock.Unlock()
	now := c.now()
	if a, ok := c.Kept[key]; ok {
		age := now.Sub(a.asked)
		if age >= 0 && age < sharedFor && time.Since(a.since) < sharedFor {
			return a, false
		}
		select {
		case <-a.done:
		default:
			return a, false // it takes longer than a second, for all of them
		}
	}
	a = &sharedAnswer{asked: now, since: time.Now(), done: make(chan struct{})}
	c.Kept[key] = a
	return a, true
}

// make has the answer made for the one who asked first, and keeps it.
func (c *Shared) make(key sharedKey, a *sharedAnswer, next http.Handler, w http.ResponseWriter, r *http.Request) {
	defer func() {
		close(a.done)
		c.keep(key, a)
	}()
	rec := &recording{head: http.Header{}, code: http.StatusOK}
	next.ServeHTTP(rec, r)
	a.head, a.body = rec.head, rec.body.Bytes()
	a.good = rec.code == http.StatusOK && a.head.Get("Refresh") == "" && a.head.Get("Set-Cookie") == "" && r.Context().Err() == nil
	if !a.good {
		for name, values := range a.head {
			w.Header()[name] = values
		}
		w.WriteHeader(rec.code)
		_, _ = w.Write(a.body) // an error here means the reader has gone
		return
	}
	c.Lock.Lock() // who looks for it reads these
	a.since, a.asked = time.Now(), c.now()
	c.Lock.Unlock()
	a.give(w, r)
}

// keep counts an answer, and lets those go that are too old, or too many.
func (c *Shared) keep(key sharedKey, a *sharedAnswer) {
	c.Lock.Lock()
	defer c.Lock.Unlock()
	if !a.good {
		if c.Kept[key] == a {
			delete(c.Kept, key)
		}
		return
	}
	c.Size = 0
	done := map[sharedKey]*sharedAnswer{}
	for k, x := range c.Kept {
		select {
		case <-x.done:
		default:
			continue // not there yet
		}
		if time.Since(x.since) >= sharedFor {
			delete(c.Kept, k)
			continue
		}
		done[k] = x
		c.Size += 2 * len(x.body)
	}
	for c.Size > MostShared {
		var oldest sharedKey
		for k, x := range done {
			if oldest.url == "" || x.since.Before(done[oldest].since) {
				oldest = k
			}
		}
		c.Size -= 2 * len(done[oldest].body)
		delete(c.Kept, oldest)
		delete(done, oldest)
	}
}

// give sends the answer, packed where the reader takes that.
func (a *sharedAnswer) give(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	for name, values := range a.head {
		if name != "Vary" {
			h[name] = values
		}
	}
	body := a.body
	if door.MayPack(len(body), a.head.Get("Content-Type")) && door.ReadsGzip(r.Header.Get("Accept-Encoding")) {
		a.pack.Do(func() { a.packed = door.Pack(a.body) })
		body = a.packed
		h.Set("Content-Encoding", "gzip")
	}
	h.Set("Content-Length", strconv.Itoa(len(body)))
	w.WriteHeader(http.StatusOK)
	_, _ = w.Write(body) // an error here means the reader has gone
}

// recording takes an answer up instead of sending it.
type recording struct {
	head http.Header
	code int
	body bytes.Buffer
}

// Header is the head of the answer.
func (w *recording) Header() http.Header { return w.head }

// WriteHeader takes the status up.
func (w *recording) WriteHeader(code int) { w.code = code }

// Write takes a part of the body up.
func (w *recording) Write(b []byte) (int, error) { return w.body.Write(b) }
