package main

import (
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"
)

// The power of the whole computer fails: what was not asked to be on the disk may be there,
// in part, in any order, or not at all. A traced run is cut at random calls, and of what
// was pending then a random part is kept, by sectors. What was synced is there; names made, taken away
// or changed are there up to some moment since their folder was synced.

// sector is what a disk writes whole or not at all (SQLite's own assumption: "Atomic Commit
// In SQLite", section 2, Hardware Assumptions).
const sector = 512

// perTrace is how often one traced run is cut.
const perTrace = 50

// disk is what lies on it for certain and what may.
type disk struct {
	names   map[string]*content // for certain
	now     map[string]*content // as the program sees them
	pending []map[string]*content
}

// content is a file's.
type content struct {
	kept    []byte
	pending []event
}

// after is the disk after some events, and what was acknowledged by then.
func after(events []event, folder string) (disk, map[string]bool) {
	d := disk{names: map[string]*content{}, now: map[string]*content{}}
	told := map[string]bool{}
	for _, e := range events {
		if e.kind == heard {
			told[e.note] = true
			continue
		}
		d.take(e, folder)
	}
	return d, told
}

func (d *disk) take(e event, folder string) {
	c := d.now[e.path]
	switch e.kind {
	case write, truncate:
		if c != nil { // else it is open and has no name any more
			c.pending = append(c.pending, e)
		}
		return
	case synced:
		if e.path == folder {
			d.names, d.pending = maps.Clone(d.now), nil
		} else if c != nil {
			for _, p := range c.pending {
				c.kept = p.onto(c.kept, nil)
			}
			c.pending = nil
		}
		return
	case create:
		if c != nil {
			return
		}
		d.now[e.path] = &content{}
	case unlink:
		delete(d.now, e.path)
	case rename:
		d.now[e.to] = c
		delete(d.now, e.path)
	}
	d.pending = append(d.pending, maps.Clone(d.now))
}

// onto makes a change in a file's bytes; where there is chance, of each sector or of the length only perhaps.
func (e event) onto(text []byte, perhaps func() bool) []byte {
	if e.kind == truncate {
		if perhaps == nil || perhaps() {
			text = text[:min(len(text), int(e.at))]
			text = append(text, make([]byte, int(e.at)-len(text))...)
		}
		return text
	}
	for from := int(e.at); from < int(e.at)+len(e.bytes); {
		to := min((from/sector+1)*sector, int(e.at)+len(e.bytes))
		if perhaps == nil || perhaps() {
			text = append(text, make([]byte, max(0, to-len(text)))...)
			copy(text[from:to], e.bytes[from-int(e.at):])
		}
		from = to
	}
	return text
}

// leave writes into a folder what the disk may hold when the power is back.
func (d disk) leave(folder string, chance *rand.Rand) error {
	names := d.names
	if n := chance.IntN(len(d.pending) + 1); n > 0 {
		names = d.pending[n-1]
	}
	share := []float64{0, 0.5, 0.9, 1}[chance.IntN(4)]
	for _, path := range slices.Sorted(maps.Keys(names)) {
		text := slices.Clone(names[path].kept)
		for _, p := range names[path].pending {
			text = p.onto(text, func() bool { return chance.Float64() < share })
		}
		if err := os.WriteFile(filepath.Join(folder, filepath.Base(path)), text, 0o600); err != nil {
			return err
		}
	}
	return nil
}

// powerCuts traces runs under load and cuts the power of each many times.
func (t *trial) powerCuts(ctx context.Context, cuts int) error {
	for t.Cuts < cuts {
		events, folder, err := t.traced(ctx)
		if err != nil {
			return err
		}
		for range min(perTrace, cuts-t.Cuts) {
			if err := t.cut(ctx, events[:t.chance.IntN(len(events)+1)], folder); err != nil {
				return err
			}
			t.Cuts++
		}
		_, told := after(events, folder)
		t.Acknowledged += len(told)
		fmt.Printf("%d cuts, %d acknowledged, %d lost, %d doubled\n", t.Cuts, t.Acknowledged, t.Lost, t.Doubled)
	}
	return nil
}

// traced serves a new shop under load, with a quiet moment in which the program folds its log
// in, and an orderly end; it returns what was asked of the disk.
func (t *trial) traced(ctx context.Context) ([]event, string, error) {
	folder, err := os.MkdirTemp(t.folder, "traced")
	if err != nil {
		return nil, "", err
	}
	t.shop = filepath.Join(folder, "shop.hopperful")
	trace := folder + ".trace"
	s, err := t.serveBy(ctx, "strace", "-D", "-f", "-y", "-xx", "-s", "1048576", "-o", trace,
		"-e", "trace=open,openat,read,write,pwrite64,ftruncate,fsync,fdatasync,rename,renameat,renameat2,unlink,unlinkat", t.program)
	if err != nil {
		return nil, "", err
	}
	for range 2 {
		wait, stop := t.load(ctx, s)
		time.Sleep(1500 * time.Millisecond)
		stop()
		wait()
		time.Sleep(1500 * time.Millisecond)
	}
	if err := s.Process.Signal(syscall.SIGTERM); err != nil {
		return nil, "", err
	}
	_ = s.Wait()    // what it leaves is what counts
	for range 200 { // the tracer is a process of its own and ends after it
		if text, err := os.ReadFile(trace); err == nil && strings.HasPrefix(lastLine(text), fmt.Sprintf("%d +++", s.Process.Pid)) {
			break
		}
		time.Sleep(50 * time.Millisecond)
	}
	events, err := readTrace(trace, folder)
	if err == nil && !slices.ContainsFunc(events, func(e event) bool { return e.kind == heard }) {
		err = fmt.Errorf("the trace of the run shows no acknowledged record")
	}
	return events, folder, err
}

func lastLine(text []byte) string {
	lines := strings.Split(strings.TrimSpace(string(text)), "\n")
	return lines[len(lines)-1]
}

// cut brings the power back after some events: each record acknowledged before is there
// once, the file verifies, and the shop can be written to.
func (t *trial) cut(ctx context.Context, events []event, was string) error {
	folder, err := os.MkdirTemp(t.folder, "back")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	d, told := after(events, was)
	if err := d.leave(folder, t.chance); err != nil {
		return err
	}
	t.shop = filepath.Join(folder, "shop.hopperful")
	more := "piece after the cut"
	if out, err := t.command(ctx, "take-in", "1kg", "--polymer", "PLA", "--note", more).CombinedOutput(); err != nil {
		return fmt.Errorf("after %d events the shop cannot be written to: %w: %s", len(events), err, out)
	}
	told[more] = true
	notes, err := t.notes(ctx, t.shop)
	if err != nil {
		return err
	}
	_, unheard := t.count(notes, told)
	t.Unheard += unheard
	_, err = t.verify(ctx, t.shop)
	return err
}

// serveBy is [trial.serve] with another program before it.
func (t *trial) serveBy(ctx context.Context, words ...string) (*server, error) {
	c := exec.CommandContext(ctx, words[0], append(words[1:], "serve", "--listen", "127.0.0.1:0", "--json")...)
	c.Env = append(os.Environ(), "HOPPERFUL_SHOP="+t.shop)
	return begin(c)
}
