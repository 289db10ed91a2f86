package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"hopperful/internal/growth"
	"hopperful/shop"
)

// longShop is a closed shop with so many records, what is kept beside it, and its
// history.
func longShop(t *testing.T, n int) (path string, history []shop.Record) {
	t.Helper()
	s := fresh(t)
	err := growth.Records(n, opening, func(piece []shop.Record) error {
		history = append(history, mustAppend(t, s, piece...)...)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	s.Close()
	if _, err := os.Stat(keptPath(s.Path())); err != nil {
		t.Fatalf("nothing is kept: %v", err)
	}
	return s.Path(), history
}

// sameShop holds an open shop against one folded from its history.
func sameShop(t *testing.T, s *Store, history []shop.Record) {
	t.Helper()
	want, err := shop.Fold(history)
	if err != nil {
		t.Fatal(err)
	}
	got := s.State()
	if list := got.History.List(); !reflect.DeepEqual(list, history) {
		t.Fatalf("%d records, not %d", len(list), len(history))
	}
	if a, b := shop.BalanceOf(got), shop.BalanceOf(want); !reflect.DeepEqual(a, b) {
		t.Errorf("it balances as %+v, not as %+v", a, b)
	}
	for _, id := range want.Order {
		if a, b := got.Lots.At(id), want.Lots.At(id); !reflect.DeepEqual(a, b) {
			t.Fatalf("lot %s is %+v, not %+v", id, a, b)
		}
	}
}

// TestALongShopOpensFromWhatIsKept, also to be written on, corrected and read after it
// was closed.
func TestALongShopOpensFromWhatIsKept(t *testing.T) {
	t.Parallel()
	path, history := longShop(t, 5500)
	s := open(t, path, Options{})
	if s.keptWhy != nil {
		t.Fatalf("what is kept does not count: %v", s.keptWhy)
	}
	if tail := len(s.State().Tail()); tail > keptFrom+keptLag {
		t.Errorf("%d records were folded anew", tail)
	}
	sameShop(t, s, history)
	history = append(history, mustAppend(t, s, scrap(1))...)
	late := history[len(history)-30]
	history = append(history, mustAppend(t, s, shop.Record{Corrects: late.ID, Body: &shop.Void{Why: "written twice"}})...)
	history = append(history, mustAppend(t, s, shop.Record{Corrects: 7, Note: "long ago", Body: history[6].Body})...) // far before what is kept
	sameShop(t, s, history)
	state := s.State()
	s.Close()
	if list := state.History.List(); !reflect.DeepEqual(list, history) {
		t.Error("a state cannot be read once its store is closed")
	}
	sameShop(t, open(t, path, Options{ReadOnly: true}), history)
	if found, err := Verify(t.Context(), path); err != nil || found.Records != len(history) {
		t.Errorf("verified %+v %v", found, err)
	}
}

// TestWhatWasFoldedPieceByPieceIsKept: a history longer than what is read at once is kept
// when it is opened, however few records came since the last piece.
func TestWhatWasFoldedPieceByPieceIsKept(t *testing.T) {
	t.Parallel()
	path, history := longShop(t, readAtOnce+100)
	if err := os.Remove(keptPath(path)); err != nil {
		t.Fatal(err)
	}
	var told []int
	open(t, path, Options{Read: func(n int) { told = append(told, n) }}).Close()
	if len(told) != 1 || told[0] != readAtOnce {
		t.Errorf("told how far it is: %v", told)
	}
	s := open(t, path, Options{ReadOnly: true, Read: func(n int) { t.Errorf("%d records are read again", n) }})
	if s.keptWhy != nil {
		t.Fatalf("what is kept does not count: %v", s.keptWhy)
	}
	if n := s.State().History.Len(); n != len(history) {
		t.Errorf("%d records, not %d", n, len(history))
	}
}

// TestWhatDoesNotCountIsMadeAnew: what is kept and damaged, of another program, of other
// records or gone leaves the shop as it is, and is made anew.
func TestWhatDoesNotCountIsMadeAnew(t *testing.T) {
	t.Parallel()
	path, history := longShop(t, 5500)
	other, _ := longShop(t, 5501)
	whole, err := os.ReadFile(keptPath(path))
	if err != nil {
		t.Fatal(err)
	}
	foreign, err := os.ReadFile(keptPath(other))
	if err != nil {
		t.Fatal(err)
	}
	chance := rand.New(rand.NewPCG(14, 4))
	damage := func() []byte {
		b := append([]byte(nil), whole...)
		bit := chance.IntN(8 * len(b))
		b[bit/8] ^= 1 << (bit % 8)
		return b
	}
	for name, c := range map[string]struct {
		b    []byte
		want error
	}{
		"a flipped bit":    {damage(), errKeptDamaged},
		"cut short":        {whole[:chance.IntN(len(whole))], errKeptDamaged},
		"empty":            {nil, errKeptDamaged},
		"gone":             {nil, errNoneKept},
		"another program":  {resealed(whole, len(keptMark)+3), errOtherProgram},
		"other records":    {foreign, errOtherRecords},
		"whole, and still": {whole, nil},
	} {
		if err := os.WriteFile(keptPath(path), c.b, 0o644); err != nil {
			t.Fatal(err)
		}
		if errors.Is(c.want, errNoneKept) {
			os.Remove(keptPath(path))
		}
		s := open(t, path, Options{ReadOnly: true})
		if !errors.Is(s.keptWhy, c.want) {
			t.Errorf("%s: %v", name, s.keptWhy)
		}
		sameShop(t, s, history)
		if _, err := Kept(t.Context(), path); !errors.Is(c.want, errNoneKept) && !errors.Is(err, c.want) {
			t.Errorf("%s is told as %v", name, err)
		}
		open(t, path, Options{}).Close()
		if n, err := Kept(t.Context(), path); err != nil || n < 4000 {
			t.Errorf("%s: not made anew, %d records and %v", name, n, err)
		}
	}
	for range 200 { // any bit
		if err := os.WriteFile(keptPath(path), damage(), 0o644); err != nil {
			t.Fatal(err)
		}
		if n, err := Kept(t.Context(), path); err == nil && n != 0 {
			t.Fatal("a flipped bit is taken for whole")
		}
	}
}

// resealed is the file with another byte at a place, and the sums that fit.
func resealed(b []byte, at int) []byte {
	b = append([]byte(nil), b...)
	b[at]++
	n := int(binary.LittleEndian.Uint32(b[len(b)-4:]))
	binary.LittleEndian.PutUint32(b[len(b)-4-4*n:], sumOf(b[:min(keptBlock, len(b)-4-4*n)]))
	return b
}

// TestAShortShopKeepsNothing.
func TestAShortShopKeepsNothing(t *testing.T) {
	t.Parallel()
	s := fresh(t)
	mustAppend(t, s, scrap(1))
	s.Close()
	if _, err := os.Stat(keptPath(s.Path())); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v", err)
	}
	if n, err := Kept(t.Context(), s.Path()); n != 0 || err != nil {
		t.Errorf("%d %v", n, err)
	}
}

// TestARecordDamagedSinceIsTold: the seals of what lies in the file are looked at when it
// is read, and what needed the record fails by name instead of answering.
func TestARecordDamagedSinceIsTold(t *testing.T) {
	t.Parallel()
	path, history := longShop(t, 5500)
	db, err := connect(path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range []string{"DROP TRIGGER record_stays_written", "UPDATE record SET note = 'another' WHERE id = 70"} {
		if _, err := db.Exec(q); err != nil {
			t.Fatal(err)
		}
	}
	db.Close()
	s := open(t, path, Options{})
	if r, _ := s.State().Record(300); !reflect.DeepEqual(r, history[299]) {
		t.Errorf("%+v", r)
	}
	_, err = s.Append(t.Context(), opening, shop.Record{Corrects: 70, Body: history[69].Body})
	if !Is(err, Damaged) {
		t.Errorf("%v", err)
	}
	func() {
		defer Stopped(&err)
		err = nil
		s.State().Record(70)
	}()
	if !Is(err, Damaged) {
		t.Errorf("%v", err)
	}
	if _, err := Verify(t.Context(), path); !Is(err, Damaged) {
		t.Errorf("%v", err)
	}
}

// TestWhatIsKeptIsReadFromItsFile: any part of it, across blocks too, is what was packed.
func TestWhatIsKeptIsReadFromItsFile(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "shop")
	chance := rand.New(rand.NewPCG(14, 5))
	want := make([]byte, 40*keptBlock+123)
	for i := range want {
		want[i] = byte(chance.Uint32())
	}
	pack := func(to io.Writer) error {
		for b := want; len(b) > 0; {
			n := min(len(b), 1+chance.IntN(3*keptBlock))
			if _, err := to.Write(b[:n]); err != nil {
				return err
			}
			b = b[n:]
		}
		return nil
	}
	end := tail{id: 7, seal: seal{1, 2, 3}}
	written, err := writeKept(path, end, pack)
	if err != nil {
		t.Fatal(err)
	}
	found, opened, err := openKept(path)
	if err != nil || found != end {
		t.Fatalf("%+v %v", found, err)
	}
	for _, packed := range []shop.Packed{written, opened} {
		if packed.Len() != len(want) {
			t.Fatalf("%d bytes, not %d", packed.Len(), len(want))
		}
		for range 300 {
			from := chance.IntN(len(want) + 1)
			to := min(len(want), from+chance.IntN(4*keptBlock))
			if !bytes.Equal(packed.At(from, to), want[from:to]) {
				t.Fatalf("from %d to %d it is something else", from, to)
			}
		}
		if !bytes.Equal(packed.At(0, len(want)), want) {
			t.Fatal("all of it is something else")
		}
		if k := packed.(*keptFile); len(k.hot)+len(k.old) > 2*mostHot {
			t.Errorf("%d blocks are in memory", len(k.hot)+len(k.old))
		}
	}
}

// TestWhatIsKeptDamagedSinceIsTold: a file that was whole when the shop was opened, and no longer is
// when a lot is read from it, stops whatever asked by name; opened anew, the records have it all.
func TestWhatIsKeptDamagedSinceIsTold(t *testing.T) {
	t.Parallel()
	path, history := longShop(t, 5500)
	s := open(t, path, Options{})
	_, packed, err := openKept(path)
	if err != nil {
		t.Fatal(err)
	}
	state, err := shop.Unpack(packed, s.source)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(keptPath(path))
	if err != nil {
		t.Fatal(err)
	}
	for i := range whole {
		whole[i] ^= 1
	}
	f, err := os.OpenFile(keptPath(path), os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.WriteAt(whole, 0); err != nil {
		t.Fatal(err)
	}
	f.Close()
	clear(packed.(*keptFile).hot) // what was read in opening it
	func() {
		defer Stopped(&err)
		state.Lots.At(state.Order[0])
	}()
	if !Is(err, Failed) || !errors.Is(err, errKeptDamaged) {
		t.Errorf("%v", err)
	}
	s.Close()
	sameShop(t, open(t, path, Options{}), history)
}
