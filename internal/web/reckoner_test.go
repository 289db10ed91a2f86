package web

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"sync/atomic"
	"testing"
	"time"

	"hopperful/internal/web/waiting"
)

// TestWorkNobodyWaitsForIsDropped: three hundred questions are asked from one
// address and given up at once. A few get a place, none is reckoned, and who asks
// from elsewhere is answered.
func TestWorkNobodyWaitsForIsDropped(t *testing.T) {
	t.Parallel()
	p := waiting.NewReckoner(func() time.Time { return noon })
	p.Patience = 0
	asker := func(address string, ctx context.Context) *http.Request {
		r := httptest.NewRequestWithContext(ctx, "GET", "/", nil)
		r.RemoteAddr = address
		return r
	}
	var reckoned, refused atomic.Int32
	work := func() (any, error) { reckoned.Add(1); return "done", nil }
	p.Turn <- struct{}{} // something long is under way
	gone, leave := context.WithCancel(t.Context())
	leave()
	for i := range 300 {
		switch p.Within(asker("10.0.0.66:1", gone), nil, p.Ask("plan", fmt.Sprint(i), work), time.Hour) {
		case waiting.NoPlace:
			refused.Add(1)
		case waiting.There:
			t.Errorf("question %d is answered while another has the turn", i)
		}
	}
	if refused.Load() != 300-waiting.MostQueuedEach {
		t.Errorf("%d of 300 found no place, want all but %d", refused.Load(), waiting.MostQueuedEach)
	}
	if n := len(p.Kept); n > waiting.MostKept {
		t.Errorf("%d questions are kept", n)
	}
	owner := make(chan waiting.Waited)
	j := p.Ask("plan", "the owner's", work)
	go func() { owner <- p.Within(asker("10.0.0.7:1", t.Context()), nil, j, time.Hour) }()
	for waits := false; !waits; time.Sleep(time.Millisecond) {
		p.Mu.Lock()
		waits = j.Waiting == 1
		p.Mu.Unlock()
	}
	<-p.Turn
	if got := <-owner; got != waiting.There || j.Value != "done" || reckoned.Load() != 1 {
		t.Errorf("the owner is answered %v (%v), %d were reckoned", got, j.Value, reckoned.Load())
	}
	p.Mu.Lock()
	defer p.Mu.Unlock()
	if p.InAll > waiting.MostQueuedEach {
		t.Errorf("%d still have a place", p.InAll)
	}
}

// TestTheQueueHasAnEnd: from many addresses too.
func TestTheQueueHasAnEnd(t *testing.T) {
	t.Parallel()
	p := waiting.NewReckoner(func() time.Time { return noon })
	p.Turn <- struct{}{}
	placed := 0
	for i := range 60 {
		r := httptest.NewRequest("GET", "/", nil)
		r.RemoteAddr = fmt.Sprintf("10.0.%d.7:1", i)
		if p.Within(r, nil, p.Ask("plan", fmt.Sprint(i), func() (any, error) { return nil, nil }), 0) != waiting.NoPlace {
			placed++
		}
	}
	if placed != waiting.MostQueued {
		t.Errorf("%d of 60 found a place, want %d", placed, waiting.MostQueued)
	}
	<-p.Turn
}

// TestAProgramIsToldThatThereIsNoPlace, with the time to come back.
func TestAProgramIsToldThatThereIsNoPlace(t *testing.T) {
	t.Parallel()
	b := plannedShop(t, Options{})
	s := b.server
	s.Slow.Turn <- struct{}{}
	s.Slow.InAll = waiting.MostQueued
	r := httptest.NewRequest("GET", "/plan/vase", nil)
	r.Header.Set("Accept", "application/json")
	if w := b.ask(r); w.Code != http.StatusTooManyRequests || w.Header().Get("Retry-After") == "" {
		t.Errorf("it answers %d", w.Code)
	}
	<-s.Slow.Turn
}

// TestAForeignPageCannotLoadPartsOfOurs: pictures, frames and fetches from another
// site are refused, a link that a person follows is not, and our own pages are shown.
func TestAForeignPageCannotLoadPartsOfOurs(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	for _, c := range []struct {
		site, mode, dest string
		want             int
	}{
		{"cross-site", "no-cors", "image", 403}, {"cross-site", "cors", "empty", 403}, {"same-site", "no-cors", "script", 403},
		{"cross-site", "navigate", "iframe", 403}, {"cross-site", "navigate", "document", 200}, {"same-origin", "cors", "empty", 200},
		{"none", "navigate", "document", 200}, {"", "", "", 200},
	} {
		r := httptest.NewRequest("GET", "/stock", nil)
		for name, v := range map[string]string{"Sec-Fetch-Site": c.site, "Sec-Fetch-Mode": c.mode, "Sec-Fetch-Dest": c.dest} {
			if v != "" {
				r.Header.Set(name, v)
			}
		}
		if w := b.ask(r); w.Code != c.want {
			t.Errorf("%+v answers %d", c, w.Code)
		}
	}
}
