package store

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hopperful/internal/account"
	"hopperful/shop"
)

const words = "four loud mills"

// barred says whether err is a refusal that says so.
func barred(err error, say string) bool {
	var refused *account.Refused
	return errors.As(err, &refused) && strings.Contains(worded(refused), say)
}

// TestContractRoles: what a role may not do is refused where it is written, at once when
// it was taken away, also by another opening of the shop.
func TestContractRoles(t *testing.T) {
	t.Parallel()
	onBoth(t, func(t *testing.T, place func(*testing.T) string) {
		path := place(t)
		s := begun(t, path)
		mustAppend(t, s, scrap(1)) // a shop without accounts is open to whoever has it
		if err := s.AddAccount(t.Context(), opening, "Ada", account.Plan, words); !barred(err, "must own") {
			t.Errorf("the first: %v", err)
		}
		if err := s.AddAccount(t.Context(), opening, "Ada", account.Own, words); err != nil {
			t.Fatal(err)
		}
		ada := account.As(t.Context(), "Ada")
		for name, role := range map[string]account.Role{"Ben": account.Record, "Cas": account.Look, "Dot": account.Plan} {
			if err := s.AddAccount(t.Context(), opening, name, role, words); !barred(err, "not known who asks") {
				t.Errorf("by nobody: %v", err)
			}
			if err := s.AddAccount(ada, opening, name, role, words); err != nil {
				t.Fatal(err)
			}
		}
		if err := s.AddAccount(ada, opening, "Ben", account.Look, words); !barred(err, "already") {
			t.Errorf("a second Ben: %v", err)
		}
		mill, limits := shop.Record{Body: &shop.MillSet{Mill: shop.Mill{Name: "shredder"}}}, shop.Record{Body: &shop.ShopSet{Name: "North"}}
		for who, may := range map[string][3]bool{"": {}, "Eve": {}, "Cas": {}, "Ben": {true}, "Dot": {true, true}, "Ada": {true, true, true}} {
			for i, r := range []shop.Record{scrap(1), mill, limits} {
				_, err := s.Append(account.As(t.Context(), who), opening, r)
				if (err == nil) != may[i] || err != nil && !barred(err, "") {
					t.Errorf("%q writes %s: %v", who, r.Body.Kind(), err)
				}
			}
		}
		if r := s.State().Newest(); r.By == "" {
			t.Errorf("nobody wrote %+v", r)
		}
		// What strikes out a record asks for the role of that.
		ben := account.As(t.Context(), "Ben")
		for n, struck := range map[shop.RecordID]bool{1: true, 2: true} {
			_, isMill := s.State().History.At(int(n) - 1).Body.(*shop.MillSet)
			_, isLimits := s.State().History.At(int(n) - 1).Body.(*shop.ShopSet)
			_, err := s.Append(ben, opening, shop.Record{Corrects: n, Body: &shop.Void{Why: "slip"}})
			if (err == nil) != (struck && !isMill && !isLimits) {
				t.Errorf("Ben strikes out record %d: %v", n, err)
			}
		}
		if err := s.ChangeAccount(ben, "Ben", account.Own, ""); !barred(err, "role own") {
			t.Errorf("Ben makes himself owner: %v", err)
		}
		if err := s.ChangeAccount(ben, "Cas", "", words+words); !barred(err, "role own") {
			t.Errorf("Ben changes the passphrase of Cas: %v", err)
		}
		if err := errors.Join(s.ChangeAccount(ben, "Ben", "", "three wet dryers"), s.ChangeAccount(ada, "Ben", account.Look, "")); err != nil {
			t.Error(err)
		}
		if _, err := s.Append(ben, opening, scrap(1)); !barred(err, "Ben has look") {
			t.Errorf("with a role that was taken away: %v", err)
		}
		for _, err := range []error{s.RemoveAccount(ada, "Ada"), s.ChangeAccount(ada, "Ada", account.Plan, "")} {
			if !barred(err, "Nobody would own") {
				t.Errorf("the last owner: %v", err)
			}
		}
		s.Close()
		again := open(t, path, Options{})
		if any, err := again.HasAccounts(t.Context()); err != nil || !any {
			t.Errorf("opened anew: %v, %v", any, err)
		}
		if _, err := again.Append(t.Context(), opening, scrap(1)); !barred(err, "not known who asks") {
			t.Errorf("opened anew, by nobody: %v", err)
		}
	})
}

// TestContractSessions: who knows the passphrase gets a token, what is kept of it opens
// nothing, and it ends after its time, when it is ended, and with another passphrase.
func TestContractSessions(t *testing.T) {
	t.Parallel()
	onBoth(t, func(t *testing.T, place func(*testing.T) string) {
		s := begun(t, place(t))
		if err := s.AddAccount(t.Context(), opening, "Ada", account.Own, words); err != nil {
			t.Fatal(err)
		}
		ada := account.As(t.Context(), "Ada")
		if err := s.AddAccount(ada, opening, "Ben", account.Record, words+" of ben"); err != nil {
			t.Fatal(err)
		}
		for who, want := range map[string]map[string]bool{"Ada": {words: true, words + " of ben": false, "": false}, "Eve": {words: false, "": false}} {
			for said, fits := range want {
				if in, err := s.Login(t.Context(), who, said); in != fits || err != nil {
					t.Errorf("%s says %q: %v, %v", who, said, in, err)
				}
			}
		}
		begin := func(who, program string) string {
			token, err := s.Begin(account.As(t.Context(), who), opening, account.Session{Account: who, Program: program, Device: "Firefox", Address: "10.0.0.8"})
			if err != nil {
				t.Fatal(err)
			}
			return token
		}
		in := func(token string, at time.Time) account.Session {
			own, ok, err := s.SessionOf(t.Context(), at, token, "10.0.0.9")
			if err != nil {
				t.Fatal(err)
			}
			if !ok {
				return account.Session{}
			}
			return own
		}
		phone, desk, scale := begin("Ben", ""), begin("Ben", ""), begin("Ben", "scale")
		if own := in(phone, opening.Add(time.Hour)); own.Account != "Ben" || own.Role != account.Record || own.Program != "" || own.Device != "Firefox" {
			t.Errorf("the phone: %+v", own)
		}
		if own := in(scale, opening.Add(1000*time.Hour)); own.Program != "scale" {
			t.Errorf("a program's token: %+v", own)
		}
		if in(phone+"x", opening) != (account.Session{}) || in("", opening) != (account.Session{}) || in(desk, opening.Add(SessionLife)) != (account.Session{}) {
			t.Error("a token that is none, or is over, opens")
		}
		list, err := s.Sessions(t.Context(), "Ben")
		if err != nil || len(list) != 3 || list[0].Program != "scale" || list[1].Address != "10.0.0.9" || !list[1].Seen.Equal(opening.Add(time.Hour)) {
			t.Errorf("%+v, %v", list, err)
		}
		if err := s.End(account.As(t.Context(), "Eve"), "Ben", ""); err == nil || in(phone, opening) == (account.Session{}) {
			t.Errorf("ended by a stranger: %v", err)
		}
		if err := s.End(account.As(t.Context(), "Ben"), "Ben", in(phone, opening).ID); err != nil || in(phone, opening) != (account.Session{}) || in(desk, opening) == (account.Session{}) {
			t.Errorf("the phone is ended: %v", err)
		}
		if err := s.ChangeAccount(account.As(t.Context(), "Ben"), "Ben", "", "three wet dryers"); err != nil || in(desk, opening) != (account.Session{}) || in(scale, opening) != (account.Session{}) {
			t.Errorf("another passphrase ends them all: %v", err)
		}
		desk = begin("Ben", "")
		for range mostSessions + 3 {
			begin("Ada", "")
		}
		if list, err := s.Sessions(t.Context(), "Ada"); err != nil || len(list) > mostSessions {
			t.Errorf("%d sessions of Ada, %v", len(list), err)
		}
		if err := s.RemoveAccount(ada, "Ben"); err != nil || in(desk, opening) != (account.Session{}) {
			t.Errorf("of an account that is gone: %v", err)
		}
		saved := filepath.Join(t.TempDir(), "saved")
		if err := s.Backup(t.Context(), saved); err != nil {
			t.Fatal(err)
		}
		copied := open(t, saved, Options{})
		if in, err := copied.Login(t.Context(), "Ada", words); !in || err != nil {
			t.Errorf("a backup does not know Ada: %v", err)
		}
	})
}

// TestALogInOpensWhereNothingCanBeNoted: that a disk takes no more, when a log-in was last
// seen, keeps nobody from looking.
func TestALogInOpensWhereNothingCanBeNoted(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	if err := s.AddAccount(t.Context(), opening, "Ada", account.Own, words); err != nil {
		t.Fatal(err)
	}
	token, err := s.Begin(account.As(t.Context(), "Ada"), opening, account.Session{Account: "Ada"})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.db.ExecContext(t.Context(), "CREATE TRIGGER full BEFORE UPDATE ON session BEGIN SELECT RAISE(ABORT, 'full'); END"); err != nil {
		t.Fatal(err)
	}
	if own, ok, err := s.SessionOf(t.Context(), opening.Add(time.Hour), token, "10.0.0.9"); !ok || err != nil || own.Account != "Ada" {
		t.Errorf("%+v, %v, %v", own, ok, err)
	}
}
