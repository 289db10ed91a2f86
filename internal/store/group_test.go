package store

import (
	"context"
	"database/sql"
	"errors"
	"reflect"
	"sync"
	"testing"
	"time"

	"hopperful/shop"
)

// counting counts the transactions, and has those fail that it is told to, before they
// count or after.
type counting struct {
	medium
	made      int
	fail      int  // so many more
	afterward bool // they count all the same
}

func (c *counting) write(ctx context.Context, do func(context.Context, *sql.Tx) error) error {
	c.made++
	if c.fail == 0 {
		return c.medium.write(ctx, do)
	}
	c.fail--
	lost := errors.New("the answer was lost")
	if c.afterward {
		return errors.Join(c.medium.write(ctx, do), lost)
	}
	return c.medium.write(ctx, func(ctx context.Context, tx *sql.Tx) error { return errors.Join(do(ctx, tx), lost) })
}

// atOnceWriting lets all write while nobody may, so that all wait, and then lets go.
func atOnceWriting(s *Store, all ...func()) {
	var ended sync.WaitGroup
	s.writing.Lock()
	for _, one := range all {
		ended.Go(one)
	}
	for len(s.line.turn) == 0 || len(s.line.waiting) < len(all)-1 {
		time.Sleep(time.Millisecond)
	}
	s.writing.Unlock()
	ended.Wait()
}

// TestWritersThatWaitShareATransaction: one for all of them, in which each has its own answer:
// a refusal stops nobody else, a key sent twice is written once, who went away writes nothing.
func TestWritersThatWaitShareATransaction(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	c := &counting{medium: s.medium}
	s.medium = c
	gone, leave := context.WithCancel(t.Context())
	leave()
	ids := make(chan shop.RecordID, 64)
	var once [2][]shop.Record
	list := []func(){
		func() {
			if _, err := s.Append(t.Context(), opening, shop.Record{Body: &shop.Weighed{Lot: "S999", Mass: 1}}); err == nil {
				t.Error("a lot that is not there was weighed")
			}
		},
		func() {
			if _, err := s.Append(gone, opening, scrap(1)); !errors.Is(err, context.Canceled) {
				t.Errorf("who went away hears %v", err)
			}
		},
	}
	for i := range once {
		list = append(list, func() {
			var err error
			if once[i], err = s.AppendOnce(t.Context(), opening, "key-of-both", scrap(1), scrap(2)); err != nil {
				t.Error(err)
			}
		})
	}
	for range 20 {
		list = append(list, func() {
			kept, err := s.Append(t.Context(), opening, scrap(1))
			if err != nil {
				t.Error(err)
				return
			}
			ids <- kept[0].ID
		})
	}
	atOnceWriting(s, list...)
	if c.made != 1 {
		t.Errorf("%d transactions for %d that waited", c.made, len(list))
	}
	if !reflect.DeepEqual(once[0], once[1]) || len(once[0]) != 2 {
		t.Errorf("sent twice with a key: %+v and %+v", once[0], once[1])
	}
	close(ids)
	seen := map[shop.RecordID]bool{once[0][0].ID: true, once[0][1].ID: true}
	for id := range ids {
		seen[id] = true
	}
	s.Close()
	v, err := Verify(t.Context(), s.path)
	if err != nil || v.Records != 22 || len(seen) != 22 {
		t.Errorf("%d numbers told, %+v, %v", len(seen), v, err)
	}
}

// TestATransactionThatFailsIsMadeByEach: what stops a transaction of several may be the fault of
// one, and may have counted after all: each is made alone, and none twice.
func TestATransactionThatFailsIsMadeByEach(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]*counting{"before it counts": {fail: 1}, "after it counted": {fail: 1, afterward: true}} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := fresh(t)
			c.medium, s.medium = s.medium, c
			var list []func()
			for range 10 {
				list = append(list, func() {
					if _, err := s.Append(t.Context(), opening, scrap(1)); err != nil {
						t.Error(err)
					}
				})
			}
			atOnceWriting(s, list...)
			if c.made != 11 {
				t.Errorf("%d transactions", c.made)
			}
			s.Close()
			if v, err := Verify(t.Context(), s.path); err != nil || v.Records != 10 {
				t.Errorf("%+v, %v", v, err)
			}
		})
	}
}
