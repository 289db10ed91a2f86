package store

import (
	"context"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/jackc/pgx/v5/pgconn"

	"hopperful/fact"
	"hopperful/shop"
)

// whole reads all of the shop as it is at one moment.
func (p *onServer) whole(ctx context.Context) (w whole, err error) {
	err = trying(ctx, func() error {
		w, err = wholeOf(ctx, p.db, serverTables, &sql.TxOptions{Isolation: sql.LevelRepeatableRead, ReadOnly: true}, p.key)
		return err
	})
	return w, explain(err, "doing.reading", p.at.shown)
}

// backup writes the shop to a file, which is a shop of its own like any backup.
func (p *onServer) backup(ctx context.Context, path string) error {
	if err := unused(path); err != nil {
		return err
	}
	w, err := p.whole(ctx)
	if err != nil {
		return err
	}
	return w.writeFile(ctx, path)
}

// make writes a whole shop under the name of the address. What has that name is
// refused; with aside it takes that name instead.
func (p *onServer) make(ctx context.Context, w *whole, aside string) error {
	key := newShopKey()
	err := trying(ctx, func() error {
		tx, err := p.db.BeginTx(ctx, nil)
		if err != nil {
			return err
		}
		defer tx.Rollback()
		if made, err := one[string](tx.QueryRowContext(ctx, "SELECT key FROM hopperful.shop WHERE name = $1", p.at.name)); err != nil || made == key { // the last try counted after all
			return err
		}
		if aside != "" {
			if _, err := tx.ExecContext(ctx, "UPDATE hopperful.shop SET name = $2 WHERE name = $1", p.at.name, aside); err != nil {
				return err
			}
		}
		if _, err := tx.ExecContext(ctx, "INSERT INTO hopperful.shop (key, name, written_from) VALUES ($1, $2, $3)", key, p.at.name, w.writtenFrom); err != nil {
			return p.taken(err)
		}
		p.key = key
		if err := p.fill(ctx, tx, w); err != nil {
			return err
		}
		return tx.Commit()
	})
	return explain(err, "doing.making", p.at.shown)
}

// fill writes everything into an empty shop.
func (p *onServer) fill(ctx context.Context, tx *sql.Tx, w *whole) error {
	if len(w.rows) > 0 {
		if err := p.put(ctx, tx, w.end(), w.rows); err != nil {
			return err
		}
	}
	for _, k := range w.sent {
		if err := p.keep(ctx, tx, k.key, shop.RecordID(k.first), shop.RecordID(k.last)); err != nil {
			return err
		}
	}
	for _, a := range w.accounts {
		if _, err := tx.ExecContext(ctx, "INSERT INTO hopperful.account (shop, name, role, hash, since) VALUES ($1, $2, $3, $4, $5)", p.key, a.name, a.role, a.hash, a.since); err != nil {
			return err
		}
	}
	return nil
}

// taken says that the name is another shop's already.
func (p *onServer) taken(err error) error {
	var said *pgconn.PgError
	if errors.As(err, &said) && said.Code == "23505" {
		return &Error{Exists, fact.Say("store.shop_there", fact.Name("shown", p.at.shown)), fact.Say("store.do_open_or_rename"), nil}
	}
	return err
}

// createOnServer makes a new shop whose first records fill writes. They are written
// to a file first, so that the server has the shop whole or not at all.
func createOnServer(ctx context.Context, path string, o Options, fill func(*Store) error) (*Store, error) {
	p, err := toMake(ctx, path)
	if err != nil {
		return nil, err
	}
	defer p.db.Close()
	folder, err := os.MkdirTemp("", "hopperful-new-*")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	file := filepath.Join(folder, "shop")
	s, err := CreateWith(ctx, file, Options{}, fill)
	if err != nil {
		return nil, err
	}
	w, err := wholeOf(ctx, s.db, fileTables, nil)
	if err = errors.Join(err, s.Close()); err != nil {
		return nil, explain(err, "doing.making", p.at.shown)
	}
	if err := p.make(ctx, &w, ""); err != nil {
		return nil, err
	}
	return openServer(ctx, path, o)
}

// mostNewName is how long the name of a new shop may be; one that is put aside gets a longer.
const mostNewName = 64

// toMake connects to where a shop is to be made, and brings the database up to date.
func toMake(ctx context.Context, path string) (*onServer, error) {
	at, err := readAddress(path)
	if err != nil {
		return nil, err
	}
	if len(at.name) > mostNewName {
		return nil, &Error{Foreign, fact.Say("store.name_too_long", fact.Count("n", len(at.name)), fact.Count("most_new_name", mostNewName)), fact.Say("store.do_shorter"), nil}
	}
	p := &onServer{at: at}
	p.connect(Options{})
	if err := pgMigrate(ctx, p.db); err != nil {
		p.db.Close()
		return nil, explain(err, "doing.making", at.shown)
	}
	return p, nil
}

// verifyOnServer reads a whole shop without changing it.
func verifyOnServer(ctx context.Context, path string) (Verified, error) {
	at, err := readAddress(path)
	if err != nil {
		return Verified{}, err
	}
	p := &onServer{at: at}
	defer p.connect(Options{ReadOnly: true}).Close()
	if err := p.find(ctx); err != nil {
		return Verified{}, explain(err, "doing.reading", at.shown)
	}
	found := Verified{Form: p.form}
	var state *shop.State
	var end, noted tail
	err = trying(ctx, func() error {
		tx, err := p.db.BeginTx(ctx, &sql.TxOptions{Isolation: sql.LevelRepeatableRead, ReadOnly: true})
		if err != nil {
			return err
		}
		defer tx.Rollback()
		from := &source{reader: patient{p}, path: at.shown, db: p.db}
		if state, end, err = follow(ctx, tx, p, at.shown, nil, tail{}, from, nil); err != nil {
			return err
		}
		var sealed []byte
		err = tx.QueryRowContext(ctx, "SELECT written_from, newest, seal FROM hopperful.shop WHERE key = $1", p.key).Scan(&found.WrittenFrom, &noted.id, &sealed)
		copy(noted.seal[:], sealed)
		return err
	})
	if err != nil {
		return found, explain(err, "doing.reading", at.shown)
	}
	found.Records, found.Seal = state.History.Len(), hex.EncodeToString(end.seal[:])
	if found.Records > 0 {
		found.Newest = state.Newest().NotedAt
	}
	if noted != end {
		return found, damaged(at.shown, fmt.Errorf("record %d was the newest, %d is the newest that is there", noted.id, end.id))
	}
	return found, p.sound(ctx)
}

// sound checks that the rules which keep records as they are are still there.
func (p *onServer) sound(ctx context.Context) error {
	rules, err := one[int](p.db.QueryRowContext(ctx, `SELECT count(*) FROM pg_trigger
WHERE tgrelid = 'hopperful.record'::regclass AND tgname IN ('record_stays', 'record_stays_all', 'record_follows') AND tgenabled = 'O'`))
	if err == nil && rules != 3 {
		err = damaged(p.at.shown, errors.New("a rule that keeps records as they are is gone, or switched off"))
	}
	return explain(err, "doing.reading", p.at.shown)
}

// restoreToServer puts the shop of a backup on a server.
func restoreToServer(ctx context.Context, from, path string, now time.Time) (Restored, error) {
	found, err := Verify(ctx, from)
	if err != nil {
		return Restored{}, err
	}
	done := Restored{Verified: found}
	p, err := toMake(ctx, path)
	if err != nil {
		return done, err
	}
	defer p.db.Close()
	if Shown(from) == p.at.shown {
		return done, &Error{Exists, fact.Say("store.same_shop"), fact.Say("store.do_name_backup"), nil}
	}
	w, err := readWhole(ctx, from)
	if err != nil {
		return done, err
	}
	aside := asideName(p.at.name, "before", now)
	there, err := one[string](p.db.QueryRowContext(ctx, "SELECT key FROM hopperful.shop WHERE name = $1", p.at.name))
	if err != nil {
		return done, explain(err, "doing.restoring", p.at.shown)
	}
	if err := p.make(ctx, &w, aside); err != nil {
		return done, err
	}
	if there != "" {
		done.Kept = asideName(p.at.shown, "before", now)
	}
	return done, nil
}
