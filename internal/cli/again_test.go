package cli

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hopperful/internal/store"
	"hopperful/shop"
)

// runIn runs a command in a shop's file and returns what it printed.
func runIn(t *testing.T, file string, words ...string) (string, int) {
	t.Helper()
	var out, wrong bytes.Buffer
	env := Env{Out: &out, Err: &wrong, Getenv: func(string) string { return "" }, Now: func() time.Time { return time.Now().Add(time.Minute) }}
	code := Main(context.Background(), append(words, "--shop", file), env)
	return out.String() + wrong.String(), code
}

// stateIn reads a shop's file.
func stateIn(t *testing.T, file string) *shop.State {
	t.Helper()
	s, err := store.Open(t.Context(), file, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	return s.State()
}

// Each record of the invented shop, given back as the flags that would write it, corrects itself
// to what it was.
func TestEveryRecordIsWrittenAgain(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	if err := settle(folder); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(folder, "lantern.hopperful")
	before, seen := stateIn(t, file), map[string]int{}
	for _, r := range before.Records.All() {
		words := again(&Env{}, r)
		kind := r.Body.Kind()
		if words == nil || seen[kind] >= 3 {
			continue
		}
		seen[kind]++
		said, code := runIn(t, file, append(words, "--corrects", fmt.Sprint(r.ID))...)
		if code != 0 {
			t.Fatalf("%s: %s", quoted(words), said)
		}
		now, ok := stateIn(t, file).Record(r.ID)
		if !ok || now.By != r.By || now.Note != r.Note || !now.At.Equal(r.At) {
			t.Errorf("record %d is %+v, was %+v", r.ID, now, r)
		}
		if was, is := encoded(t, r.Body), encoded(t, now.Body); was != is {
			t.Errorf("%s:\n%s, was\n%s", quoted(words), is, was)
		}
	}
	if len(seen) < 15 {
		t.Errorf("only %d kinds of record are written again", len(seen))
	}
}

// A correction changes what is named and keeps the rest: polymer, colour and name stay when only
// the mass was wrong.
func TestACorrectionKeepsWhatItDoesNotName(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	if err := settle(folder); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(folder, "lantern.hopperful")
	before := stateIn(t, file)
	s1, _ := before.Lot("S1")
	said, code := runIn(t, file, "take-in", "--corrects", fmt.Sprint(s1.Born), "1.95kg")
	now, _ := stateIn(t, file).Lot("S1")
	if code != 0 || now.Polymer != s1.Polymer || now.Colour != s1.Colour || now.RGB != s1.RGB || now.Name != s1.Name || now.In != 1.95 {
		t.Errorf("%s\n%+v was %+v", said, now, s1)
	}
	run := before.Mills[0].Runs[0]
	was, _ := before.Record(run)
	if said, code = runIn(t, file, "record", "ground", "--corrects", fmt.Sprint(run), "--product", "70g", "--left", "unknown"); code != 0 {
		t.Fatal(said)
	}
	r, _ := stateIn(t, file).Record(run)
	want := *was.Body.(*shop.Ground)
	want.Product, want.Left = ptr(0.07), nil
	if was, is := encoded(t, &want), encoded(t, r.Body); was != is {
		t.Errorf("a run of which the product was corrected is\n%s, wanted\n%s", is, was)
	}
	if said, code := runIn(t, file, "record", "ground", "--charge", "70g"); code != 2 || !strings.Contains(said, "needs --from and --run") {
		t.Errorf("without --corrects all that is needed is asked for: %d, %s", code, said)
	}
}

func ptr(x float64) *float64 { return &x }

func encoded(t *testing.T, b shop.Body) string {
	t.Helper()
	text, err := shop.Encode(b)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
