package store

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"hopperful/internal/account"
	"hopperful/internal/store/pgtest"
	"hopperful/shop"
)

// writeForever names, in the environment of a child process of the test, the
// shop it writes to until it is killed.
const writeForever = "HOPPERFUL_TEST_WRITE_FOREVER"

func TestMain(m *testing.M) {
	account.CheapInTests()
	if path := os.Getenv(writeForever); path != "" {
		if err := appendForever(path); err != nil {
			fmt.Fprintln(os.Stderr, err)
		}
		os.Exit(1)
	}
	cache, err := os.MkdirTemp("", "hopperful-cache-*") // of what is kept of shops on a server
	if err == nil {
		err = os.Setenv("XDG_CACHE_HOME", cache)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	code := m.Run()
	pgtest.Stop()
	os.RemoveAll(cache)
	os.Exit(code)
}

// batch is how many records the child writes at once.
const batch = 3

// appendForever prints the number of the last of each few records once they are kept.
func appendForever(path string) error {
	ctx := context.Background()
	s, err := Open(ctx, path, Options{})
	if err != nil {
		return err
	}
	for {
		kept, err := s.Append(ctx, opening, scrap(1), scrap(1), scrap(1)) // as a notebook is brought in: all, or nothing
		if err != nil {
			return err
		}
		fmt.Println(kept[batch-1].ID)
	}
}

// TestKilledWriterLosesNothing kills a program in the middle of its writing:
// every record it was told is kept is there, of what is written at once all or nothing,
// and the shop is free again. (This
// is the death of a process; the death of the power is SQLite's own promise.)
func TestKilledWriterLosesNothing(t *testing.T) {
	t.Parallel()
	for round := range 3 {
		s := fresh(t)
		s.Close()
		if last := killAfter(t, s.Path(), 20+30*round); last > 0 {
			again := open(t, s.Path(), Options{})
			if n := again.State().Newest().ID; n < last {
				t.Errorf("record %d was kept, %d is the last that is there", last, n)
			}
			if n := again.State().History.Len(); n%batch != 0 {
				t.Errorf("%d records are there: some of what was written at once is, and some is not", n)
			}
			mustAppend(t, again, scrap(1))
		}
	}
}

// killAfter runs a child until it has written so many records, kills it, and
// returns the last record it said was kept.
func killAfter(t *testing.T, path string, records int) shop.RecordID {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	child := exec.CommandContext(t.Context(), self)
	child.Env = append(os.Environ(), writeForever+"="+filepath.Clean(path))
	child.Stderr = os.Stderr
	out, err := child.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	var last shop.RecordID
	lines := bufio.NewScanner(out)
	for n := 0; lines.Scan(); n++ {
		id, err := strconv.Atoi(lines.Text())
		if err != nil { // the line during which it died
			break
		}
		last = shop.RecordID(id)
		if n == records {
			if err := child.Process.Kill(); err != nil {
				t.Error(err)
			}
		}
	}
	if err := child.Wait(); err == nil || int(last) < records {
		t.Errorf("the child ended by itself after record %d: %v", last, err)
	}
	return last
}
