package web

import (
	"errors"
	"net/http"
	"strings"

	"hopperful/internal/account"
)

// accountsView is the page of who may log in.
type accountsView struct {
	List  []accountRow
	Roles []option
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
	Roles []option
}

func (s *server) showAccounts(w http.ResponseWriter, r *http.Request) {
	s.drawAccounts(w, r, http.StatusOK, accountsView{})
}

func (s *server) drawAccounts(w http.ResponseWriter, r *http.Request, status int, v accountsView) {
	list, err := s.store.Accounts(r.Context())
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	d := s.desk(r)
	own, in := sessionIn(r.Context())
	v.None, v.Own, v.May = len(list) == 0, own.Account, !in && len(list) == 0 || own.Role == account.Own
	as := func(role account.Role) string { return d.say.Line("role." + string(role)) }
	for _, role := range account.Roles() {
		v.Roles = append(v.Roles, option{string(role), as(role)})
	}
	for _, a := range list {
		if v.May || a.Name == own.Account {
			v.List = append(v.List, accountRow{a, a.Name == own.Account, d.clock(a.Since), as(a.Role), v.Roles})
		}
	}
	s.render(w, r, status, "accounts", view{Title: d.say.Line("page.accounts"), Place: "machines", Crumb: placeLink("machines"), Body: v})
}

// postAccounts makes, changes or removes an account. Whether that is allowed is
// decided where it is written.
func (s *server) postAccounts(w http.ResponseWriter, r *http.Request) {
	if !readForm(w, r) {
		s.fail(w, r, tooLarge)
		return
	}
	f := r.PostForm.Get
	name, role, passphrase := strings.TrimSpace(f("name")), account.Role(f("role")), f("passphrase")
	var err error
	v := accountsView{}
	switch f("do") {
	case "add":
		if err = s.store.AddAccount(r.Context(), s.now(), name, role, passphrase); err != nil {
			v.Name = name
		}
	case "role":
		err = s.store.ChangeAccount(r.Context(), name, role, "")
	case "passphrase":
		if passphrase == "" {
			_, err = account.Hash("")
		} else {
			err = s.store.ChangeAccount(r.Context(), name, "", passphrase)
		}
	case "remove":
		err = s.store.RemoveAccount(r.Context(), name)
	case "token":
		v.Token, err = s.store.Begin(r.Context(), s.now(), account.Session{Account: name, Program: orSay(strings.TrimSpace(f("program")), "program")})
	default:
		s.showMissing(w, r)
		return
	}
	var refused *account.Refused
	switch {
	case errors.As(err, &refused):
		p := speaks(r, s.store.State())
		v.Wrong, v.Hint = p.Say(refused.What), p.Say(refused.Advice)
		s.drawAccounts(w, r, http.StatusUnprocessableEntity, v)
	case err != nil:
		s.failWith(w, r, err)
	case v.Token != "":
		s.drawAccounts(w, r, http.StatusOK, v)
	default:
		http.Redirect(w, r, "/accounts", http.StatusSeeOther)
	}
}
