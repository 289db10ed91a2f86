package main

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// What an earlier run left is read from what it printed on its way; the rest is not.
func TestWhatAnEarlierRunLeftIsRead(t *testing.T) {
	t.Parallel()
	name := filepath.Join(t.TempDir(), "first.txt")
	const printed = "hopperful/plan: 1 of 3 noticed by its own tests\nso far plan/a.go:3: < for > | if a < b {\nso far plan/b.go:9: twice 2 | return 2\nunnoticed: plan/b.go:9: twice 2 | return 2\n"
	if err := os.WriteFile(name, []byte(printed), 0o600); err != nil {
		t.Fatal(err)
	}
	left, err := readLeft(name)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := slices.Sorted(maps.Keys(left)), []string{"plan/a.go:3: < for > | if a < b {", "plan/b.go:9: twice 2 | return 2"}; !slices.Equal(got, want) {
		t.Errorf("read %q, wanted %q", got, want)
	}
	if left, err := readLeft(""); left != nil || err != nil {
		t.Errorf("without a file: %v, %v", left, err)
	}
	if _, err := readLeft(name + "x"); err == nil {
		t.Error("a file that is not there is no error")
	}
}
