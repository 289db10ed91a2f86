package web

import (
	"context"
	"net"
	"sync"
	"testing"
	"time"

	"hopperful/shop"
)

// TestTheShelfIsKnownBeforeAnybodyAsks starts what keeps the shelf, records, asks in
// between, and ends it.
func TestTheShelfIsKnownBeforeAnybodyAsks(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	s := newServer(b.store, Options{Now: func() time.Time { return noon }})
	b.pages = s.handler(Options{})
	ctx, end := context.WithCancel(t.Context())
	var kept sync.WaitGroup
	kept.Go(func() { s.keepShelf(ctx) })
	knows := func(what string) {
		t.Helper()
		for range 600 {
			s.ShelfMu.Lock()
			known := s.Shelf != nil && s.ShelfState == s.Store.State()
			s.ShelfMu.Unlock()
			if known {
				return
			}
			time.Sleep(shortWait)
		}
		t.Errorf("the shelf is not known %s", what)
	}
	knows("after the start")
	if _, err := b.store.Append(ctx, noon, shop.Record{At: noon, Body: &shop.Weighed{Lot: "R1", Mass: 0.1}}); err != nil {
		t.Fatal(err)
	}
	knows("after a record")
	if h := firstHeading(b.get(someBlend).Body.String()); h == "" {
		t.Error("no recipe")
	}
	end()
	kept.Wait()
}

// TestServingEndsWithWhatItStarted ends a server at once: nothing may go on with the
// store it was given.
func TestServingEndsWithWhatItStarted(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	ctx, end := context.WithCancel(t.Context())
	l, err := new(net.ListenConfig).Listen(ctx, "tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	done := make(chan error, 1)
	go func() { done <- Serve(ctx, l, b.store, Options{}) }()
	end()
	select {
	case err := <-done:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(20 * time.Second):
		t.Error("it does not end")
	}
}
