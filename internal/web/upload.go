package web

import (
	"net/http"
	"strconv"
	"strings"

	"hopperful/internal/web/door"
	"hopperful/internal/web/site"
)

// oneUpload lets a form with files in when its sender has no other under way.
func (s *server) oneUpload(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !strings.HasPrefix(strings.ToLower(r.Header.Get("Content-Type")), "multipart/") {
			next.ServeHTTP(w, r)
			return
		}
		who := door.AddressOf(r)
		if !s.uploads.Enter(who) {
			w.Header().Set("Retry-After", strconv.Itoa(door.ComeBack))
			s.Fail(w, r, site.Fault{Status: http.StatusTooManyRequests, Say: "form.upload_runs_already", Hint: "form.upload_runs_advice"})
			return
		}
		defer s.uploads.Leave(who)
		next.ServeHTTP(w, r)
	})
}
