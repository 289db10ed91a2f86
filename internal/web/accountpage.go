package web

import (
	"cmp"
	"errors"
	"net/http"
	"strings"

	"hopperful/internal/account"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
)

// accountsView is the page of who may log in.
type accountsView struct {
	List  []accountRow
	Roles []forms.Option
	None  bool   // there are none yet: the first owns the shop
	Own   string // the account that looks; "" while there are none
	May   bool   // it may change the others
	Wrong string // why the last thing was refused
	Hint  string
	Name  string // as it was typed
	Token string // just made: it is shown this once
}

// accountRow is one account.
type accountRow struct {
	account.Account
	Own   bool
	Day   string
	Can   string // its role, in words
	Roles []forms.Option
}

func (s *server) showAccounts(w http.ResponseWriter, r *http.Request) {
	s.drawAccounts(w, r, http.StatusOK, accountsView{})
}

func (s *server) drawAccounts(w http.ResponseWriter, r *http.Request, status int, v accountsView) {
	list, err := s.Store.Accounts(r.Context())
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	d := s.Desk(r)
	own, in := site.SessionIn(r.Context())
	v.None, v.Own, v.May = len(list) == 0, own.Account, !in && len(list) == 0 || own.Role == account.Own
	as := func(role account.Role) string { return d.Say.Line("role." + string(role)) }
	for _, role := range account.Roles() {
		v.Roles = append(v.Roles, forms.Option{Value: string(role), Say: as(role)})
	}
	for _, a := range list {
		if v.May || a.Name == own.Account {
			v.List = append(v.List, accountRow{a, a.Name == own.Account, d.Clock(a.Since), as(a.Role), v.Roles})
		}
	}
	s.Render(w, r, status, "accounts", site.View{Title: d.Say.Line("page.accounts"), Place: "machines", Crumb: site.PlaceLink("machines"), Body: v})
}

// postAccounts makes, changes or removes an account. Whether that is allowed is
// decided where it is written.
func (s *server) postAccounts(w http.ResponseWriter, r *http.Request) {
	if !forms.ReadForm(w, r) {
		s.Fail(w, r, site.TooLarge)
		return
	}
	f := r.PostForm.Get
	name, role, passphrase := strings.TrimSpace(f("name")), account.Role(f("role")), f("passphrase")
	var err error
	v := accountsView{}
	switch f("do") {
	case "add":
		if err = s.Store.AddAccount(r.Context(), s.Now(), name, role, passphrase); err != nil {
			v.Name = name
		}
	case "role":
		err = s.Store.ChangeAccount(r.Context(), name, role, "")
	case "passphrase":
		if passphrase == "" {
			_, err = account.Hash("")
		} else {
			err = s.Store.ChangeAccount(r.Context(), name, "", passphrase)
		}
	case "remove":
		err = s.Store.RemoveAccount(r.Context(), name)
	case "token":
		v.Token, err = s.Store.Begin(r.Context(), s.Now(), account.Session{Account: name, Program: cmp.Or(strings.TrimSpace(f("program")), "program")})
	default:
		s.ShowMissing(w, r)
		return
	}
	var refused *account.Refused
	switch {
	case errors.As(err, &refused):
		p := desk.Speaks(r, s.Store.State())
		v.Wrong, v.Hint = p.Say(refused.What), p.Say(refused.Advice)
		s.drawAccounts(w, r, http.StatusUnprocessableEntity, v)
	case err != nil:
		s.FailWith(w, r, err)
	case v.Token != "":
		s.drawAccounts(w, r, http.StatusOK, v)
	default:
		http.Redirect(w, r, "/accounts", http.StatusSeeOther)
	}
}
