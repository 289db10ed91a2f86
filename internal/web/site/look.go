package site

import (
	"net/http"
	"regexp"

	"hopperful/internal/account"
)

// A shop whose file may not be written is shown without anything that would
// write: what a page offers and cannot do is worse than not offered.

// Forms that write, and links to them. The pages are our own, so their markup is
// known: forms never lie in forms, and a link to a sheet holds words only.
var (
	SendingForm = regexp.MustCompile(`(?s)<form[^>]* method="post"[^>]*>.*?</form>`)
	SheetLink   = regexp.MustCompile(`(?s)<a [^>]*href="(?:/record/|/start/|/records/[0-9]+/correct|/stock/new)[^>]*>.*?</a>`)
	ownForm     = regexp.MustCompile(`^<form[^>]* action="/(?:login|logout|devices|accounts)"`)
)

// withoutForms takes what would write out of a page.
func withoutForms(page []byte) []byte {
	page = SendingForm.ReplaceAllFunc(page, func(form []byte) []byte {
		if ownForm.Match(form) {
			return form
		}
		return nil
	})
	return SheetLink.ReplaceAll(page, nil)
}

// Sheets that ask for more than writing down what happened, by the role they ask for.
var (
	planSheet = regexp.MustCompile(`(?s)<a [^>]*href="(?:/record/(?:mill|scale|printer|dryer|material|need|person)|/start/)[^>]*>.*?</a>`)
	planForm  = regexp.MustCompile(`(?s)<form[^>]* method="post"[^>]* action="/(?:plan|run)"[^>]*>.*?</form>`)
	ownSheet  = regexp.MustCompile(`(?s)<a [^>]*href="/record/shop[^>]*>.*?</a>`)
)

// withoutOthers takes out of a page what a role may not do: what a page offers and
// cannot do is worse than not offered. What is left is refused where it is written.
func withoutOthers(page []byte, role account.Role) []byte {
	if !role.May(account.Own) {
		page = ownSheet.ReplaceAll(page, nil)
	}
	if !role.May(account.Plan) {
		page = planForm.ReplaceAll(planSheet.ReplaceAll(page, nil), nil)
	}
	if !role.May(account.Record) {
		page = withoutForms(page)
	}
	return page
}

// OnlyLooked refuses what would write, and the sheets for it, in a shop that may
// only be looked at.
func (s *Site) OnlyLooked(next http.Handler) http.Handler {
	if !s.Store.ReadOnly() {
		return next
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		writes := r.Method != http.MethodGet && r.Method != http.MethodHead && !ownForm.MatchString(`<form action="`+r.URL.Path+`"`)
		if writes || SheetLink.MatchString(`<a href="`+r.URL.Path+`"></a>`) {
			s.Fail(w, r, Fault{http.StatusServiceUnavailable, "form.file_read_only",
				"form.file_read_only_advice"})
			return
		}
		next.ServeHTTP(w, r)
	})
}
