package store

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"hopperful/internal/account"
	"hopperful/shop"
)

// TestAppendTakesAllOrNothing: a refused record takes the others with it.
func TestAppendTakesAllOrNothing(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	_, err := s.Append(t.Context(), opening, scrap(1), shop.Record{Body: &shop.Weighed{Lot: "S7", Mass: 1}})
	var refused *shop.Error
	if !errors.As(err, &refused) || refused.Code != shop.NotFound || refused.Field != "lot" {
		t.Errorf("got %v", err)
	}
	if _, err := s.Append(t.Context(), opening, shop.Record{At: opening.Add(time.Hour), Body: &shop.TakenIn{Class: shop.Scrap, Mass: 1}}); err == nil {
		t.Error("a record of the future was taken")
	}
	if kept, err := s.Append(t.Context(), opening); kept != nil || err != nil {
		t.Errorf("nothing to write: %v, %v", kept, err)
	}
	s.Close()
	if again := open(t, s.Path(), Options{}); again.State().History.Len() != 0 {
		t.Errorf("written all the same: %+v", again.State().History)
	}
}

// TestRecordsStay: the file itself refuses what would change a record.
func TestRecordsStay(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	mustAppend(t, s, scrap(1), scrap(2))
	row := ` (id, kind, at, noted_at, by, note, corrects, body, seal) VALUES `
	for statement, say := range map[string]string{
		"UPDATE record SET note = 'x'": "a record is never changed",
		"DELETE FROM record":           "a record is never deleted",
		"REPLACE INTO record" + row + "(1, 'x', '2026-05-04T08:00:00Z', '2026-05-04T08:00:00Z', '', '', NULL, '{}', zeroblob(32))":  "takes the next number",
		"INSERT INTO record" + row + "(9, 'x', '2026-05-04T08:00:00Z', '2026-05-04T08:00:00Z', '', '', NULL, '{}', zeroblob(32))":   "takes the next number",
		"INSERT INTO record" + row + "(3, 'x', '2026-05-04T08:00:00Z', '2026-05-04T08:00:00Z', '', '', 3, '{}', zeroblob(32))":      "CHECK constraint failed",
		"INSERT INTO record" + row + "(3, 'x', '2026-05-04T08:00:00Z', '2026-05-04T08:00:00Z', '', '', -1, '{}', zeroblob(32))":     "FOREIGN KEY constraint failed",
		"INSERT INTO record" + row + "(3, 'x', 'today', '2026-05-04T08:00:00Z', '', '', NULL, '{}', zeroblob(32))":                  "CHECK constraint failed",
		"INSERT INTO record" + row + "(3, 'x', '2026-05-04T08:00:00Z', '2026-05-04T08:00:00Z', '', '', NULL, '{', zeroblob(32))":    "CHECK constraint failed",
		"INSERT INTO record" + row + "(3, 'x', '2026-05-04T08:00:00Z', '2026-05-04T08:00:00Z', '', NULL, NULL, '{}', zeroblob(32))": "NOT NULL constraint failed",
		"INSERT INTO record" + row + "(3, 'x', '2026-05-04T08:00:00Z', '2026-05-04T08:00:00Z', '', '', NULL, '{}', NULL)":           "a record is sealed when it is written",
		"INSERT INTO record" + row + "(3, 'x', '2026-05-04T08:00:00Z', '2026-05-04T08:00:00Z', '', '', NULL, '{}', x'00')":          "CHECK constraint failed",
	} {
		if _, err := s.db.ExecContext(t.Context(), statement); err == nil || !strings.Contains(worded(err), say) {
			t.Errorf("%s: %v", statement, err)
		}
	}
}

// TestFullDisk: a disk without room leaves the shop as it was, and usable.
func TestFullDisk(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	mustAppend(t, s, scrap(1))
	s.Close()
	tiny := open(t, s.Path(), Options{mostPages: 6})
	long := scrap(1)
	long.Note = strings.Repeat("x", 2000)
	var err error
	written := 1
	for range 50 {
		if _, err = tiny.Append(t.Context(), opening, long); err != nil {
			break
		}
		written++
	}
	if !Is(err, Full) || !strings.Contains(worded(err), "There is no room left for") {
		t.Fatalf("after %d records: %v", written, err)
	}
	if n := tiny.State().History.Len(); n != written {
		t.Errorf("%d records in memory, %d written", n, written)
	}
	tiny.Close()
	if n := len(open(t, s.Path(), Options{}).State().History.List()); n != written || written < 2 {
		t.Errorf("%d records read, %d written", n, written)
	}
}

// TestRecordsOfAnotherAreSeen: should the lock of a network disk not hold, what
// another program wrote is there before anything is checked.
func TestRecordsOfAnotherAreSeen(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	mustAppend(t, s, scrap(1))
	other := row{id: 2, kind: "discarded", at: "2026-05-04T08:00:00Z", noted: "2026-05-04T08:00:00Z", body: `{"lot":"S1","mass_kg":0.9,"why":"wet"}`}
	own := other.sealed(s.end.seal)
	if _, err := s.db.ExecContext(t.Context(), queryAppend, other.id, other.kind, other.at, other.noted, "", "", 0, other.body, own[:]); err != nil {
		t.Fatal(err)
	}
	kept := mustAppend(t, s, shop.Record{Body: &shop.Discarded{Lot: "S1", Mass: 0.5, Why: "dusty"}})
	if asks := s.State().Asks(); kept[0].ID != 3 || len(asks) != 1 || asks[0].Code != shop.MoreThanLot {
		t.Errorf("kept %+v, asked %+v: together they take more than the lot held", kept, asks)
	}
	if kept := mustAppend(t, s, scrap(2)); kept[0].ID != 4 || s.State().History.Len() != 4 {
		t.Errorf("kept %+v", kept)
	}
}

// crowd has eight write five records each while eight look.
func crowd(t *testing.T, s *Store, all *sync.WaitGroup) {
	for range 8 {
		all.Go(func() {
			for range 5 {
				if _, err := s.Append(t.Context(), opening, scrap(1)); err != nil {
					t.Error(err)
				}
			}
		})
		all.Go(func() {
			for range 50 {
				if st := s.State(); st.Lots.Len() != st.History.Len() {
					t.Errorf("%d lots of %d records", st.Lots.Len(), st.History.Len())
				}
			}
		})
	}
}

// TestManyAtOnce: writers wait for each other, readers for nobody, and slow
// listeners lose no more than a nudge.
func TestManyAtOnce(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	slow, endSlow := s.Subscribe()
	quick, endQuick := s.Subscribe()
	var heard sync.WaitGroup
	heard.Go(func() {
		for range quick {
			if s.State().Newest().ID == 40 {
				return
			}
		}
	})
	var all sync.WaitGroup
	crowd(t, s, &all)
	for range 8 {
		all.Go(func() {
			_, end := s.Subscribe()
			end()
			end()
		})
	}
	all.Wait()
	heard.Wait()
	endQuick()
	if n := len(slow); n != waiting {
		t.Errorf("the slow listener has %d events", n)
	}
	s.Close()
	for range slow { // ends, because the store was closed
	}
	endSlow()
	late, end := s.Subscribe()
	if _, open := <-late; open {
		t.Error("a closed store has events")
	}
	end()
}

// TestBackup: a copy of a shop in use is a shop.
func TestBackup(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	mustAppend(t, s, scrap(1), scrap(2))
	to := filepath.Join(t.TempDir(), "copy's.hopperful")
	if err := s.Backup(t.Context(), to); err != nil {
		t.Fatal(err)
	}
	if err := s.Backup(t.Context(), to); !Is(err, Exists) {
		t.Errorf("over a copy: %v", err)
	}
	if err := s.Backup(t.Context(), filepath.Join(to, "x")); err == nil {
		t.Error("written into a file as if it were a folder")
	}
	if err := s.Backup(t.Context(), filepath.Join(filepath.Dir(to), "no", "x")); err == nil {
		t.Error("written into a folder that is not there")
	}
	list, err := os.ReadDir(filepath.Dir(to))
	if err != nil || len(list) != 1 {
		t.Errorf("beside the copy: %v, %v", list, err)
	}
	c := open(t, to, Options{})
	mustAppend(t, c, scrap(3))
	if c.State().Lots.Len() != 3 || s.State().Lots.Len() != 2 {
		t.Errorf("the copy has %d lots, the shop %d", c.State().Lots.Len(), s.State().Lots.Len())
	}
}

func BenchmarkAppendOne(b *testing.B) {
	s := fresh(b)
	for b.Loop() {
		if _, err := s.Append(b.Context(), opening, scrap(1)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkAppend10000AtOnce(b *testing.B) {
	list := make([]shop.Record, 10000)
	for i := range list {
		list[i] = scrap(1)
	}
	for b.Loop() {
		s := fresh(b)
		if _, err := s.Append(b.Context(), opening, list...); err != nil {
			b.Fatal(err)
		}
		s.Close()
	}
}

func BenchmarkOpen10000(b *testing.B) {
	s := fresh(b)
	list := make([]shop.Record, 10000)
	for i := range list {
		list[i] = scrap(1)
	}
	mustAppend(b, s, list...)
	s.Close()
	for b.Loop() {
		s, err := Open(b.Context(), s.Path(), Options{})
		if err != nil {
			b.Fatal(err)
		}
		s.Close()
	}
}

// TestWhoWritesAloneNeedsOneStatement, until it is to be looked who may write or somebody else wrote.
func TestWhoWritesAloneNeedsOneStatement(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	one := func(want bool) {
		t.Helper()
		w := &writing{s: s, ctx: t.Context(), now: opening, list: []shop.Record{scrap(1)}, done: make(chan struct{})}
		s.writing.Lock()
		was := s.State().History.Len()
		straight, err := s.straight(t.Context(), []*writing{w})
		s.writing.Unlock()
		if err != nil || straight != want {
			t.Fatalf("one statement: %t, %v", straight, err)
		}
		if straight && (len(w.kept) != 1 || w.next.History.Len() != was+1) {
			t.Fatalf("%d records are kept, of %d", len(w.kept), w.next.History.Len())
		}
	}
	one(true)
	if err := s.Refresh(t.Context()); err != nil || s.State().History.Len() != 1 {
		t.Fatalf("%d records, %v", s.State().History.Len(), err)
	}
	mustAppend(t, s, scrap(2))
	if err := s.AddAccount(t.Context(), opening, "Ann", account.Own, "a passphrase of some length"); err != nil {
		t.Fatal(err)
	}
	one(false)
	n := 0
	if err := s.db.QueryRowContext(t.Context(), "SELECT count(*) FROM record").Scan(&n); err != nil || n != 2 {
		t.Errorf("%d records are in the file, %v", n, err)
	}
}
