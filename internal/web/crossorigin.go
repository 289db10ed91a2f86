package web

import (
	"net/http"

	"hopperful/internal/web/site"
)

// crossOriginRefused turns away writes that another site's page sends.
func (s *server) crossOriginRefused(next http.Handler) http.Handler {
	guard := http.NewCrossOriginProtection()
	guard.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.Fail(w, r, site.Fault{Status: http.StatusForbidden, Say: "form.sent_across",
			Hint: "form.sent_across_advice"})
	}))
	return guard.Handler(next)
}
