package store

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hopperful/shop"
)

// opening is when the shops of the tests open.
var opening = time.Date(2026, 5, 4, 8, 0, 0, 0, time.FixedZone("", 2*3600))

// scrap is a record of so much scrap taken in.
func scrap(mass float64) shop.Record {
	return shop.Record{At: opening, Body: &shop.TakenIn{Class: shop.Scrap, Polymer: "PLA", Mass: mass}}
}

// fresh makes an empty shop in a folder of its own.
func fresh(t testing.TB) *Store {
	t.Helper()
	s, err := Create(t.Context(), filepath.Join(t.TempDir(), "ä shop? 50%.hopperful"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func open(t testing.TB, path string, o Options) *Store {
	t.Helper()
	s, err := Open(t.Context(), path, o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func mustAppend(t testing.TB, s *Store, rs ...shop.Record) []shop.Record {
	t.Helper()
	kept, err := s.Append(t.Context(), opening, rs...)
	if err != nil {
		t.Fatal(err)
	}
	return kept
}

// TestPragmasHoldOnEveryConnection asks three pooled connections.
func TestPragmasHoldOnEveryConnection(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	var held []*sql.Conn
	for range 3 {
		c, err := s.db.Conn(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		held = append(held, c)
		for pragma, want := range map[string]string{"foreign_keys": "1", "journal_mode": "wal", "synchronous": "2", "busy_timeout": "5000"} {
			var got string
			if err := c.QueryRowContext(t.Context(), "PRAGMA "+pragma).Scan(&got); err != nil || got != want {
				t.Errorf("connection %d: %s is %q, want %q (%v)", len(held), pragma, got, want, err)
			}
		}
	}
	for _, c := range held {
		c.Close()
	}
}

// TestOneWriterManyReaders: a second writer is told who is there; readers are
// let in and see what was written before they came, and later when they ask.
func TestOneWriterManyReaders(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	mustAppend(t, s, scrap(1))
	_, err := Open(t.Context(), s.Path(), Options{})
	if !Is(err, InUse) || !strings.Contains(worded(err), "is open in another hopperful (process ") || !strings.Contains(worded(err), "Stop it, or use its address") {
		t.Errorf("second writer: %v", err)
	}
	r := open(t, s.Path(), Options{ReadOnly: true})
	mustAppend(t, s, scrap(2))
	if n := r.State().Lots.Len(); n != 1 {
		t.Errorf("the reader sees %d lots before it asks", n)
	}
	if err := r.Refresh(t.Context()); err != nil || r.State().Lots.Len() != 2 {
		t.Errorf("after asking: %d lots, %v", r.State().Lots.Len(), err)
	}
	if _, err := r.Append(t.Context(), opening, scrap(1)); !Is(err, ReadOnly) {
		t.Errorf("a reader wrote: %v", err)
	}
	s.Close()
	open(t, s.Path(), Options{}) // the right to write is free again
}

// TestWhatIsNoShop: everything that may lie at a path, and what is said of it.
func TestWhatIsNoShop(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	write := func(name string, content []byte) {
		if err := os.WriteFile(at(name), content, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("empty", nil)
	write("letter", []byte("Dear customer, this is a letter that is longer than a hundred bytes, so that it is not too short to be a shop."))
	write("short", []byte("SQLi"))
	write("cut", []byte("SQLite format 3\x00 and no more"))
	foreign(t, at("foreign"))
	for name, c := range map[string]struct {
		code Code
		say  string
	}{
		"empty":          {Missing, "is empty; there is no shop in it."},
		"letter":         {Foreign, "letter is not a shop."},
		"short":          {Foreign, "short is not a shop."},
		"cut":            {Damaged, "cut is damaged."},
		"foreign":        {Foreign, "is an SQLite file but not a shop."},
		"nothing":        {Missing, "There is no shop at "},
		"no/folder":      {Missing, "There is no folder "},
		"letter/in file": {Missing, "There is no folder "},
		".":              {Foreign, "is a folder, not a shop."},
	} {
		for _, o := range []Options{{}, {ReadOnly: true}} {
			_, err := Open(t.Context(), dir+"/"+name, o)
			var e *Error
			if !errors.As(err, &e) || e.Code != c.code || !strings.Contains(worded(e), c.say) {
				t.Errorf("%s, %+v: got %v", name, o, err)
			}
		}
	}
	list, err := os.ReadDir(dir)
	if err != nil || len(list) != 5 {
		t.Errorf("looking at them left something: %v, %v", list, err)
	}
}

// foreign writes an SQLite file of another program.
func foreign(t *testing.T, path string) {
	t.Helper()
	db, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.ExecContext(t.Context(), "CREATE TABLE song (title TEXT)"); err != nil {
		t.Fatal(err)
	}
}

// TestCreate: only where nothing is.
func TestCreate(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	in := filepath.Join(dir, "a", "b", "shop.hopperful")
	if _, err := Create(t.Context(), in, Options{}); !Is(err, Missing) || !strings.Contains(worded(err), "There is no folder") {
		t.Errorf("without a folder: %v", err)
	}
	s, err := Create(t.Context(), in, Options{MakeFolder: true})
	if err != nil {
		t.Fatal(err)
	}
	s.Close()
	if _, err := Create(t.Context(), in, Options{}); !Is(err, Exists) {
		t.Errorf("over a shop: %v", err)
	}
	if _, err := Create(t.Context(), dir, Options{}); !Is(err, Exists) {
		t.Errorf("over a folder: %v", err)
	}
	if _, err := Create(t.Context(), in+"2", Options{ReadOnly: true}); !Is(err, ReadOnly) {
		t.Errorf("to read only: %v", err)
	}
	begun := filepath.Join(dir, "begun") // what is left when the power fails at the first moment
	if err := os.WriteFile(begun, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if s, err = Create(t.Context(), begun, Options{}); err != nil {
		t.Fatal(err)
	}
	s.Close()
}

// TestDamage: a shop of which a part was lost says so, and never panics.
func TestDamage(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	var many []shop.Record
	for range 300 {
		many = append(many, scrap(1))
	}
	mustAppend(t, s, many...)
	s.Close()
	whole, err := os.ReadFile(s.Path())
	if err != nil {
		t.Fatal(err)
	}
	zeroed := append([]byte(nil), whole...)
	clear(zeroed[len(zeroed)/2:])
	garbled := []byte(strings.ReplaceAll(string(whole), `"class":"scrap"`, `"class":"crumb"`))
	for name, content := range map[string][]byte{"cut": whole[:len(whole)/2], "zeroed": zeroed, "garbled": garbled} {
		path := filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(path, content, 0o644); err != nil {
			t.Fatal(err)
		}
		for _, o := range []Options{{ReadOnly: true}, {}} {
			if _, err := Open(t.Context(), path, o); !Is(err, Damaged) || !strings.Contains(worded(err), "go back to the latest backup") {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}

// TestReadOnlyDisk: what may not be written can be looked at.
func TestReadOnlyDisk(t *testing.T) {
	t.Parallel()
	if os.Geteuid() == 0 {
		t.Skip("the superuser may write anywhere")
	}
	s := fresh(t)
	mustAppend(t, s, scrap(1))
	s.Close()
	dir := filepath.Dir(s.Path())
	os.Remove(s.Path() + ".lock")
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.Chmod(dir, 0o755) })
	if _, err := Open(t.Context(), s.Path(), Options{}); !Is(err, ReadOnly) {
		t.Errorf("to write: %v", err)
	}
	if _, err := Create(t.Context(), s.Path()+"2", Options{}); !Is(err, ReadOnly) {
		t.Errorf("a new one: %v", err)
	}
	if r := open(t, s.Path(), Options{ReadOnly: true}); r.State().Lots.Len() != 1 {
		t.Errorf("to read: %+v", r.State().Lots)
	}
}

// TestClosed: a closed store says so.
func TestClosed(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	if err := errors.Join(s.Close(), s.Close()); err != nil {
		t.Error(err)
	}
	_, err := s.Append(t.Context(), opening, scrap(1))
	for _, err := range []error{err, s.Refresh(t.Context()), s.Backup(t.Context(), s.Path()+".bak")} {
		if !Is(err, Closed) {
			t.Errorf("got %v", err)
		}
	}
	if s.State() == nil {
		t.Error("the last state is gone")
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := Open(ctx, s.Path(), Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("called off: %v", err)
	}
}

// TestDefaultPath is where each system keeps a user's data: the XDG base
// directory specification, and by common practice on the other two.
func TestDefaultPath(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		system, want string
		env          map[string]string
	}{
		{"linux", "/home/a/.local/share/hopperful/shop.hopperful", map[string]string{"HOME": "/home/a"}},
		{"linux", "/data/hopperful/shop.hopperful", map[string]string{"HOME": "/home/a", "XDG_DATA_HOME": "/data"}},
		{"linux", "/home/a/.local/share/hopperful/shop.hopperful", map[string]string{"HOME": "/home/a", "XDG_DATA_HOME": "not/absolute"}},
		{"darwin", "/Users/a/Library/Application Support/hopperful/shop.hopperful", map[string]string{"HOME": "/Users/a"}},
		{"windows", "/local/hopperful/shop.hopperful", map[string]string{"LocalAppData": "/local"}},
		{"linux", "", nil},
		{"windows", "", map[string]string{"HOME": "/home/a"}},
	} {
		got, err := defaultPath(c.system, func(name string) string { return c.env[name] })
		if filepath.ToSlash(got) != c.want || (err == nil) != (c.want != "") {
			t.Errorf("%s %v: got %q, %v", c.system, c.env, got, err)
		}
	}
}
