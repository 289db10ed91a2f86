package site

import (
	"log/slog"
	"net/http"
	"runtime/debug"
	"time"

	"hopperful/internal/store"
)

// answered remembers the status and size of an answer for the log.
type answered struct {
	http.ResponseWriter
	status int
	bytes  int64
}

func (a *answered) WriteHeader(status int) {
	if a.status == 0 {
		a.status = status
	}
	a.ResponseWriter.WriteHeader(status)
}

func (a *answered) Write(p []byte) (int, error) {
	if a.status == 0 {
		a.status = http.StatusOK
	}
	n, err := a.ResponseWriter.Write(p)
	a.bytes += int64(n)
	return n, err
}

// Unwrap lets http.ResponseController reach the connection, to flush events.
func (a *answered) Unwrap() http.ResponseWriter { return a.ResponseWriter }

// Logged writes one line a request. Only the path is logged: queries and forms
// may hold names.
func (s *Site) Logged(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		start := time.Now()
		a := &answered{ResponseWriter: w}
		next.ServeHTTP(a, r)
		s.Log.LogAttrs(r.Context(), slog.LevelInfo, "request",
			slog.String("method", r.Method), slog.String("path", r.URL.Path),
			slog.Int("status", a.status), slog.Int64("bytes", a.bytes),
			slog.Duration("took", time.Since(start)))
	})
}

// Recovered turns a fault in a handler into an error page and a log entry, so
// that one bad page does not take the program down.
func (s *Site) Recovered(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			v := recover()
			if v == nil {
				return
			}
			if v == http.ErrAbortHandler {
				panic(v)
			}
			s.Log.Error("a page failed", "path", r.URL.Path, "fault", v, "stack", string(debug.Stack()))
			say := "Something in hopperful failed. Nothing was lost; the log says more."
			if file, ok := v.(*store.Error); ok { // a record that was read only now
				say = file.Error()
			}
			if a, ok := w.(*answered); ok && a.status == 0 {
				http.Error(w, say, http.StatusInternalServerError)
			}
		}()
		next.ServeHTTP(w, r)
	})
}
