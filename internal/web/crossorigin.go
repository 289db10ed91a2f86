package web

import "net/http"

// crossOriginRefused turns away writes that another site's page sends.
func (s *server) crossOriginRefused(next http.Handler) http.Handler {
	guard := http.NewCrossOriginProtection()
	guard.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.fail(w, r, fault{http.StatusForbidden, "form.this_was_sent_from_another",
			"form.open_hopperfuls_own_page_and"})
	}))
	return guard.Handler(next)
}
