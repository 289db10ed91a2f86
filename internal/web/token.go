package web

import (
	"net/http"

	"hopperful/fact"
	"hopperful/internal/tokens"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
)

// tokensPath is the page of the programs that may ask the API.
const tokensPath = "/tokens"

// tokensView is that page.
type tokensView struct {
	List   []tokenRow
	Made   string // what is said of the one just made
	Secret string // shown this once
}

// tokenRow is one token.
type tokenRow struct {
	tokens.Token
	Since string
}

// withoutAccounts leads to the accounts where there are some: tokens are theirs then.
func withoutAccounts(next http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if _, in := site.SessionIn(r.Context()); in {
			http.Redirect(w, r, "/accounts", http.StatusSeeOther)
			return
		}
		next(w, r)
	}
}

func (s *server) showTokens(w http.ResponseWriter, r *http.Request) {
	s.drawTokens(w, r, http.StatusOK, tokensView{})
}

func (s *server) drawTokens(w http.ResponseWriter, r *http.Request, status int, v tokensView) {
	d := s.Desk(r)
	all, err := s.tokens.List()
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	for _, t := range all {
		v.List = append(v.List, tokenRow{t, d.Clock(t.Made)})
	}
	s.Render(w, r, status, "tokens", site.View{Title: d.Say.Line("page.tokens"), Place: "machines", Crumb: site.PlaceLink("machines"), Body: v})
}

// postTokens makes a token and shows its secret, this once.
func (s *server) postTokens(w http.ResponseWriter, r *http.Request) {
	if !forms.ReadForm(w, r) {
		s.Fail(w, r, site.TooLarge)
		return
	}
	t, secret, err := s.tokens.Make(r.PostForm.Get("name"), tokens.Scope(r.PostForm.Get("scope")), s.Now())
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	s.drawTokens(w, r, http.StatusCreated, tokensView{Made: s.Desk(r).Say.Line("page.tokens_secret", fact.Name("name", t.Name)), Secret: secret})
}

// postRevoked takes a token away.
func (s *server) postRevoked(w http.ResponseWriter, r *http.Request) {
	if _, err := s.tokens.Revoke(r.PathValue("id")); err != nil {
		s.FailWith(w, r, err)
		return
	}
	http.Redirect(w, r, tokensPath, http.StatusSeeOther)
}
