package store

import (
	"context"
	"database/sql"
	"strings"

	"hopperful/shop"
)

// reader reads the records of one shop.
type reader interface {
	// rows reads the records after the end that is known as they stand, at most so many, 0
	// for all; each must follow the one before it.
	rows(ctx context.Context, db asker, known tail, most int) ([]row, tail, error)
	// sealOf is the seal of a record that is there.
	sealOf(ctx context.Context, db asker, id shop.RecordID) (seal, error)
	// sealed says whether records have seals: they do but in files of the first form.
	sealed() bool
	// again connects anew, for a state that outlives its store.
	again(ctx context.Context) (*sql.DB, error)
}

// medium is where the records of one shop lie, a file or a server, and how a
// write to them is made whole. All that is above it is the same for both.
type medium interface {
	reader
	// within is the transaction of a write, for what it asks.
	within(tx *sql.Tx) executor
	// insert writes records after the end that is there.
	insert(ctx context.Context, tx *sql.Tx, end tail, list []shop.Record) (tail, error)
	// write runs do in a transaction during which nobody else writes to the shop.
	// It may run do again when the first time did not count, or may not have.
	write(ctx context.Context, do func(context.Context, *sql.Tx) error) error
	// sent is what was written with a key; false when nothing was.
	sent(ctx context.Context, tx *sql.Tx, key string) (first, last shop.RecordID, known bool, err error)
	// keep notes what was written with a key.
	keep(ctx context.Context, tx *sql.Tx, key string, first, last shop.RecordID) error
	// backup writes the whole shop to a new file.
	backup(ctx context.Context, path string) error
	// people is where accounts are kept, and the shop's key there.
	people() people
	// written is told of each write.
	written()
}

// ofFile reads a file of some form.
type ofFile struct {
	path string
	form int
}

func (f ofFile) rows(ctx context.Context, db asker, known tail, most int) ([]row, tail, error) {
	return rowsAfter(ctx, db, f.form, known, most)
}

func (f ofFile) sealOf(ctx context.Context, db asker, id shop.RecordID) (seal, error) {
	return sealOf(ctx, db, querySealOf, int64(id))
}

func (f ofFile) sealed() bool { return f.form > 1 }

func (f ofFile) again(ctx context.Context) (*sql.DB, error) {
	db, _, err := lookAt(ctx, f.path, Options{})
	return db, err
}

// inFile is a shop in a file of its own.
type inFile struct {
	ofFile
	s *Store
}

func (f inFile) insert(ctx context.Context, tx *sql.Tx, end tail, list []shop.Record) (tail, error) {
	stmt, err := f.s.prepared(ctx, queryAppend)
	if err != nil {
		return end, err
	}
	return insert(ctx, tx.StmtContext(ctx, stmt), end, list)
}

// write needs no lock here: SQLite lets one transaction write at a time. Nothing in it waits for
// longer than the lock of a file, and to watch for an end of waiting costs more than the writing.
func (f inFile) write(ctx context.Context, do func(context.Context, *sql.Tx) error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	ctx = context.WithoutCancel(ctx)
	tx, err := f.s.db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if err := do(ctx, tx); err != nil {
		return err
	}
	return tx.Commit()
}

func (f inFile) sent(ctx context.Context, tx *sql.Tx, key string) (first, last shop.RecordID, known bool, err error) {
	return span(tx.QueryRowContext(ctx, "SELECT first, last FROM sent WHERE key = ?1", key))
}

func (f inFile) keep(ctx context.Context, tx *sql.Tx, key string, first, last shop.RecordID) error {
	_, err := tx.ExecContext(ctx, "INSERT INTO sent (shop, key, first, last) VALUES ('', ?1, ?2, ?3)", key, int64(first), int64(last))
	return err
}

func (f inFile) backup(ctx context.Context, path string) error { return backup(ctx, f.s.db, path) }

func (f inFile) people() people {
	return people{f.s.db, "", strings.NewReplacer("hopperful.", "", "$", "?").Replace}
}

func (f inFile) within(tx *sql.Tx) executor { return quick{tx, f.s} }

// quick is a transaction whose questions are prepared once for all: to prepare one takes
// longer than to carry it out.
type quick struct {
	*sql.Tx
	s *Store
}

func (q quick) QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error) {
	stmt, err := q.s.prepared(ctx, query)
	if err != nil {
		return nil, err
	}
	return q.StmtContext(ctx, stmt).QueryContext(ctx, args...)
}

// prepared is a statement of the writes to a file. The caller holds s.writing.
func (s *Store) prepared(ctx context.Context, query string) (*sql.Stmt, error) {
	if stmt, ok := s.statements[query]; ok {
		return stmt, nil
	}
	stmt, err := s.db.PrepareContext(ctx, query)
	if err != nil {
		return nil, err
	}
	if s.statements == nil {
		s.statements = map[string]*sql.Stmt{}
	}
	s.statements[query] = stmt
	return stmt, nil
}

func (f inFile) written() { f.s.foldSoon() }
