package web

import (
	"net/http"

	"hopperful/internal/web/site"
)

// at is a handler of a room, for this site.
func at(s *site.Site, h func(*site.Site, http.ResponseWriter, *http.Request)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) { h(s, w, r) }
}
