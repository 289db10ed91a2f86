package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// hex is a text as strace -xx writes it.
func hex(text string) string {
	var b strings.Builder
	for _, c := range []byte(text) {
		fmt.Fprintf(&b, `\x%02x`, c)
	}
	return b.String()
}

// TestWhatAPowerCutLeaves: what was synced before is there, what was not may be and may not, a
// promise counts when its call is over, and halves of a call belong together.
func TestWhatAPowerCutLeaves(t *testing.T) {
	t.Parallel()
	shop, folder, wire := "9<"+hex("/s/shop")+">", "5<"+hex("/s")+">", "8<"+hex("socket:[7]")+">"
	trace := filepath.Join(t.TempDir(), "trace")
	lines := []string{
		`1 open("` + hex("/s/shop") + `", O_RDWR|O_CREAT, 0644) = ` + shop,                               // 1 event
		`1 fsync(` + folder + `)                        = 0`,                                             // 2
		`1 pwrite64(` + shop + `, "` + hex("old") + `", 3, 0) = 3`,                                       // 3
		`1 fsync(` + shop + `) = 0`,                                                                      // 4
		`2 read(` + wire + `, "` + hex("POST / note=piece+000001") + `", 4096) = 24`,                     // none
		`1 pwrite64(` + shop + `, "` + hex("new") + `", 3, 0 <unfinished ...>`,                           // 5
		`2 --- SIGURG {si_signo=SIGURG} ---`,                                                             // none
		`1 <... pwrite64 resumed>) = 3`,                                                                  // none
		`1 fsync(` + shop + ` <unfinished ...>`,                                                          // none yet
		`3 unlinkat(AT_FDCWD<` + hex("/") + `>, "` + hex("/s/none") + `", 0) = -1 ENOENT (No such file)`, // none
		`3 ftruncate(` + shop + `, 2) = 0`,                                                               // 6
		`1 <... fsync resumed>) = 0`,                                                                     // 7
		`2 write(` + wire + `, "` + hex("HTTP/1.1 303 See Other") + `", 22) = 22`,                        // 8
	}
	if err := os.WriteFile(trace, []byte(strings.Join(lines, "\n")), 0o600); err != nil {
		t.Fatal(err)
	}
	events, err := readTrace(trace, "/s")
	if err != nil || len(events) != 8 {
		t.Fatal(events, err)
	}
	for _, c := range []struct {
		events int
		may    string // what the shop may hold, one after the other; "-": it is not there
	}{{0, "-"}, {1, "- "}, {2, ""}, {3, " old"}, {4, "old"}, {5, "old new"}, {6, "old new ol ne"}, {7, "ne"}, {8, "ne"}} {
		d, told := after(events[:c.events], "/s")
		if told["piece 000001"] != (c.events == 8) {
			t.Errorf("after %d events %v was told", c.events, told)
		}
		seen := map[string]bool{}
		for seed := range uint64(100) {
			back := t.TempDir()
			if err := d.leave(back, rand.New(rand.NewPCG(seed, 1))); err != nil {
				t.Fatal(err)
			}
			text, err := os.ReadFile(filepath.Join(back, "shop"))
			if err != nil {
				text = []byte("-")
			}
			seen[string(text)] = true
		}
		want := strings.Split(c.may, " ")
		for _, w := range want {
			if !seen[w] {
				t.Errorf("after %d events %q never lay there", c.events, w)
			}
		}
		if len(seen) != len(want) {
			t.Errorf("after %d events there lay %v", c.events, seen)
		}
	}
}

// TestSectorsAreKeptOrNot: a write of several sectors may be there in part.
func TestSectorsAreKeptOrNot(t *testing.T) {
	t.Parallel()
	turn := 0
	every := func() bool { turn++; return turn%2 == 0 } // the second and the fourth
	got := event{kind: write, at: 500, bytes: []byte(strings.Repeat("x", 1200))}.onto([]byte("y"), every)
	if want := "y" + strings.Repeat("\x00", 511) + strings.Repeat("x", 512) + strings.Repeat("\x00", 512) + strings.Repeat("x", 164); string(got) != want {
		t.Errorf("%q", got)
	}
}
