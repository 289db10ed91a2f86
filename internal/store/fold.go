package store

import (
	"context"
	"time"
)

// quiet is how long what was written may stand only in the log beside the file.
// Whoever copies the file alone, a stick or a nightly copy, then has it all.
const quiet = time.Second

// foldSoon has the log folded into the file in a while. The caller holds s.writing.
func (s *Store) foldSoon() {
	if s.folding == nil {
		s.folding = time.AfterFunc(quiet, s.foldNow)
	}
}

func (s *Store) foldNow() {
	s.writing.Lock()
	defer s.writing.Unlock()
	if s.closed {
		return
	}
	s.folding = nil
	if whole, err := s.fold("PASSIVE"); err != nil || !whole {
		s.foldSoon() // a reader is not through yet, or the disk is full: the log keeps it meanwhile
	}
}

// fold writes the log into the file and says whether all of it is in there.
// PASSIVE waits for nobody; TRUNCATE waits for readers and empties the log.
func (s *Store) fold(how string) (bool, error) {
	ctx, cancel := context.WithTimeout(context.Background(), 10*quiet)
	defer cancel()
	var busy, all, done int
	err := s.db.QueryRowContext(ctx, "PRAGMA wal_checkpoint("+how+")").Scan(&busy, &all, &done)
	return err == nil && busy == 0 && done == all, err
}
