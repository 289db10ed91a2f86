package web

import (
	"context"
	"errors"
	"net"
	"net/http"
	"time"

	"hopperful/internal/store"
)

// Bounds of a connection. Reading a form or an upload over a poor radio link
// takes its time; a silent caller does not.
const (
	headTime = 10 * time.Second
	readTime = 10 * time.Minute
	idleTime = 2 * time.Minute
	stopTime = 5 * time.Second
	mostHead = 64 << 10
)

// lookAgain is how often a shop that may only be looked at is read anew, for what
// others wrote into it.
const lookAgain = 2 * time.Second

// Serve answers on the listener until ctx ends, then lets pages under way
// finish. It returns nil when it was told to stop.
func Serve(ctx context.Context, l net.Listener, st *store.Store, o Options) error {
	pages := newServer(st, o)
	lines, endLines := context.WithCancel(ctx) // of what never finishes by itself
	defer endLines()
	pages.Ending = lines.Done()
	known := make(chan struct{})
	go func() { defer close(known); pages.keepShelf(lines) }()
	fresh := make(chan struct{})
	go func() { defer close(fresh); pages.keepFresh(lines) }()
	defer func() { endLines(); <-known; <-fresh }() // the store may be closed after this
	asked, dropAll := context.WithCancel(context.WithoutCancel(ctx))
	defer dropAll()
	srv := &http.Server{
		Handler: pages.handler(o), ReadHeaderTimeout: headTime, ReadTimeout: readTime, IdleTimeout: idleTime, MaxHeaderBytes: mostHead,
		BaseContext: func(net.Listener) context.Context { return asked },
	}
	done := make(chan error, 1)
	if o.Secure != nil {
		l = pages.splitOff(l, o)
	}
	go func() { done <- srv.Serve(l) }()
	if o.Door != nil {
		go srv.Serve(o.Door.listener) // ends with the other; until then nothing ends it
	}
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	wait, cancel := context.WithTimeout(asked, stopTime)
	defer cancel()
	err := srv.Shutdown(wait)
	if e := <-done; !errors.Is(e, http.ErrServerClosed) {
		return e
	}
	if errors.Is(err, context.DeadlineExceeded) {
		err = srv.Close() // whoever has not sent all of it by now
	}
	return err
}

// keepFresh follows what other programs write to a shop on a server, and reads a file
// that may only be looked at anew every now and then.
func (s *server) keepFresh(ctx context.Context) {
	if store.OnServer(s.Store.Path()) {
		s.Store.Follow(ctx, func(err error) {
			s.Log.Warn("other programs are not heard; the shop is read every few seconds", "fault", err)
		})
		return
	}
	if !s.Store.ReadOnly() {
		return
	}
	tick := time.NewTicker(lookAgain)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			if err := s.Store.Refresh(ctx); err != nil && ctx.Err() == nil {
				s.Log.Warn("the shop could not be read anew", "fault", err)
			}
		}
	}
}
