package store

import (
	"context"
	"crypto/rand"
	"database/sql"
	"encoding/hex"
	"errors"
	"time"

	"hopperful/fact"
	"hopperful/internal/account"
	"hopperful/shop"
)

// Bounds of accounts and log-ins: how many there may be, and how long a log-in of a
// person lasts.
const (
	mostAccounts = 500
	mostSessions = 64 // of an account; the one unused longest goes then
	SessionLife  = 30 * 24 * time.Hour
	seenEvery    = time.Minute // how exactly is kept when a log-in was last seen
)

// people is where the accounts of a shop are kept. The statements are those of a server,
// where the shop's key is the first parameter; for a file they are translated.
type people struct {
	db   *sql.DB
	key  string
	said func(string) string
}

// executor is a database or a transaction.
type executor interface {
	asker
	ExecContext(ctx context.Context, query string, args ...any) (sql.Result, error)
}

func (p people) do(ctx context.Context, on executor, statement string, args ...any) error {
	_, err := on.ExecContext(ctx, p.said(statement), append([]any{p.key}, args...)...)
	return err
}

func (p people) each(ctx context.Context, on executor, read func(*sql.Rows) error, statement string, args ...any) error {
	return each(ctx, on, p.said(statement), append([]any{p.key}, args...), read)
}

// roleOf is the role of an account, "" when there is none of that name, and whether
// there are any.
func (p people) roleOf(ctx context.Context, on executor, name string) (role account.Role, any bool, err error) {
	err = p.each(ctx, on, func(rows *sql.Rows) error {
		any = true
		var who string
		var has account.Role
		err := rows.Scan(&who, &has)
		if who == name {
			role = has
		}
		return err
	}, "SELECT name, role FROM hopperful.account WHERE shop = $1")
	return role, any, err
}

// permitted refuses what who asks may not write, in the transaction that writes it, so
// that a role that was taken away counts at once. It is the one place where that is
// decided. Records that name nobody carry the account's name.
func (w *writing) permitted(ctx context.Context, tx *sql.Tx, was *shop.State) ([]shop.Record, error) {
	who := account.Asks(w.ctx)
	role, any, err := w.s.medium.people().roleOf(ctx, w.s.medium.within(tx), who)
	switch {
	case err != nil:
		return nil, err
	case !any:
		return w.list, nil
	case role == "":
		return nil, account.ErrUnknown()
	}
	list := append([]shop.Record(nil), w.list...)
	for i, r := range list {
		if r.Body == nil {
			continue // which the shop refuses in its own words
		}
		asked := account.Needs(r.Body.Kind())
		if _, strikes := r.Body.(*shop.Void); strikes {
			asked = account.Own
			if n := int(r.Corrects); n >= 1 && n <= was.History.Len() {
				asked = account.Needs(was.History.At(n - 1).Body.Kind())
			}
		}
		if err := account.Check(who, role, asked); err != nil {
			return nil, err
		}
		if r.By == "" {
			list[i].By = who
		}
	}
	return list, nil
}

// alter changes accounts in a transaction in which nobody else does, after it was seen
// that who asks may. The first account of a shop is made by whoever has the shop.
func (s *Store) alter(ctx context.Context, own string, do func(p people, tx *sql.Tx) error) error {
	if s.readOnly {
		return &Error{ReadOnly, fact.Say("store.read_only", fact.Name("path", s.path)), fact.Saying{}, nil}
	}
	s.writing.Lock()
	defer s.writing.Unlock()
	if s.closed {
		return s.isClosed()
	}
	err := s.medium.write(ctx, func(ctx context.Context, tx *sql.Tx) error {
		p, who := s.medium.people(), account.Asks(ctx)
		role, any, err := p.roleOf(ctx, tx, who)
		switch {
		case err != nil:
			return err
		case any && role == "":
			return account.ErrUnknown()
		case any && (own == "" || own != who):
			if err := account.Check(who, role, account.Own); err != nil {
				return err
			}
		}
		return do(p, tx)
	})
	s.peopleSeen.Store(nil)
	if err == nil {
		s.medium.written()
	}
	var barred *account.Refused
	if errors.As(err, &barred) {
		return err
	}
	return explain(err, "doing.writing_to", s.path)
}

// Accounts are all accounts of the shop.
func (s *Store) Accounts(ctx context.Context) ([]account.Account, error) {
	if !s.knowsAccounts() {
		return nil, nil
	}
	var list []account.Account
	p := s.medium.people()
	err := p.each(ctx, p.db, func(rows *sql.Rows) error {
		var a account.Account
		var since string
		err := rows.Scan(&a.Name, &a.Role, &a.Hash, &since)
		if err == nil {
			a.Since, err = time.Parse(form, since)
		}
		list = append(list, a)
		return err
	}, "SELECT name, role, hash, since FROM hopperful.account WHERE shop = $1 ORDER BY name")
	return list, explain(err, "doing.reading", s.path)
}

// knowsAccounts says whether the shop has room for accounts: older files that are only
// looked at have not.
func (s *Store) knowsAccounts() bool {
	f, ok := s.medium.(inFile)
	return !ok || f.form > 2
}

// hadAccounts is how long it is believed whether a shop has accounts: other programs on
// a server may make the first.
const hadAccounts = time.Second

// seenPeople is whether there were accounts, and when that was seen.
type seenPeople struct {
	any bool
	at  time.Time
}

// HasAccounts says whether the shop has accounts, so that it must be known who asks.
func (s *Store) HasAccounts(ctx context.Context) (bool, error) {
	if seen := s.peopleSeen.Load(); seen != nil && (seen.any || time.Since(seen.at) < hadAccounts) {
		return seen.any, nil // once there are, the last owner cannot go
	}
	list, err := s.Accounts(ctx)
	if err != nil {
		return true, err
	}
	s.peopleSeen.Store(&seenPeople{len(list) > 0, time.Now()})
	return len(list) > 0, nil
}

// AddAccount makes an account. The first must own the shop.
func (s *Store) AddAccount(ctx context.Context, now time.Time, name string, role account.Role, passphrase string) error {
	if err := account.CheckName(name); err != nil {
		return err
	}
	if _, err := account.ReadRole(string(role)); err != nil {
		return err
	}
	hash, err := account.Hash(passphrase)
	if err != nil {
		return err
	}
	return s.alter(ctx, "", func(p people, tx *sql.Tx) error {
		n := 0
		taken := false
		if err := p.each(ctx, tx, func(rows *sql.Rows) error {
			var there string
			err := rows.Scan(&there)
			n++
			taken = taken || there == name
			return err
		}, "SELECT name FROM hopperful.account WHERE shop = $1"); err != nil {
			return err
		}
		switch {
		case taken:
			return &account.Refused{What: fact.Say("store.account_there", fact.Name("name", name)), Advice: fact.Say("store.do_other_account")}
		case n >= mostAccounts:
			return &account.Refused{What: fact.Say("store.accounts_full", fact.Count("n", n)), Advice: fact.Say("store.do_remove_unneeded")}
		case n == 0 && role != account.Own:
			return &account.Refused{What: fact.Say("store.first_must_own"), Advice: fact.Say("store.do_role_own")}
		}
		return p.do(ctx, tx, "INSERT INTO hopperful.account (shop, name, role, hash, since) VALUES ($1, $2, $3, $4, $5)", name, string(role), hash, now.Format(form))
	})
}

// ChangeAccount gives an account another role, another passphrase, or both; what is
// empty stays. A new passphrase ends its log-ins. People may change their own passphrase.
func (s *Store) ChangeAccount(ctx context.Context, name string, role account.Role, passphrase string) error {
	own, hash := "", ""
	if role == "" {
		own = name
	} else if _, err := account.ReadRole(string(role)); err != nil {
		return err
	}
	if passphrase != "" {
		var err error
		if hash, err = account.Hash(passphrase); err != nil {
			return err
		}
	}
	return s.alter(ctx, own, func(p people, tx *sql.Tx) error {
		if err := p.there(ctx, tx, name); err != nil {
			return err
		}
		if role != "" {
			if err := p.do(ctx, tx, "UPDATE hopperful.account SET role = $3 WHERE shop = $1 AND name = $2", name, string(role)); err != nil {
				return err
			}
		}
		if hash != "" {
			if err := p.do(ctx, tx, "UPDATE hopperful.account SET hash = $3 WHERE shop = $1 AND name = $2", name, hash); err != nil {
				return err
			}
			if err := p.do(ctx, tx, "DELETE FROM hopperful.session WHERE shop = $1 AND account = $2", name); err != nil {
				return err
			}
		}
		return p.owned(ctx, tx)
	})
}

// RemoveAccount takes an account away, with its log-ins and tokens.
func (s *Store) RemoveAccount(ctx context.Context, name string) error {
	return s.alter(ctx, "", func(p people, tx *sql.Tx) error {
		if err := p.there(ctx, tx, name); err != nil {
			return err
		}
		if err := p.do(ctx, tx, "DELETE FROM hopperful.account WHERE shop = $1 AND name = $2", name); err != nil {
			return err
		}
		return p.owned(ctx, tx)
	})
}

// there refuses a name that no account has.
func (p people) there(ctx context.Context, tx *sql.Tx, name string) error {
	role, _, err := p.roleOf(ctx, tx, name)
	if err == nil && role == "" {
		err = &account.Refused{What: fact.Say("store.no_account", fact.Name("name", name)), Advice: fact.Say("store.do_account_list")}
	}
	return err
}

// owned refuses a shop that nobody owns any more.
func (p people) owned(ctx context.Context, tx *sql.Tx) error {
	owner := false
	err := p.each(ctx, tx, func(*sql.Rows) error { owner = true; return nil }, "SELECT name FROM hopperful.account WHERE shop = $1 AND role = 'own'")
	if err == nil && !owner {
		err = &account.Refused{What: fact.Say("store.no_owner_left"), Advice: fact.Say("store.do_other_owner")}
	}
	return err
}

// Login is the session of who knows the passphrase of an account; false when it does
// not fit, which takes as long when nobody has that name.
func (s *Store) Login(ctx context.Context, name, passphrase string) (bool, error) {
	list, err := s.Accounts(ctx)
	hash := account.Nobody()
	for _, a := range list {
		if a.Name == name {
			hash = a.Hash
		}
	}
	return account.Fits(hash, passphrase) && err == nil, err
}

// Begin opens a session of an account and returns its token, which is not kept. For a
// program it lasts until it is ended. Who asks must be that account, own the shop, or have
// just shown the account's passphrase: the caller says so in ctx.
func (s *Store) Begin(ctx context.Context, now time.Time, of account.Session) (string, error) {
	token, kept := account.NewToken()
	id := make([]byte, 8)
	rand.Read(id) // never fails; see crypto/rand
	err := s.alter(ctx, of.Account, func(p people, tx *sql.Tx) error {
		if err := p.there(ctx, tx, of.Account); err != nil {
			return err
		}
		if err := p.do(ctx, tx, `DELETE FROM hopperful.session WHERE shop = $1 AND account = $2 AND token NOT IN
(SELECT token FROM hopperful.session WHERE shop = $1 AND account = $2 ORDER BY seen DESC LIMIT $3)`, of.Account, mostSessions-1); err != nil {
			return err
		}
		return p.do(ctx, tx, "INSERT INTO hopperful.session (shop, token, id, account, program, device, address, begun, seen) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $8)",
			kept, hex.EncodeToString(id), of.Account, of.Program, of.Device, of.Address, stamp(now))
	})
	return token, err
}

// stamp is a moment in UTC, so that moments sort as texts.
func stamp(t time.Time) string { return t.UTC().Format("2006-01-02T15:04:05Z") }

// SessionOf is the session of a token; false when there is none, or it is over. When it was
// seen is noted where that can be: a full disk keeps nobody from looking.
func (s *Store) SessionOf(ctx context.Context, now time.Time, token, address string) (account.Session, bool, error) {
	if !s.knowsAccounts() {
		return account.Session{}, false, nil
	}
	list, err := s.sessions(ctx, "token = $2", account.TokenHash(token))
	if err != nil || len(list) == 0 {
		return account.Session{}, false, err
	}
	own := list[0]
	if own.Program == "" && now.Sub(own.Begun) >= SessionLife {
		return own, false, nil
	}
	if !s.readOnly && (now.Sub(own.Seen) >= seenEvery || own.Address != address && address != "") {
		p := s.medium.people()
		_ = p.do(ctx, p.db, "UPDATE hopperful.session SET seen = $3, address = $4 WHERE shop = $1 AND token = $2", account.TokenHash(token), stamp(now), address)
	}
	return own, true, nil
}

// Sessions are the log-ins and tokens of an account, of all for "", the one used last first.
func (s *Store) Sessions(ctx context.Context, of string) ([]account.Session, error) {
	return s.sessions(ctx, "($2 = '' OR session.account = $2)", of)
}

func (s *Store) sessions(ctx context.Context, which string, args ...any) ([]account.Session, error) {
	var list []account.Session
	p := s.medium.people()
	err := p.each(ctx, p.db, func(rows *sql.Rows) error {
		var o account.Session
		var begun, seen string
		err := rows.Scan(&o.ID, &o.Account, &o.Role, &o.Program, &o.Device, &o.Address, &begun, &seen)
		if err == nil {
			o.Begun, err = time.Parse(time.RFC3339, begun)
		}
		if err == nil {
			o.Seen, err = time.Parse(time.RFC3339, seen)
		}
		list = append(list, o)
		return err
	}, `SELECT session.id, session.account, account.role, session.program, session.device, session.address, session.begun, session.seen
FROM hopperful.session AS session JOIN hopperful.account AS account ON account.shop = session.shop AND account.name = session.account
WHERE session.shop = $1 AND `+which+" ORDER BY session.seen DESC, session.id", args...)
	return list, explain(err, "doing.reading", s.path)
}

// End ends the session of that name, all of the account's for "". People end their own;
// owners anybody's.
func (s *Store) End(ctx context.Context, of, id string) error {
	return s.alter(ctx, of, func(p people, tx *sql.Tx) error {
		return p.do(ctx, tx, "DELETE FROM hopperful.session WHERE shop = $1 AND account = $2 AND ($3 = '' OR id = $3)", of, id)
	})
}
