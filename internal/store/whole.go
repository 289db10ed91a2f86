package store

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"

	"hopperful/shop"
)

// whole is all that a shop is: its records as they stand, seals and all, and what
// lies beside them. Log-ins are not part of it: they belong to where they were made.
type whole struct {
	rows        []row
	writtenFrom int64
	sent        []sentKey
	accounts    []accountRow
}

// sentKey is what was written with a key.
type sentKey struct {
	key         string
	first, last int64
}

// accountRow is an account as it is kept.
type accountRow struct{ name, role, hash, since string }

// tables are the statements by which a whole shop is read from a medium.
type tables struct{ rows, chain, sent, accounts string }

var fileTables = tables{
	rows:     "SELECT id, kind, at, noted_at, by, note, coalesce(corrects, 0), body, seal FROM record ORDER BY id",
	chain:    "SELECT written_from FROM chain",
	sent:     "SELECT key, first, last FROM sent ORDER BY key",
	accounts: "SELECT name, role, hash, since FROM account ORDER BY name",
}

var serverTables = tables{
	rows:     "SELECT id, kind, at, noted_at, by, note, coalesce(corrects, 0), body, seal FROM hopperful.record WHERE shop = $1 ORDER BY id",
	chain:    "SELECT written_from FROM hopperful.shop WHERE key = $1",
	sent:     "SELECT key, first, last FROM hopperful.sent WHERE shop = $1 ORDER BY key",
	accounts: "SELECT name, role, hash, since FROM hopperful.account WHERE shop = $1 ORDER BY name",
}

// read reads a whole shop in a transaction; args are those of every statement.
func (t tables) read(ctx context.Context, tx *sql.Tx, args ...any) (whole, error) {
	var w whole
	rows, err := tx.QueryContext(ctx, t.rows, args...)
	if err != nil {
		return w, err
	}
	if w.rows, err = readRows(rows); err != nil {
		return w, err
	}
	if err := tx.QueryRowContext(ctx, t.chain, args...).Scan(&w.writtenFrom); err != nil {
		return w, err
	}
	err = each(ctx, tx, t.sent, args, func(rows *sql.Rows) error {
		var k sentKey
		err := rows.Scan(&k.key, &k.first, &k.last)
		w.sent = append(w.sent, k)
		return err
	})
	if err != nil {
		return w, err
	}
	return w, each(ctx, tx, t.accounts, args, func(rows *sql.Rows) error {
		var a accountRow
		err := rows.Scan(&a.name, &a.role, &a.hash, &a.since)
		w.accounts = append(w.accounts, a)
		return err
	})
}

// each does something with each row of an answer.
func each(ctx context.Context, db asker, statement string, args []any, do func(*sql.Rows) error) error {
	rows, err := db.QueryContext(ctx, statement, args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		if err := do(rows); err != nil {
			return err
		}
	}
	return rows.Err()
}

// end is the end of the log.
func (w *whole) end() tail {
	if len(w.rows) == 0 {
		return tail{}
	}
	last := w.rows[len(w.rows)-1]
	return tail{shop.RecordID(last.id), seal(last.seal)}
}

// readWhole reads a shop wherever it is. A file of an older form is brought up to
// date in a copy.
func readWhole(ctx context.Context, path string) (whole, error) {
	if OnServer(path) {
		at, err := readAddress(path)
		if err != nil {
			return whole{}, err
		}
		p := &onServer{at: at}
		defer p.connect(Options{ReadOnly: true}).Close()
		if err := p.find(ctx); err != nil {
			return whole{}, err
		}
		return p.whole(ctx)
	}
	folder, err := os.MkdirTemp("", "hopperful-whole-*")
	if err != nil {
		return whole{}, err
	}
	defer os.RemoveAll(folder)
	upToDate := filepath.Join(folder, "copy")
	if err := copyWhole(ctx, path, upToDate); err != nil {
		return whole{}, err
	}
	s, err := Open(ctx, upToDate, Options{})
	if err != nil {
		return whole{}, err
	}
	w, err := wholeOf(ctx, s.db, fileTables, nil)
	return w, errors.Join(err, s.Close())
}

// wholeOf reads a whole shop as it is at one moment.
func wholeOf(ctx context.Context, db *sql.DB, t tables, o *sql.TxOptions, args ...any) (whole, error) {
	tx, err := db.BeginTx(ctx, o)
	if err != nil {
		return whole{}, err
	}
	defer tx.Rollback()
	return t.read(ctx, tx, args...)
}

// writeFile writes a whole shop to a new file, complete or not at all.
func (w *whole) writeFile(ctx context.Context, path string) error {
	part := path + ".part"
	leftovers := []string{part, part + "-journal", part + "-wal", part + "-shm"}
	if err := removeIfAny(leftovers...); err != nil {
		return explain(err, "doing.writing", path)
	}
	err := begin(ctx, part)
	if err == nil {
		err = explain(w.fill(ctx, part), "doing.writing", path)
	}
	if err == nil {
		err = explain(place(part, path), "doing.writing", path)
	}
	return errors.Join(err, removeIfAny(leftovers...))
}

// fill writes everything into an empty file.
func (w *whole) fill(ctx context.Context, path string) error {
	db, err := connect(path, Options{})
	if err != nil {
		return err
	}
	defer db.Close()
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	stmt, err := tx.PrepareContext(ctx, queryAppend)
	if err != nil {
		return err
	}
	defer stmt.Close()
	for _, r := range w.rows {
		if _, err := stmt.ExecContext(ctx, r.id, r.kind, r.at, r.noted, r.by, r.note, r.corrects, r.body, r.seal); err != nil {
			return err
		}
	}
	if _, err := tx.ExecContext(ctx, "UPDATE chain SET written_from = ?1", w.writtenFrom); err != nil {
		return err
	}
	for _, k := range w.sent {
		if _, err := tx.ExecContext(ctx, "INSERT INTO sent (shop, key, first, last) VALUES ('', ?1, ?2, ?3)", k.key, k.first, k.last); err != nil {
			return err
		}
	}
	for _, a := range w.accounts {
		if _, err := tx.ExecContext(ctx, "INSERT INTO account (shop, name, role, hash, since) VALUES ('', ?1, ?2, ?3, ?4)", a.name, a.role, a.hash, a.since); err != nil {
			return err
		}
	}
	if err := tx.Commit(); err != nil {
		return err
	}
	_, err = db.ExecContext(ctx, "PRAGMA journal_mode(DELETE)") // so that all of it is in the file
	return errors.Join(err, db.Close())
}
