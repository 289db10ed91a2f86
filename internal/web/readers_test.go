package web

import (
	"compress/gzip"
	"context"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"hopperful/internal/account"
	"hopperful/internal/web/door"
	"hopperful/internal/web/site"
	"hopperful/internal/web/waiting"
	"hopperful/shop"
)

// counted is a page that tells how often it was made, and waits for go.
type counted struct {
	made  atomic.Int64
	gate  chan struct{}
	after func(http.ResponseWriter)
}

func (c *counted) ServeHTTP(w http.ResponseWriter, _ *http.Request) {
	n := c.made.Add(1)
	if c.gate != nil {
		<-c.gate
	}
	if c.after != nil {
		c.after(w)
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	fmt.Fprintf(w, "made %d %s", n, strings.Repeat("granulate ", 400))
}

// sharedOver asks a page through what shares answers.
func sharedOver(c *counted) (h http.Handler, newest *atomic.Int64, now *atomic.Int64) {
	newest, now = new(atomic.Int64), new(atomic.Int64)
	s := waiting.NewShared(func() time.Time { return time.Unix(0, now.Load()) })
	return s.Of(func() shop.RecordID { return shop.RecordID(newest.Load()) }, site.WhoseAnswer, c), newest, now
}

func askPage(h http.Handler, method, to string) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	h.ServeHTTP(w, httptest.NewRequest(method, to, nil))
	return w
}

// TestManyReadersAreOneAnswer: fifty who ask at once wait for one.
func TestManyReadersAreOneAnswer(t *testing.T) {
	t.Parallel()
	c := &counted{gate: make(chan struct{})}
	h, _, _ := sharedOver(c)
	var all sync.WaitGroup
	for range 50 {
		all.Go(func() {
			if b := askPage(h, "GET", "/plan/vase").Body.String(); !strings.HasPrefix(b, "made 1 ") {
				t.Errorf("%.20s", b)
			}
		})
	}
	close(c.gate)
	all.Wait()
	if n := c.made.Load(); n != 1 {
		t.Errorf("made %d times", n)
	}
}

// TestAnAnswerIsSharedOnlyWhereItHolds: not of another state, address, second or kind.
func TestAnAnswerIsSharedOnlyWhereItHolds(t *testing.T) {
	t.Parallel()
	for name, ask := range map[string]func(h http.Handler, newest, now *atomic.Int64){
		"another record":   func(h http.Handler, newest, _ *atomic.Int64) { newest.Add(1); askPage(h, "GET", "/stock") },
		"another address":  func(h http.Handler, _, _ *atomic.Int64) { askPage(h, "GET", "/stock?q=grey") },
		"a second later":   func(h http.Handler, _, now *atomic.Int64) { now.Add(int64(time.Second)); askPage(h, "GET", "/stock") },
		"the clock back":   func(h http.Handler, _, now *atomic.Int64) { now.Add(-1); askPage(h, "GET", "/stock") },
		"something posted": func(h http.Handler, _, _ *atomic.Int64) { askPage(h, "POST", "/stock") },
		"just written":     func(h http.Handler, _, _ *atomic.Int64) { askPage(h, "GET", "/stock?done=3") },
	} {
		c := &counted{}
		h, newest, now := sharedOver(c)
		askPage(h, "GET", "/stock")
		askPage(h, "GET", "/stock")
		if n := c.made.Load(); n != 1 {
			t.Fatalf("%s: the same made %d times", name, n)
		}
		if ask(h, newest, now); c.made.Load() != 2 {
			t.Errorf("%s is answered with the old", name)
		}
	}
	c := &counted{}
	h, _, _ := sharedOver(c)
	for i, own := range []account.Session{{Account: "Ann", Role: account.Own}, {Account: "Ann", Role: account.Look}, {Account: "Bo", Role: account.Look}} {
		r := httptest.NewRequest("GET", "/stock", nil)
		h.ServeHTTP(httptest.NewRecorder(), r.WithContext(context.WithValue(r.Context(), site.SessionKey{}, own)))
		if c.made.Load() != int64(i+1) {
			t.Errorf("%+v is shown the page of another", own)
		}
	}
	for _, to := range []string{"/run/3", "/live", "/login", "/devices", "/blend/vase/weigh", "/stock/R1/grains"} {
		before := c.made.Load()
		askPage(h, "GET", to)
		askPage(h, "GET", to)
		if c.made.Load() != before+2 {
			t.Errorf("%s is shared", to)
		}
	}
}

// TestNoAnswerOfSomebodyElse: what waits, sets a cookie, or whose asker has gone is not
// given to others.
func TestNoAnswerOfSomebodyElse(t *testing.T) {
	t.Parallel()
	for name, after := range map[string]func(http.ResponseWriter){
		"still reckoning": func(w http.ResponseWriter) { w.Header().Set("Refresh", "1") },
		"a cookie":        func(w http.ResponseWriter) { http.SetCookie(w, &http.Cookie{Name: "a", Value: "b"}) },
		"refused":         func(w http.ResponseWriter) { w.WriteHeader(http.StatusUnprocessableEntity) },
	} {
		c := &counted{after: after}
		h, _, _ := sharedOver(c)
		askPage(h, "GET", "/plan/vase")
		if askPage(h, "GET", "/plan/vase"); c.made.Load() != 2 {
			t.Errorf("%s is given to others", name)
		}
	}
	c := &counted{}
	h, _, _ := sharedOver(c)
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	h.ServeHTTP(httptest.NewRecorder(), httptest.NewRequest("GET", "/stock", nil).WithContext(gone))
	if b := askPage(h, "GET", "/stock").Body.String(); !strings.HasPrefix(b, "made 2 ") {
		t.Errorf("%.20s", b)
	}
}

// TestSharedIsPackedOnce, and reads the same unpacked.
func TestSharedIsPackedOnce(t *testing.T) {
	t.Parallel()
	c := &counted{}
	h, _, _ := sharedOver(c)
	plain := askPage(h, "GET", "/stock").Body.String()
	r := httptest.NewRequest("GET", "/stock", nil)
	r.Header.Set("Accept-Encoding", "gzip")
	w := httptest.NewRecorder()
	door.Packed(h).ServeHTTP(w, r)
	z, err := gzip.NewReader(w.Body)
	if err != nil {
		t.Fatal(err)
	}
	if b, err := io.ReadAll(z); err != nil || string(b) != plain || w.Header().Get("Vary") != "Accept-Encoding" {
		t.Errorf("%v, %d bytes of %d, %v", err, len(b), len(plain), w.Header())
	}
}

// TestSharedAnswersAreBounded in bytes: the oldest go.
func TestSharedAnswersAreBounded(t *testing.T) {
	t.Parallel()
	big := strings.Repeat("x", waiting.MostShared/6)
	s := waiting.NewShared(time.Now)
	h := s.Of(func() shop.RecordID { return 1 }, site.WhoseAnswer, http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { io.WriteString(w, big) }))
	for i := range 12 {
		askPage(h, "GET", fmt.Sprintf("/stock?q=%d", i))
	}
	s.Lock.Lock()
	defer s.Lock.Unlock()
	if s.Size > waiting.MostShared || len(s.Kept) > 3 || len(s.Kept) == 0 {
		t.Errorf("%d answers of %d bytes", len(s.Kept), s.Size)
	}
}
