package store

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"hopperful/shop"
)

// TestASealIsTheHashOfItsColumns, put together here by hand: SHA-256 of the
// standard library (FIPS 180-4) over the seal before and each column after its
// length in eight bytes, the highest first.
func TestASealIsTheHashOfItsColumns(t *testing.T) {
	t.Parallel()
	before := seal{31: 7}
	var text bytes.Buffer
	text.Write(before[:])
	for _, column := range []string{"12", "weighed", "2026-05-04T08:00:00+02:00", "2026-05-04T08:01:00+02:00", "Ann", "a\nb", "3", `{"lot":"S1"}`} {
		text.Write([]byte{0, 0, 0, 0, 0, 0, 0, byte(len(column))})
		text.WriteString(column)
	}
	r := row{12, "weighed", "2026-05-04T08:00:00+02:00", "2026-05-04T08:01:00+02:00", "Ann", "a\nb", 3, `{"lot":"S1"}`, nil}
	if r.sealed(before) != sha256.Sum256(text.Bytes()) {
		t.Error("the seal is another hash")
	}
}

// sealedShop is a closed shop of some records, and its file.
func sealedShop(t *testing.T) (path string, content []byte, history []shop.Record) {
	t.Helper()
	s := fresh(t)
	for i := range 80 {
		r := scrap(1 + float64(i)/10)
		r.Note = "from the bin under the bench"
		mustAppend(t, s, r)
	}
	history = s.State().History.List()
	s.Close()
	content, err := os.ReadFile(s.Path())
	if err != nil {
		t.Fatal(err)
	}
	return s.Path(), content, history
}

// TestNoFlippedBitChangesARecordInSilence: of 120 bits anywhere in the file, each
// is found or leaves every record as it was.
func TestNoFlippedBitChangesARecordInSilence(t *testing.T) {
	t.Parallel()
	_, content, history := sealedShop(t)
	chance := rand.New(rand.NewPCG(1, 14))
	path := filepath.Join(t.TempDir(), "flipped")
	found := 0
	for range 120 {
		bit := chance.IntN(8 * len(content))
		flipped := bytes.Clone(content)
		flipped[bit/8] ^= 1 << (bit % 8)
		if err := os.WriteFile(path, flipped, 0o644); err != nil {
			t.Fatal(err)
		}
		_, err := Verify(t.Context(), path)
		var said *Error
		switch {
		case errors.As(err, &said):
			found++
			if !strings.Contains(said.Error(), path) || said.Advice.Empty() {
				t.Errorf("bit %d: %v names no file, or nothing to do", bit, err)
			}
			continue
		case err != nil:
			t.Errorf("bit %d: %v", bit, err)
			continue
		}
		s, err := Open(t.Context(), path, Options{ReadOnly: true})
		if err != nil {
			t.Errorf("bit %d: verified, and does not open: %v", bit, err)
			continue
		}
		if !reflect.DeepEqual(s.State().History.List(), history) {
			t.Errorf("bit %d changed a record in silence", bit)
		}
		s.Close()
	}
	if found < 40 { // the rest lies where nothing is written
		t.Errorf("only %d of 120 were found", found)
	}
}

// TestTheFirstRecordThatDoesNotFitIsNamed: changed, taken out, put in.
func TestTheFirstRecordThatDoesNotFitIsNamed(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct{ statement, say string }{
		"changed":   {"UPDATE record SET note = 'never said' WHERE id = 17", "record 17: it is not as it was written"},
		"re-dated":  {"UPDATE record SET at = '2025-05-04T08:00:00+02:00' WHERE id = 17", "record 17: it is not as it was written"},
		"taken out": {"DELETE FROM record WHERE id = 17", "record 17: the record before it is not there"},
		"swapped":   {"UPDATE record SET body = (SELECT body FROM record WHERE id = 18), seal = (SELECT seal FROM record WHERE id = 18) WHERE id = 17", "record 17: it is not as it was written"},
		"rule gone": {"DROP TRIGGER record_follows", "the trigger record_follows of the file is not as it was made"},
	} {
		path, _, _ := sealedShop(t)
		db, err := connect(path, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := db.ExecContext(t.Context(), "DROP TRIGGER record_stays; DROP TRIGGER record_stays_written; "+c.statement); err != nil {
			t.Fatal(err)
		}
		db.Close()
		if _, err := Verify(t.Context(), path); !Is(err, Damaged) || !strings.Contains(worded(err), c.say) {
			if name != "rule gone" || !strings.Contains(worded(err), "of the file is not as it was made") {
				t.Errorf("%s: %v", name, err)
			}
		}
		if name == "rule gone" {
			continue
		}
		if _, err := Open(t.Context(), path, Options{}); !Is(err, Damaged) || !strings.Contains(worded(err), c.say) {
			t.Errorf("%s, opened: %v", name, err)
		}
	}
}

// TestARecordOfALaterVersionIsNoDamage: a kind or a field this program does not
// know, in a record whose seal fits.
func TestARecordOfALaterVersionIsNoDamage(t *testing.T) {
	t.Parallel()
	for kind, body := range map[string]string{"dreamt": `{"of":"sheep"}`, "weighed": `{"lot":"S1","mass_kg":1,"moon":"full"}`} {
		s := fresh(t)
		mustAppend(t, s, scrap(1))
		later := row{id: 2, kind: kind, at: "2026-05-04T08:00:00Z", noted: "2026-05-04T08:00:00Z", body: body}
		own := later.sealed(s.end.seal)
		if _, err := s.db.ExecContext(t.Context(), queryAppend, later.id, later.kind, later.at, later.noted, "", "", 0, later.body, own[:]); err != nil {
			t.Fatal(err)
		}
		s.Close()
		_, opened := Open(t.Context(), s.Path(), Options{})
		_, verified := Verify(t.Context(), s.Path())
		for _, err := range []error{opened, verified} {
			if !Is(err, Newer) || !strings.Contains(worded(err), "Record 2 of "+s.Path()) || !strings.Contains(worded(err), "a later one") {
				t.Errorf("%s: %v", kind, err)
			}
		}
	}
}

// TestVerifySaysWhatItKnows of a shop of today and of one of the first form.
func TestVerifySaysWhatItKnows(t *testing.T) {
	t.Parallel()
	path, _, history := sealedShop(t)
	v, err := Verify(t.Context(), path)
	if err != nil || v.Form != len(migrations) || v.Records != len(history) || v.WrittenFrom != 1 || len(v.Seal) != 64 || !v.Newest.Equal(opening) {
		t.Errorf("today's: %+v, %v", v, err)
	}
	old := copyOf(t, "form1.sqlite")
	if v, err = Verify(t.Context(), old); err != nil || v.Form != 1 || v.Records != 15 || v.WrittenFrom != 0 || v.Seal != "" {
		t.Errorf("the first form: %+v, %v", v, err)
	}
	s := open(t, old, Options{})
	mustAppend(t, s, scrap(1))
	s.Close()
	if v, err = Verify(t.Context(), old); err != nil || v.Records != 16 || v.WrittenFrom != 16 {
		t.Errorf("brought up to date: %+v, %v", v, err)
	}
}

// TestACopyOfTheFileHasWhatWasKept: a quiet moment after a write the file alone,
// without the log beside it, is the whole shop; so it is after a close.
func TestACopyOfTheFileHasWhatWasKept(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	mustAppend(t, s, scrap(1), scrap(2), scrap(3))
	inCopy := func() int {
		content, err := os.ReadFile(s.Path())
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), "copy")
		if err := os.WriteFile(path, content, 0o644); err != nil {
			t.Fatal(err)
		}
		v, err := Verify(t.Context(), path)
		if err != nil {
			t.Fatal(err)
		}
		return v.Records
	}
	for end := time.Now().Add(20 * quiet); inCopy() != 3; time.Sleep(quiet / 10) {
		if time.Now().After(end) {
			t.Fatalf("the copy has %d records, 3 were kept", inCopy())
		}
	}
	reader := open(t, s.Path(), Options{ReadOnly: true}) // keeps the log from going with the last connection
	mustAppend(t, s, scrap(4))
	s.Close()
	if n := inCopy(); n != 4 {
		t.Errorf("closed, the copy has %d records, 4 were kept", n)
	}
	reader.Close()
}

// TestAFileLeftEmptyIsANewShop, and a start that was cut short leaves nothing in
// the way.
func TestAFileLeftEmptyIsANewShop(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "shop.hopperful")
	for _, left := range []string{path, path + ".part", path + ".part-journal"} {
		if err := os.WriteFile(left, nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := Open(t.Context(), path, Options{}); !Is(err, Missing) {
		t.Errorf("empty: %v", err)
	}
	s, err := Create(t.Context(), path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	mustAppend(t, s, scrap(1))
	s.Close()
	left, err := filepath.Glob(path + ".part*")
	if err != nil || len(left) > 0 {
		t.Errorf("left: %v, %v", left, err)
	}
}

// TestTheLockHoldsTheFile, whatever name it is reached by.
func TestTheLockHoldsTheFile(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	folder := t.TempDir()
	link, second := filepath.Join(folder, "link"), filepath.Join(folder, "second")
	if err := os.Symlink(s.Path(), link); err != nil {
		t.Skip("no links here:", err)
	}
	if _, err := Open(t.Context(), link, Options{}); !Is(err, InUse) || !strings.Contains(worded(err), "process ") {
		t.Errorf("by a symbolic link: %v", err)
	}
	if err := os.Link(s.Path(), second); err != nil {
		t.Skip("no hard links here:", err)
	}
	if _, err := Open(t.Context(), second, Options{}); !Is(err, InUse) && !Is(err, Failed) {
		t.Errorf("by a second name: %v", err)
	}
	s.Close()
	if _, err := Open(t.Context(), second, Options{}); !Is(err, Failed) || !strings.Contains(worded(err), "has 2 names") {
		t.Errorf("a file of two names: %v", err)
	}
	os.Remove(second)
	open(t, link, Options{})
}

// TestRestore: the backup is at the place, what was there is kept whole, and a
// backup that does not fit changes nothing.
func TestRestore(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	mustAppend(t, s, scrap(1))
	saved := filepath.Join(t.TempDir(), "monday")
	if err := s.Backup(t.Context(), saved); err != nil {
		t.Fatal(err)
	}
	mustAppend(t, s, scrap(2))
	if _, err := Restore(t.Context(), saved, s.Path(), opening); !Is(err, InUse) {
		t.Errorf("while it is open: %v", err)
	}
	s.Close()
	bad := filepath.Join(t.TempDir(), "bad")
	content, _ := os.ReadFile(saved)
	os.WriteFile(bad, bytes.ReplaceAll(content, []byte(`"scrap"`), []byte(`"virgi"`)), 0o644)
	if _, err := Restore(t.Context(), bad, s.Path(), opening); !Is(err, Damaged) {
		t.Errorf("a damaged backup: %v", err)
	}
	if n := len(open2(t, s.Path())); n != 2 {
		t.Errorf("after a damaged backup: %d records", n)
	}
	if _, err := Restore(t.Context(), s.Path(), s.Path(), opening); !Is(err, Exists) {
		t.Errorf("of itself: %v", err)
	}
	done, err := Restore(t.Context(), saved, s.Path(), opening)
	if err != nil || done.Records != 1 || done.Kept != s.Path()+".before-20260504-080000" {
		t.Fatalf("restored: %+v, %v", done, err)
	}
	if n, kept := len(open2(t, s.Path())), len(open2(t, done.Kept)); n != 1 || kept != 2 {
		t.Errorf("%d records restored, %d kept", n, kept)
	}
	// Over a shop that is damaged, with a log left beside it, and to where none is.
	os.WriteFile(s.Path(), []byte("scratched"), 0o644)
	os.WriteFile(s.Path()+"-wal", []byte("of another life"), 0o644)
	if _, err := Restore(t.Context(), saved, s.Path(), opening.Add(time.Second)); err != nil || len(open2(t, s.Path())) != 1 {
		t.Errorf("over a damaged one: %v", err)
	}
	if done, err := Restore(t.Context(), saved, filepath.Join(t.TempDir(), "new"), opening); err != nil || done.Kept != "" {
		t.Errorf("to a new place: %+v, %v", done, err)
	}
}

// open2 opens a shop for writing and returns its records.
func open2(t *testing.T, path string) []shop.Record {
	t.Helper()
	s, err := Open(t.Context(), path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	return s.State().History.List()
}
