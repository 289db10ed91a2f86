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

	"github.com/jackc/pgx/v5/pgconn"

	"hopperful/fact"
	"hopperful/shop"
)

// Options say how a shop is opened.
type Options struct {
	ReadOnly   bool // look only; works while another program writes
	MakeFolder bool // Create makes the folder of the path if it is not there

	// Read is told how many records were folded so far while a long shop is read anew; nil: nobody is.
	Read func(records int)

	mostPages int             // a tiny disk, for tests
	still     bool            // nobody can be writing: read without a lock
	dial      pgconn.DialFunc // how a server is reached, for tests; nil: as always
}

// Store is an open shop. Its methods may be called from any goroutine.
type Store struct {
	path       string
	readOnly   bool
	read       func(records int) // told of a long reading; nil: nobody
	db         *sql.DB
	lease      *lease // nil when read-only
	state      atomic.Pointer[shop.State]
	medium     medium               // where the records lie
	writing    sync.Mutex           // held while records are appended
	line       line                 // of writers that wait
	closed     bool                 // under writing
	form       int                  // of the file
	end        tail                 // under writing: of the records in state
	folding    *time.Timer          // under writing: nil when all is folded in
	statements map[string]*sql.Stmt // under writing: of writes, by their text
	guarded    bool                 // under writing: each write is to look who may, and what others wrote
	events     hub
	peopleSeen atomic.Pointer[seenPeople]
	source     *source // of records that lie in the medium
	beside     string  // begins the name of the file of the kept state; "" for none
	keptWhy    error   // under writing: why the kept state did not count, or was not written
	tried      bool    // under writing: to keep what was folded in opening
	unkept     int     // under writing: how long the tail was, in steps of keptUntil, when it could not be kept
}

// Open opens the shop kept at path. An older form of the file is brought up to
// date, after a copy of it was kept; never when it is opened read-only.
func Open(ctx context.Context, path string, o Options) (*Store, error) {
	if OnServer(path) {
		return openServer(ctx, path, o)
	}
	if err := probe(path); err != nil {
		return nil, err
	}
	s := &Store{path: path, readOnly: o.ReadOnly, read: o.Read, beside: followed(path), line: newLine()}
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
	if o.ReadOnly {
		s.db, s.form, err = lookAt(ctx, s.path, o)
	} else if s.db, err = connect(s.path, o); err == nil {
		s.form = len(migrations)
		err = migrate(ctx, s.db, s.path, migrations)
	}
	if err != nil {
		return err
	}
	of := ofFile{s.path, s.form}
	s.medium = inFile{of, s}
	s.source = &source{reader: of, path: s.path, db: s.db}
	if err := s.Refresh(ctx); err != nil || o.ReadOnly {
		return err
	}
	s.writing.Lock()
	defer s.writing.Unlock()
	s.keep(ctx)
	s.foldSoon() // what a killed program left beside the file
	return nil
}

// lookAt connects for reading, to a file of this form or an earlier one, and
// says which. Where not even a lock can be written, as on a read-only disk, a
// file with no log beside it can be read as it lies.
func lookAt(ctx context.Context, path string, o Options) (*sql.DB, int, error) {
	o.ReadOnly = true
	db, err := connect(path, o)
	if err != nil {
		return nil, 0, err
	}
	at, err := version(ctx, db)
	err = explain(err, "doing.reading", path)
	if _, noLog := os.Lstat(path + "-wal"); Is(err, ReadOnly) && !o.still && errors.Is(noLog, fs.ErrNotExist) {
		db.Close()
		o.still = true
		return lookAt(ctx, path, o)
	}
	if err == nil && at > len(migrations) {
		err = newer(path, at)
	}
	if err != nil {
		db.Close()
		return nil, 0, err
	}
	return db, at, nil
}

// Refresh reads what other programs have written since; a store that may write
// is always fresh.
func (s *Store) Refresh(ctx context.Context) (err error) {
	defer Stopped(&err)
	s.writing.Lock()
	defer s.writing.Unlock()
	if s.closed {
		return s.isClosed()
	}
	old := s.state.Load()
	next, end, err := s.caughtUp(ctx, s.db)
	if err != nil {
		return err
	}
	s.end = end
	s.state.Store(next)
	if old != nil && next != old {
		s.events.publish(Event{Newest: next.Newest().ID})
	}
	return nil
}

// State is the shop as it is now. It never changes; ask again for a newer one.
func (s *Store) State() *shop.State { return s.state.Load() }

// ReadOnly says whether the shop was opened for looking only.
func (s *Store) ReadOnly() bool { return s.readOnly }

// Path is where the shop is kept.
func (s *Store) Path() string { return s.path }

// Backup writes a copy of the whole shop to path, while it stays in use. A file
// that is there already is refused.
func (s *Store) Backup(ctx context.Context, path string) error {
	s.writing.Lock()
	defer s.writing.Unlock()
	if s.closed {
		return s.isClosed()
	}
	return s.medium.backup(ctx, path)
}

func (s *Store) isClosed() error {
	return &Error{Closed, fact.Say("store.was_closed", fact.Name("path", s.path)), fact.Saying{}, nil}
}

// Close lets go of the file and ends every subscription.
func (s *Store) Close() error {
	s.writing.Lock()
	defer s.writing.Unlock()
	if s.closed {
		return nil
	}
	s.closed = true
	s.events.close()
	if s.folding != nil {
		s.folding.Stop()
	}
	var err error
	if s.db != nil {
		if s.source != nil {
			s.source.detach()
		}
		if s.lease != nil {
			_, _ = s.fold("TRUNCATE") // where that fails the log keeps it, and the next to open folds it in
		}
		err = s.db.Close()
	}
	s.lease.release()
	return explain(err, "doing.closing", s.path)
}
