package tokens

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"hopperful/shop"
)

// TestATokenLetsItsOwnerIn and nobody with another: not one cut, lengthened, of
// another name, or revoked.
func TestATokenLetsItsOwnerIn(t *testing.T) {
	t.Parallel()
	f := Folder(filepath.Join(t.TempDir(), "my.shop"+Ending))
	if all, err := f.List(); err != nil || len(all) != 0 {
		t.Fatalf("before the first: %v, %v", all, err)
	}
	now := time.Date(2026, 5, 2, 10, 0, 0, 0, time.UTC)
	one, secret, err := f.Make("  weigh  bench ", Read, now)
	if err != nil || one.Name != "weigh bench" || one.Hash != "" || !one.Made.Equal(now) {
		t.Fatalf("%+v, %v", one, err)
	}
	two, other, err := f.Make("meter", Record, now.Add(time.Second))
	if err != nil {
		t.Fatal(err)
	}
	for _, wrong := range []string{"", ".", secret[:len(secret)-1], secret + "A", strings.ToLower(secret), two.ID + secret[8:], "../" + secret, one.ID, one.ID + "."} {
		if got, ok := f.Find(wrong); ok {
			t.Errorf("%q lets %s in", wrong, got.Name)
		}
	}
	if got, ok := f.Find(secret); !ok || got != one {
		t.Errorf("its own secret finds %+v, %t", got, ok)
	}
	if got, ok := f.Find(other); !ok || got.ID != two.ID || !got.Scope.Lets(Read) || one.Scope.Lets(Record) {
		t.Errorf("the other finds %+v, %t", got, ok)
	}
	text, err := os.ReadFile(f.file(one.ID))
	if err != nil || strings.Contains(string(text), secret[9:]) {
		t.Errorf("the secret stands in the file: %s, %v", text, err)
	}
	if facts, err := os.Stat(f.file(one.ID)); err != nil || runtime.GOOS != "windows" && facts.Mode().Perm() != 0o600 {
		t.Errorf("%v %v", facts.Mode(), err)
	}
	if all, err := f.List(); err != nil || len(all) != 2 || all[0] != one || all[1] != two {
		t.Errorf("listed are %v, %v", all, err)
	}
	if gone, err := f.Revoke(one.ID); err != nil || gone != one {
		t.Errorf("revoked %+v, %v", gone, err)
	}
	if _, ok := f.Find(secret); ok {
		t.Error("revoked it still lets in")
	}
	for range 2 {
		if _, _, err := f.Make("twin", Read, now); err != nil {
			t.Fatal(err)
		}
	}
	if gone, err := f.Revoke("meter"); err != nil || gone.ID != two.ID {
		t.Errorf("revoked by its name: %+v, %v", gone, err)
	}
	var no *shop.Error
	if _, err := f.Revoke("twin"); !errors.As(err, &no) || no.Code != shop.Conflict {
		t.Errorf("revoking one of two of a name: %v", err)
	}
	for _, id := range []string{one.ID, "../secret", ""} {
		if _, err := f.Revoke(id); !errors.As(err, &no) || no.Code != shop.NotFound {
			t.Errorf("revoking %q: %v", id, err)
		}
	}
}

// TestATokenIsBounded in name, scope and number.
func TestATokenIsBounded(t *testing.T) {
	t.Parallel()
	f := Folder(filepath.Join(t.TempDir(), "x"))
	for _, c := range []struct {
		name  string
		scope Scope
		field string
	}{{" ", Read, "name"}, {strings.Repeat("x", mostName+1), Read, "name"}, {"a\x00b", Read, "name"}, {"a", "all", "scope"}, {"a", "", "scope"}} {
		var no *shop.Error
		if _, _, err := f.Make(c.name, c.scope, time.Now()); !errors.As(err, &no) || no.Field != c.field {
			t.Errorf("%q, %q: %v", c.name, c.scope, err)
		}
	}
	if err := os.MkdirAll(string(f), 0o700); err != nil {
		t.Fatal(err)
	}
	for _, junk := range []string{"aaaaaaaa.json", "note.json", "bbbbbbbb.json.new"} {
		if err := os.WriteFile(filepath.Join(string(f), junk), []byte(`{"id":"cccccccc"}`), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for i := range most {
		if _, _, err := f.Make("n", Read, time.Now()); err != nil {
			t.Fatalf("token %d: %v", i, err)
		}
	}
	if _, _, err := f.Make("n", Read, time.Now()); err == nil {
		t.Errorf("more than %d tokens", most)
	}
}
