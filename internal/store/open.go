package store

import (
	"context"
	"database/sql"
	"errors"
	"io/fs"
	"os"
	"sync"
	"sync/atomic"
	"time"

	"hopperful/shop"
)

// Options say how a shop is opened.
type Options struct {
	ReadOnly   bool // look only; works while another program writes
	MakeFolder bool // Create makes the folder of the path if it is not there

	mostPages int  // a tiny disk, for tests
	still     bool // nobody can be writing: read without a lock
}

// Store is an open shop. Its methods may be called from any goroutine.
type Store struct {
	path     string
	readOnly bool
	db       *sql.DB
	lease    *lease // nil when read-only
	state    atomic.Pointer[shop.State]
	write    sync.Mutex // held while records are appended
	closed   bool       // under write
	events   hub
}

// Open opens the shop kept at path. An older form of the file is brought up to
// date, after a copy of it was kept; never when it is opened read-only.
func Open(ctx context.Context, path string, o Options) (*Store, error) {
	if err := probe(path); err != nil {
		return nil, err
	}
	s := &Store{path: path, readOnly: o.ReadOnly}
	if !o.ReadOnly {
		var err error
		if s.lease, err = takeLease(path, time.Now()); err != nil {
			return nil, err
		}
	}
	if err := s.load(ctx, o); err != nil {
		s.Close()
		return nil, err
	}
	return s, nil
}

// load connects, brings the file up to date and folds its records.
func (s *Store) load(ctx context.Context, o Options) error {
	var err error
	if s.db, err = connect(s.path, o); err != nil {
		return err
	}
	if o.ReadOnly {
		err = s.sameForm(ctx)
		if Is(err, ReadOnly) && s.still() {
			s.db.Close()
			o.still = true
			if s.db, err = connect(s.path, o); err == nil {
				err = s.sameForm(ctx)
			}
		}
	} else {
		err = migrate(ctx, s.db, s.path, migrations)
	}
	if err != nil {
		return err
	}
	return s.Refresh(ctx)
}

// still says that the file has no log beside it. Where not even a lock can be
// written, as on a read-only disk, such a file can be read as it lies.
func (s *Store) still() bool {
	_, err := os.Lstat(s.path + "-wal")
	return errors.Is(err, fs.ErrNotExist)
}

// sameForm refuses to read a file of another form than this program's.
func (s *Store) sameForm(ctx context.Context) error {
	at, err := version(ctx, s.db)
	switch {
	case err != nil:
		return explain(err, "Reading", s.path)
	case at < len(migrations):
		return &Error{Failed, s.path + " was written by an earlier version of hopperful.", "Open it once for writing to bring it up to date.", nil}
	}
	return migrate(ctx, s.db, s.path, migrations) // says when it is newer, else does nothing
}

// Refresh reads what other programs have written since; a store that may write
// is always fresh.
func (s *Store) Refresh(ctx context.Context) error {
	s.write.Lock()
	defer s.write.Unlock()
	if s.closed {
		return s.isClosed()
	}
	next, err := s.caughtUp(ctx, s.db)
	if err != nil {
		return err
	}
	s.state.Store(next)
	return nil
}

// caughtUp is the state with every record that is in the file.
func (s *Store) caughtUp(ctx context.Context, db asker) (*shop.State, error) {
	old := s.state.Load()
	var known []shop.Record
	if old != nil {
		known = old.History
	}
	var last shop.RecordID
	if len(known) > 0 {
		last = known[len(known)-1].ID
	}
	more, err := after(ctx, db, last)
	switch {
	case err != nil && ctx.Err() != nil:
		return nil, ctx.Err()
	case err != nil:
		return nil, unreadable(err, s.path)
	case old != nil && len(more) == 0:
		return old, nil
	}
	next, err := shop.Fold(append(known[:len(known):len(known)], more...))
	if err != nil {
		return nil, damaged(s.path, err)
	}
	return next, nil
}

// unreadable tells a record that makes no sense from a file that cannot be read.
func unreadable(err error, path string) error {
	var bad *badRecord
	if errors.As(err, &bad) {
		return damaged(path, err)
	}
	return explain(err, "Reading", path)
}

// State is the shop as it is now. It never changes; ask again for a newer one.
func (s *Store) State() *shop.State { return s.state.Load() }

// Path is where the shop is kept.
func (s *Store) Path() string { return s.path }

// Backup writes a copy of the whole shop to path, while it stays in use. A file
// that is there already is refused.
func (s *Store) Backup(ctx context.Context, path string) error {
	s.write.Lock()
	defer s.write.Unlock()
	if s.closed {
		return s.isClosed()
	}
	return backup(ctx, s.db, path)
}

func (s *Store) isClosed() error { return &Error{Closed, s.path + " was closed.", "", nil} }

// Close lets go of the file and ends every subscription.
func (s *Store) Close() error {
	s.write.Lock()
	defer s.write.Unlock()
	if s.closed {
		return nil
	}
	s.closed = true
	s.events.close()
	var err error
	if s.db != nil {
		err = s.db.Close()
	}
	s.lease.release()
	return explain(err, "Closing", s.path)
}
