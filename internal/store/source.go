package store

import (
	"context"
	"database/sql"
	"fmt"
	"sync"

	"hopperful/shop"
)

// source gives single records of a file to states that were unpacked: a page of them
// is read at a time, each held against its seal, and the latest pages are kept.
type source struct {
	reader
	path string

	lock     sync.Mutex
	db       *sql.DB        // nil once the store was closed
	hot, old map[int64]page // by the number of the page
	size     int            // of hot, in bytes of text
}

// page is a run of records, of which each is made sense of when somebody asks for it.
type page []paged

type paged struct {
	row
	record *shop.Record
}

const (
	onPage   = 64      // records
	mostText = 3 << 20 // bytes of records' text before the older half of the pages is let go
)

// Record is the record of that number. A file that no longer gives it stops whatever
// asked: there is no answer without it. The panic's value is an [*Error].
func (s *source) Record(id shop.RecordID) shop.Record {
	s.lock.Lock()
	defer s.lock.Unlock()
	n := (int64(id) - 1) / onPage
	p, ok := s.hot[n]
	if !ok {
		if p, ok = s.old[n]; !ok {
			var err error
			if p, err = s.read(n); err != nil {
				panic(unreadable(err, "doing.reading", s.path))
			}
		}
		if s.size > mostText || s.hot == nil {
			s.hot, s.old, s.size = map[int64]page{}, s.hot, 0
		}
		s.hot[n], s.size = p, s.size+p.text()
	}
	i := int(int64(id)-1) % onPage
	if id < 1 || i >= len(p) {
		panic(damaged(s.path, fmt.Errorf("record %d is not there", id)))
	}
	one := &p[i]
	if one.record == nil {
		r, err := one.sense()
		if err != nil {
			panic(unreadable(err, "Reading", s.path))
		}
		one.record, one.row = &r, row{}
	}
	return *one.record
}

// text is about how much of it is text.
func (p page) text() int {
	n := 0
	for _, r := range p {
		n += len(r.note) + len(r.body)
	}
	return n
}

// read reads a page.
func (s *source) read(n int64) (page, error) {
	ctx, db := context.Background(), s.db
	if db == nil { // a state may outlive its store
		var err error
		if db, err = s.again(ctx); err != nil {
			return nil, err
		}
		defer db.Close()
	}
	known := tail{id: shop.RecordID(n * onPage)}
	if n > 0 {
		var err error
		if known.seal, err = s.sealOf(ctx, db, known.id); err != nil && s.sealed() {
			return nil, err
		}
	}
	list, _, err := s.rows(ctx, db, known, onPage)
	p := make(page, len(list))
	for i, r := range list {
		p[i].row = r
	}
	return p, err
}

// detach makes the source do without the store's connections.
func (s *source) detach() {
	s.lock.Lock()
	defer s.lock.Unlock()
	s.db = nil
}
