package pgtest

import (
	"os"
	"path/filepath"
	"testing"
	"time"
)

// TestWhatAKilledTestLeftIsSwept, and nothing that may be in use or is not ours.
func TestWhatAKilledTestLeftIsSwept(t *testing.T) {
	t.Parallel()
	in, now := t.TempDir(), time.Now()
	for name, c := range map[string]struct {
		age   time.Duration
		stays bool
	}{"hopperful-pg-1": {25 * time.Hour, false}, "hopperful-pg-2": {23 * time.Hour, true}, "hopperful-pg-3": {-time.Hour, true}, "other-pg-4": {99 * time.Hour, true}} {
		folder := filepath.Join(in, name)
		if err := os.MkdirAll(filepath.Join(folder, "data"), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(folder, now.Add(-c.age), now.Add(-c.age)); err != nil {
			t.Fatal(err)
		}
		sweep(in, now)
		if _, err := os.Stat(folder); (err == nil) != c.stays {
			t.Errorf("%s, %v old, stays: %v", name, c.age, err == nil)
		}
	}
}
