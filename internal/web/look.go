package web

import (
	"net/http"
	"regexp"
)

// A shop whose file may not be written is shown without anything that would
// write: what a page offers and cannot do is worse than not offered.

// Forms that write, and links to them. The pages are our own, so their markup is
// known: forms never lie in forms, and a link to a sheet holds words only.
var (
	sendingForm = regexp.MustCompile(`(?s)<form[^>]* method="post"[^>]*>.*?</form>`)
	sheetLink   = regexp.MustCompile(`(?s)<a [^>]*href="(?:/record/|/start/|/records/[0-9]+/correct|/stock/new)[^>]*>.*?</a>`)
	ownForm     = regexp.MustCompile(`^<form[^>]* action="/(?:login|logout|devices)"`)
)

// withoutForms takes what would write out of a page.
func withoutForms(page []byte) []byte {
	page = sendingForm.ReplaceAllFunc(page, func(form []byte) []byte {
		if ownForm.Match(form) {
			return form
		}
		return nil
	})
	return sheetLink.ReplaceAll(page, nil)
}

// onlyLooked refuses what would write, and the sheets for it, in a shop that may
// only be looked at.
func (s *server) onlyLooked(next http.Handler) http.Handler {
	if !s.store.ReadOnly() {
		return next
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		writes := r.Method != http.MethodGet && r.Method != http.MethodHead && !ownForm.MatchString(`<form action="`+r.URL.Path+`"`)
		if writes || sheetLink.MatchString(`<a href="`+r.URL.Path+`"></a>`) {
			s.fail(w, r, fault{http.StatusServiceUnavailable, "The shop's file may not be written here.",
				"Nothing was written. Make the file and its folder writable for hopperful and start it again."})
			return
		}
		next.ServeHTTP(w, r)
	})
}
