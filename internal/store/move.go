package store

import (
	"hopperful/fact"

	"context"
	"errors"
	"io/fs"
	"os"
	"time"
)

// Moved is what a move did.
type Moved struct {
	Verified
	Kept string // what the shop that was moved away is called now
}

// Move takes a shop from a file to a server or back: every record with its seal, the
// keys it was sent with and the accounts. The new one is verified and compared before
// the old one is put aside under another name; until then nothing has changed there.
func Move(ctx context.Context, from, to string, now time.Time) (Moved, error) {
	was, err := Verify(ctx, from)
	if err != nil {
		return Moved{}, err
	}
	done := Moved{Verified: was}
	if !OnServer(from) && was.Form < len(migrations) { // brought up to date first, beside a copy, as at any opening
		s, err := Open(ctx, from, Options{})
		if err != nil {
			return done, err
		}
		if err := s.Close(); err != nil {
			return done, err
		}
	}
	if !OnServer(to) {
		if err := vacant(to); err != nil {
			return done, err
		}
	}
	release, putAside, err := hold(ctx, from, now)
	if err != nil {
		return done, err
	}
	defer release()
	if done.Verified, err = copied(ctx, from, to); err != nil {
		return done, err
	}
	if done.Kept, err = putAside(); err != nil {
		return done, explain(err, "doing.putting_aside", Shown(from))
	}
	return done, nil
}

// copied writes the shop anew and holds the copy against it.
func copied(ctx context.Context, from, to string) (Verified, error) {
	before, err := Verify(ctx, from)
	if err != nil {
		return before, err
	}
	w, err := readWhole(ctx, from)
	if err != nil {
		return before, err
	}
	if OnServer(to) {
		p, err := toMake(ctx, to)
		if err != nil {
			return before, err
		}
		defer p.db.Close()
		err = p.make(ctx, &w, "")
		if err != nil {
			return before, err
		}
	} else {
		l, err := takeLease(to, time.Now())
		if err != nil {
			return before, err
		}
		defer l.release()
		if err := w.writeFile(ctx, followed(to)); err != nil {
			return before, err
		}
	}
	after, err := Verify(ctx, to)
	if err != nil {
		return after, err
	}
	if after.Records != before.Records || after.Seal != before.Seal || after.WrittenFrom != before.WrittenFrom {
		return after, &Error{Damaged, fact.Say("store.move_differs", fact.Name("to", Shown(to)), fact.Count("records", int(after.Records)), fact.Name("from", Shown(from)), fact.Count("records2", int(before.Records))),
			fact.Say("store.do_go_on"), nil}
	}
	return after, nil
}

// hold keeps everybody from writing to a shop, and returns what ends that and what
// gives the shop another name.
func hold(ctx context.Context, path string, now time.Time) (release func(), putAside func() (string, error), err error) {
	if OnServer(path) {
		return holdOnServer(ctx, path, now)
	}
	l, err := takeLease(path, now)
	if err != nil {
		return nil, nil, err
	}
	name := followed(path)
	return l.release, func() (string, error) {
		kept := asideName(name, "moved", now)
		if _, err := os.Lstat(kept); err == nil {
			return "", &Error{Exists, fact.Say("store.kept_there", fact.Name("kept", kept)), fact.Say("store.do_move_new_shop"), nil}
		}
		if err := os.Rename(name+"-wal", kept+"-wal"); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return "", err
		}
		return kept, errors.Join(os.Rename(name, kept), removeIfAny(name+"-shm"))
	}, nil
}

// holdOnServer holds the shop's row, which whoever writes needs.
func holdOnServer(ctx context.Context, path string, now time.Time) (func(), func() (string, error), error) {
	at, err := readAddress(path)
	if err != nil {
		return nil, nil, err
	}
	at.config.RuntimeParams["idle_in_transaction_session_timeout"] = "0" // what is read meanwhile may take its time
	p := &onServer{at: at}
	p.connect(Options{})
	if err := p.find(ctx); err != nil {
		p.db.Close()
		return nil, nil, explain(err, "doing.moving", at.shown)
	}
	tx, err := p.db.BeginTx(ctx, nil)
	if err == nil {
		_, err = tx.ExecContext(ctx, "SELECT 1 FROM hopperful.shop WHERE key = $1 FOR UPDATE", p.key)
	}
	if err != nil {
		p.db.Close()
		return nil, nil, explain(err, "doing.moving", at.shown)
	}
	release := func() {
		_ = tx.Rollback() // over, where it was put aside
		p.db.Close()
	}
	return release, func() (string, error) {
		kept := asideName(at.name, "moved", now)
		if _, err := tx.ExecContext(ctx, "UPDATE hopperful.shop SET name = $2 WHERE key = $1", p.key, kept); err != nil {
			return "", err
		}
		return asideName(at.shown, "moved", now), tx.Commit()
	}, nil
}
