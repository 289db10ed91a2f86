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

// Serve answers on the listener until ctx ends, then lets pages under way
// finish. It returns nil when it was told to stop.
func Serve(ctx context.Context, l net.Listener, st *store.Store, o Options) error {
	lines, endLines := context.WithCancel(ctx) // ends live lines, which never finish by themselves
	defer endLines()
	pages := newServer(st, o)
	known := make(chan struct{})
	go func() { defer close(known); pages.keepShelf(lines) }()
	defer func() { endLines(); <-known }() // the store may be closed after this
	srv := &http.Server{
		Handler: pages.handler(o), ReadHeaderTimeout: headTime, ReadTimeout: readTime, IdleTimeout: idleTime, MaxHeaderBytes: mostHead,
		BaseContext: func(net.Listener) context.Context { return lines },
	}
	done := make(chan error, 1)
	go func() { done <- srv.Serve(l) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	endLines()
	wait, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopTime)
	defer cancel()
	err := srv.Shutdown(wait)
	if e := <-done; !errors.Is(e, http.ErrServerClosed) {
		return e
	}
	return err
}
