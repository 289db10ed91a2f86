package main

// Compiles the tests of a package once with all its changes in it, finds which test comes
// by which change, and runs those tests with one change on at a time.

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"hopperful/internal/mutate/mutant"
)

// verdict is what the tests made of a change.
type verdict int

const (
	noticed verdict = iota
	unnoticed
	unreached // no test of the package comes by it
	same      // listed as a change that changes nothing
	unbuilt   // no change at all: the compiler refuses it
)

// bench is the tests of a package, compiled with changes to some packages in them.
type bench struct {
	path, dir string
	changed   []*unit
	folder    string // of the compiled tests, and what they write
	program   string
	reach     map[int][]test       // by the number of a change
	passed    map[string]time.Time // when tests last passed without any change
}

type test struct {
	name  string
	takes time.Duration // of the processor: the clock says more of what else the machine does
}

// rank is what it costs to ask a test by what it is likely to notice: one that holds whole answers or
// rows of them notices several times as much as another, and is asked before others as quick.
func (t test) rank() time.Duration {
	if strings.HasSuffix(t.name, "AsApproved") || strings.HasSuffix(t.name, "Checks") {
		return t.takes / wholes
	}
	return t.takes
}

// wholes is how many times as much. Judgement.
const wholes = 8

// prepare compiles the tests with the sites in place, leaving out those that do not
// compile, and runs each test once.
func prepare(ctx context.Context, path, dir string, changed []*unit, sites []site, folder string, wait time.Duration) (*bench, []site, error) {
	b := &bench{path: path, dir: dir, changed: changed, folder: folder, program: filepath.Join(folder, "tests"), reach: map[int][]test{}, passed: map[string]time.Time{}}
	for {
		said, err := b.compile(ctx, sites)
		if err == nil {
			break
		}
		left := slices.DeleteFunc(slices.Clone(sites), func(s site) bool { return strings.Contains(said, fmt.Sprintf("%s:%d:", filepath.Base(s.file), s.line)) })
		if len(left) == len(sites) || ctx.Err() != nil {
			return nil, nil, fmt.Errorf("%s does not compile: %w\n%s", path, err, said)
		}
		sites = left
	}
	return b, sites, b.visit(ctx, wait)
}

func (b *bench) compile(ctx context.Context, sites []site) (string, error) {
	replace := map[string]string{}
	for _, u := range b.changed {
		for _, f := range u.files {
			var here []site
			for _, s := range sites {
				if s.pkg == u.path && filepath.Base(s.file) == filepath.Base(f.path) {
					here = append(here, s)
				}
			}
			if len(here) == 0 {
				continue
			}
			changed := filepath.Join(b.folder, fmt.Sprintf("changed%d.go", len(replace)))
			if err := os.WriteFile(changed, switched(f.text, f.packageEnd, here), 0o600); err != nil {
				return "", err
			}
			replace[f.path] = changed
		}
	}
	text, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return "", err
	}
	plan := filepath.Join(b.folder, "overlay.json")
	if err := os.WriteFile(plan, text, 0o600); err != nil {
		return "", err
	}
	said, err := exec.CommandContext(ctx, "go", "test", "-c", "-vet=off", "-gcflags=-e", "-overlay="+plan, "-o", b.program, b.path).CombinedOutput()
	return string(said), err
}

// still is how long a run may stand still before it is given up, which says nothing of
// the change: a busy machine looks the same.
const still = 10 * time.Minute

// leaveNothing keeps properties that fail from writing the draw that failed them beside the tests, where the next run of
// the tests as things are would begin with it.
const leaveNothing = "RAPID_NOFAILFILE=true"

// run runs some of the tests, with so much time of the processor, and returns what they
// printed and how much they took.
func (b *bench) run(ctx context.Context, allowed time.Duration, variables []string, args ...string) (out []byte, took time.Duration, err error) {
	timed, stop := context.WithTimeout(ctx, still)
	defer stop()
	limited := fmt.Sprintf(`ulimit -t %d; exec "$0" "$@"`, int(math.Ceil(allowed.Seconds())))
	c := exec.CommandContext(timed, "sh", append([]string{"-c", limited, b.program, "-test.short", "-test.parallel=1"}, args...)...)
	c.Dir, c.Env = b.dir, append(append(os.Environ(), leaveNothing), variables...)
	c.WaitDelay = time.Second
	out, err = c.CombinedOutput()
	if timed.Err() != nil {
		err = timed.Err()
	}
	if c.ProcessState != nil {
		took = c.ProcessState.UserTime() + c.ProcessState.SystemTime()
	}
	return out, took, err
}

var aTest = regexp.MustCompile(`(?m)^(Test|Example|Fuzz)\w*$`)

// visit runs each test by itself and notes the changes it comes by. A test that fails or
// takes too long as things are says nothing of changes, and is left out.
func (b *bench) visit(ctx context.Context, wait time.Duration) error {
	if _, err := os.Stat(b.program); errors.Is(err, os.ErrNotExist) {
		return nil // a package without tests
	}
	list, _, err := b.run(ctx, wait, nil, "-test.list", ".")
	if err != nil {
		return fmt.Errorf("listing the tests of %s: %w", b.path, err)
	}
	for _, name := range aTest.FindAllString(string(list), -1) {
		seen := filepath.Join(b.folder, "seen")
		if err := os.RemoveAll(seen); err != nil {
			return err
		}
		_, took, err := b.run(ctx, wait, []string{mutant.SeenVariable + "=" + seen}, "-test.run", "^"+name+"$")
		if err != nil {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			continue
		}
		t := test{name, took}
		text, err := os.ReadFile(seen)
		if err != nil && !errors.Is(err, os.ErrNotExist) {
			return err
		}
		for _, word := range bytes.Fields(text) {
			if id, err := strconv.Atoi(string(word)); err == nil {
				b.reach[id] = append(b.reach[id], t)
			}
		}
	}
	return nil
}

// together are the tests at the head of a list that are run at once: not many, and none that
// takes long beside another, for the first that fails ends it.
func together(tests []test) []test {
	n, takes := 1, tests[0].takes
	for n < min(8, len(tests)) && takes+tests[n].takes <= time.Second {
		takes += tests[n].takes
		n++
	}
	return tests[:n]
}

// try runs the tests that come by a change, with it on, those that notice most for their time first, until they have taken most of the processor's time. A run that takes ten times the processor's time it
// took is noticed too: an endless loop is no answer.
func (b *bench) try(ctx context.Context, s site, most time.Duration) verdict {
	tests := slices.Clone(b.reach[s.id])
	if len(tests) == 0 {
		return unreached
	}
	slices.SortFunc(tests, func(x, y test) int { return cmp.Compare(x.rank(), y.rank()) })
	var spent time.Duration
	for len(tests) > 0 {
		part := together(tests)
		tests = tests[len(part):]
		var names []string
		allowed, takes := 10*time.Second, time.Duration(0)
		for _, t := range part {
			names = append(names, t.name)
			allowed += 10 * t.takes
			takes += t.takes
		}
		if spent > 0 && spent+takes > most {
			continue // a later one may be quicker
		}
		spent += takes
		out, _, err := b.run(ctx, allowed, []string{mutant.OnVariable + "=" + strconv.Itoa(s.id)}, "-test.failfast", "-test.run", "^("+strings.Join(names, "|")+")$")
		if err != nil && !errors.Is(err, context.DeadlineExceeded) && b.passes(ctx, failed(out), allowed) {
			return noticed
		}
	}
	return unnoticed
}

var aFailure = regexp.MustCompile(`(?m)^--- FAIL: (\w+)`)

func failed(out []byte) (names []string) {
	for _, m := range aFailure.FindAllSubmatch(out, -1) {
		names = append(names, string(m[1]))
	}
	return names
}

// sure is how long a test that passed as things are is taken to pass yet.
const sure = 2 * time.Minute

// passes says whether tests that failed with a change pass without it within the same minutes:
// else it was the machine that failed them.
func (b *bench) passes(ctx context.Context, names []string, allowed time.Duration) bool {
	names = slices.DeleteFunc(names, func(name string) bool { return time.Since(b.passed[name]) < sure })
	if len(names) == 0 {
		return true // known; or stopped by the limit, or by its own end: no clock is in it
	}
	if _, _, err := b.run(ctx, allowed, nil, "-test.run", "^("+strings.Join(names, "|")+")$"); err != nil {
		return false
	}
	for _, name := range names {
		b.passed[name] = time.Now()
	}
	return true
}
