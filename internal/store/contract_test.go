package store

import (
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"testing"
	"time"

	"hopperful/internal/store/pgtest"
	"hopperful/shop"
)

// onBoth runs one test of the contract on a file and on a PostgreSQL server. place
// gives the address of a shop that is not there yet, another at each call.
func onBoth(t *testing.T, test func(t *testing.T, place func(*testing.T) string)) {
	t.Run("file", func(t *testing.T) {
		t.Parallel()
		test(t, func(t *testing.T) string { return filepath.Join(t.TempDir(), "ä shop? 50%.hopperful") })
	})
	t.Run("server", func(t *testing.T) {
		t.Parallel()
		n := 0
		base := pgtest.Shop(t)
		test(t, func(*testing.T) string { n++; return base + "." + string(rune('a'+n)) })
	})
}

// begun makes an empty shop.
func begun(t testing.TB, path string) *Store {
	t.Helper()
	s, err := Create(t.Context(), path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// TestContractWhatWasWrittenIsRead: a reopened shop is the same to the last field,
// and so is one that only looks.
func TestContractWhatWasWrittenIsRead(t *testing.T) {
	t.Parallel()
	onBoth(t, func(t *testing.T, place func(*testing.T) string) {
		path := place(t)
		s := begun(t, path)
		product := 0.23
		kept := mustAppend(t, s, shop.Record{Body: &shop.MillSet{Mill: shop.Mill{Name: "shredder"}}}, scrap(1))
		if len(kept) != 2 || kept[1].ID != 2 || kept[1].Body.(*shop.TakenIn).Lot != "S1" {
			t.Errorf("kept %+v", kept)
		}
		mustAppend(t, s, shop.Record{By: "Änn", Note: "loud\ntoday \\x00 'quoted' {1,2}", Body: &shop.Ground{Mill: "shredder", From: "S1", Charge: 0.24, Product: &product, Run: 180}})
		mustAppend(t, s, shop.Record{Corrects: 2, Body: &shop.TakenIn{Class: shop.Scrap, Polymer: "PETG", Mass: 1.1}})
		was := s.State()
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		for _, o := range []Options{{}, {ReadOnly: true}} {
			again := open(t, path, o)
			st := again.State()
			if !reflect.DeepEqual(was.History.List(), st.History.List()) || !reflect.DeepEqual(was.Lots, st.Lots) || !reflect.DeepEqual(was.Losses, st.Losses) {
				t.Errorf("%+v: written\n%+v\nread\n%+v", o, was.History, st.History)
			}
			if l := st.Lots.At("R1"); l.Mass != 0.23 || l.Polymer != "PETG" {
				t.Errorf("R1 is %+v", l)
			}
			again.Close()
		}
		v, err := Verify(t.Context(), path)
		if err != nil || v.Records != 4 || v.WrittenFrom != 1 || len(v.Seal) != 64 || !v.Newest.Equal(opening) {
			t.Errorf("verified: %+v, %v", v, err)
		}
	})
}

// TestContractAllOrNothing: a refused record takes the others with it, and one that
// only looks writes nothing.
func TestContractAllOrNothing(t *testing.T) {
	t.Parallel()
	onBoth(t, func(t *testing.T, place func(*testing.T) string) {
		path := place(t)
		s := begun(t, path)
		_, err := s.Append(t.Context(), opening, scrap(1), shop.Record{Body: &shop.Weighed{Lot: "S7", Mass: 1}})
		var refused *shop.Error
		if !errors.As(err, &refused) || refused.Code != shop.NotFound || refused.Field != "lot" {
			t.Errorf("got %v", err)
		}
		if kept, err := s.Append(t.Context(), opening); kept != nil || err != nil {
			t.Errorf("nothing to write: %v, %v", kept, err)
		}
		look := open(t, path, Options{ReadOnly: true})
		if _, err := look.Append(t.Context(), opening, scrap(1)); !Is(err, ReadOnly) {
			t.Errorf("a reader wrote: %v", err)
		}
		look.Close()
		s.Close()
		if _, err := s.Append(t.Context(), opening, scrap(1)); !Is(err, Closed) {
			t.Errorf("closed: %v", err)
		}
		if again := open(t, path, Options{}); again.State().History.Len() != 0 {
			t.Errorf("written all the same: %+v", again.State().History)
		}
	})
}

// TestContractOnce: what is sent again with its key is not written again, also by
// another opening; without its key, or with another, it is.
func TestContractOnce(t *testing.T) {
	t.Parallel()
	onBoth(t, func(t *testing.T, place func(*testing.T) string) {
		path := place(t)
		s := begun(t, path)
		send := func(s *Store, key string) []shop.Record {
			kept, err := s.AppendOnce(t.Context(), opening, key, scrap(1), scrap(2))
			if err != nil {
				t.Fatal(err)
			}
			return kept
		}
		mustAppend(t, s, scrap(9))
		first := send(s, "key-of-the-first")
		mustAppend(t, s, scrap(9))
		if again := send(s, "key-of-the-first"); !reflect.DeepEqual(first, again) || s.State().History.Len() != 4 {
			t.Errorf("sent again: %+v, first %+v", again, first)
		}
		if other := send(s, "key-of-another"); other[0].ID != 5 {
			t.Errorf("with another key: %+v", other)
		}
		if _, err := s.AppendOnce(t.Context(), opening, "short", scrap(1)); err == nil {
			t.Error("a key of five letters was taken")
		}
		s.Close()
		s = open(t, path, Options{})
		if again := send(s, "key-of-the-first"); again[1].ID != 3 || s.State().History.Len() != 6 {
			t.Errorf("after an opening: %+v", again)
		}
	})
}

// TestContractOnlyWhereNothingIs: shops are made where none is, and found only where
// one is.
func TestContractOnlyWhereNothingIs(t *testing.T) {
	t.Parallel()
	onBoth(t, func(t *testing.T, place func(*testing.T) string) {
		path, none := place(t), place(t)
		begun(t, path).Close()
		if _, err := Create(t.Context(), path, Options{}); !Is(err, Exists) {
			t.Errorf("over a shop: %v", err)
		}
		for name, err := range map[string]error{"open": second(Open(t.Context(), none, Options{})), "look": second(Open(t.Context(), none, Options{ReadOnly: true})), "verify": second(Verify(t.Context(), none))} {
			if !Is(err, Missing) {
				t.Errorf("%s: %v", name, err)
			}
		}
		boom := errors.New("the power went")
		if _, err := CreateWith(t.Context(), none, Options{}, func(s *Store) error { mustAppend(t, s, scrap(1)); return boom }); !errors.Is(err, boom) {
			t.Errorf("cut short: %v", err)
		}
		if _, err := Open(t.Context(), none, Options{}); !Is(err, Missing) {
			t.Errorf("half a shop was left: %v", err)
		}
	})
}

func second[T any](_ T, err error) error { return err }

// TestContractBackupAndRestore: a backup of either is a file that restores to either.
func TestContractBackupAndRestore(t *testing.T) {
	t.Parallel()
	onBoth(t, func(t *testing.T, place func(*testing.T) string) {
		path := place(t)
		s := begun(t, path)
		mustAppend(t, s, scrap(1), scrap(2))
		saved := filepath.Join(t.TempDir(), "monday")
		if err := s.Backup(t.Context(), saved); err != nil {
			t.Fatal(err)
		}
		if err := s.Backup(t.Context(), saved); !Is(err, Exists) {
			t.Errorf("over a copy: %v", err)
		}
		was, _ := Verify(t.Context(), saved)
		mustAppend(t, s, scrap(3))
		s.Close()
		done, err := Restore(t.Context(), saved, path, opening)
		if err != nil || done.Records != 2 || !strings.HasSuffix(done.Kept, ".before-20260504-080000") {
			t.Fatalf("restored: %+v, %v", done, err)
		}
		for at, want := range map[string]int{path: 2, keptAddress(path, done.Kept): 3} {
			if n := len(open2(t, at)); n != want {
				t.Errorf("%s: %d records, want %d", Shown(at), n, want)
			}
		}
		if now, err := Verify(t.Context(), path); err != nil || now.Seal != was.Seal || was.Seal == "" {
			t.Errorf("the seal is %+v, was %+v, %v", now, was, err)
		}
		bad := filepath.Join(t.TempDir(), "letter")
		if _, err := Restore(t.Context(), bad, path, opening.Add(time.Minute)); err == nil || len(open2(t, path)) != 2 {
			t.Errorf("what is no backup: %v", err)
		}
		if done, err := Restore(t.Context(), saved, place(t), opening); err != nil || done.Kept != "" {
			t.Errorf("to a new place: %+v, %v", done, err)
		}
	})
}

// keptAddress is the address by which what was kept is opened.
func keptAddress(path, kept string) string {
	if !OnServer(path) {
		return kept
	}
	_, name, _ := strings.Cut(kept, "#")
	before, _, _ := strings.Cut(path, "#")
	return before + "#" + name
}

// TestContractManyAtOnce: writers wait for each other, readers for nobody, and
// listeners hear of it.
func TestContractManyAtOnce(t *testing.T) {
	t.Parallel()
	onBoth(t, func(t *testing.T, place func(*testing.T) string) {
		path := place(t)
		s := begun(t, path)
		heard, end := s.Subscribe()
		defer end()
		var all sync.WaitGroup
		crowd(t, s, &all)
		all.Wait()
		if e := <-heard; e.Newest < 1 {
			t.Errorf("heard %+v", e)
		}
		s.Close()
		if v, err := Verify(t.Context(), path); err != nil || v.Records != 40 {
			t.Errorf("%+v, %v", v, err)
		}
	})
}

// TestContractMove: from a file to a server and back, every record and seal is the
// same, pictures too; nobody may write meanwhile, and the old one is kept.
func TestContractMove(t *testing.T) {
	t.Parallel()
	file, server, back := filepath.Join(t.TempDir(), "a"), pgtest.Shop(t), filepath.Join(t.TempDir(), "b")
	s := begun(t, file)
	mustAppend(t, s, scrap(1))
	if _, err := s.AppendOnce(t.Context(), opening, "key-of-a-picture", shop.Record{By: "Ann", Note: "ä\n☃", Body: &shop.Pictured{Lot: "S1", Picture: "/9j/4AAQSkZJRg=="}}); err != nil {
		t.Fatal(err)
	}
	for range 30 {
		mustAppend(t, s, scrap(1))
	}
	history := s.State().History.List()
	if _, err := Move(t.Context(), file, server, opening); !Is(err, InUse) {
		t.Errorf("while it is open: %v", err)
	}
	if _, err := Open(t.Context(), server, Options{}); !Is(err, Missing) {
		t.Errorf("it was moved all the same: %v", err)
	}
	s.Close()
	was, err := Verify(t.Context(), file)
	if err != nil {
		t.Fatal(err)
	}
	for _, step := range [][2]string{{file, server}, {server, back}} {
		done, err := Move(t.Context(), step[0], step[1], opening)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := Open(t.Context(), step[0], Options{}); !Is(err, Missing) {
			t.Errorf("the old place: %v", err)
		}
		kept, err := Verify(t.Context(), keptAddress(step[0], done.Kept))
		now, err2 := Verify(t.Context(), step[1])
		if err := errors.Join(err, err2); err != nil || kept.Seal != was.Seal || now.Seal != was.Seal || now.Records != 32 || now.WrittenFrom != was.WrittenFrom {
			t.Errorf("moved %+v, kept %+v, was %+v, %v", now, kept, was, err)
		}
		at := open(t, step[1], Options{})
		if !reflect.DeepEqual(at.State().History.List(), history) {
			t.Error("the records are not the same")
		}
		again, err := at.AppendOnce(t.Context(), opening, "key-of-a-picture", scrap(1))
		if err != nil || again[0].ID != 2 {
			t.Errorf("the keys did not come along: %+v, %v", again, err)
		}
		at.Close()
	}
	if _, err := Move(t.Context(), back, back+"/no/folder", opening); err == nil || len(open2(t, back)) != 32 {
		t.Errorf("to nowhere: %v", err)
	}
}

// TestContractALongHistory: what is kept beside a long shop, or in this user's cache of
// one on a server, gives the same shop, and single records are read from where they lie.
func TestContractALongHistory(t *testing.T) {
	t.Parallel()
	onBoth(t, func(t *testing.T, place func(*testing.T) string) {
		path := place(t)
		s := begun(t, path)
		list := make([]shop.Record, keptFrom+keptLag+500)
		for i := range list {
			list[i] = scrap(float64(i+1) / 100)
		}
		mustAppend(t, s, list...)
		mustAppend(t, s, scrap(1))
		if _, err := os.Stat(keptPath(s.beside)); err != nil {
			t.Errorf("nothing was kept: %v", err)
		}
		s.Close()
		again := open(t, path, Options{ReadOnly: true})
		if again.keptWhy != nil {
			t.Errorf("what was kept does not count: %v", again.keptWhy)
		}
		st := again.State()
		if n := st.History.Len(); n != len(list)+1 {
			t.Fatalf("%d records", n)
		}
		for _, i := range []int{0, 63, 64, 4000, len(list) - 1} {
			if r := st.History.At(i); r.ID != shop.RecordID(i+1) || r.Body.(*shop.TakenIn).Mass != float64(i+1)/100 {
				t.Errorf("record %d is %+v", i+1, r)
			}
		}
		again.Close()
		if r := st.History.At(200); r.ID != 201 { // a state outlives its store
			t.Errorf("record 201 is %+v", r)
		}
	})
}
