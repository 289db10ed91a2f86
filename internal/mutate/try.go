package main

// Compiles the tests of a package once with all its changes in it, finds which test comes
// by which change, and runs those tests with one change on at a time.

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
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
	unbuilt   // no change at all: the compiler refuses it
)

// bench is a package with its tests compiled.
type bench struct {
	*unit
	folder  string // of the compiled tests, and what they write
	program string
	reach   map[int][]test // by the number of a change
}

type test struct {
	name  string
	takes time.Duration
}

// prepare compiles the tests with the sites in place, leaving out those that do not
// compile, and runs each test once.
func prepare(ctx context.Context, u *unit, sites []site, folder string, wait time.Duration) (*bench, []site, error) {
	b := &bench{unit: u, folder: folder, program: filepath.Join(folder, "tests"), reach: map[int][]test{}}
	for {
		said, err := b.compile(ctx, sites)
		if err == nil {
			break
		}
		left := slices.DeleteFunc(slices.Clone(sites), func(s site) bool { return strings.Contains(said, fmt.Sprintf("%s:%d:", filepath.Base(s.file), s.line)) })
		if len(left) == len(sites) || ctx.Err() != nil {
			return nil, nil, fmt.Errorf("%s does not compile: %w\n%s", u.path, err, said)
		}
		sites = left
	}
	return b, sites, b.visit(ctx, wait)
}

func (b *bench) compile(ctx context.Context, sites []site) (string, error) {
	replace := map[string]string{}
	for i, f := range b.files {
		var here []site
		for _, s := range sites {
			if filepath.Base(s.file) == filepath.Base(f.path) {
				here = append(here, s)
			}
		}
		if len(here) == 0 {
			continue
		}
		changed := filepath.Join(b.folder, fmt.Sprintf("changed%d.go", i))
		if err := os.WriteFile(changed, switched(f.text, f.packageEnd, here), 0o600); err != nil {
			return "", err
		}
		replace[f.path] = changed
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

// run runs some of the tests and returns what they printed.
func (b *bench) run(ctx context.Context, wait time.Duration, variables []string, args ...string) ([]byte, error) {
	timed, stop := context.WithTimeout(ctx, wait)
	defer stop()
	c := exec.CommandContext(timed, b.program, args...)
	c.Dir, c.Env = b.dir, append(os.Environ(), variables...)
	c.WaitDelay = time.Second
	out, err := c.CombinedOutput()
	return out, err
}

var aTest = regexp.MustCompile(`(?m)^(Test|Example|Fuzz)\w*$`)

// visit runs each test by itself and notes the changes it comes by. A test that fails or
// takes too long as things are says nothing of changes, and is left out.
func (b *bench) visit(ctx context.Context, wait time.Duration) error {
	if _, err := os.Stat(b.program); errors.Is(err, os.ErrNotExist) {
		return nil // a package without tests
	}
	list, err := b.run(ctx, wait, nil, "-test.list", ".")
	if err != nil {
		return fmt.Errorf("listing the tests of %s: %w", b.path, err)
	}
	for _, name := range aTest.FindAllString(string(list), -1) {
		seen := filepath.Join(b.folder, "seen")
		if err := os.RemoveAll(seen); err != nil {
			return err
		}
		began := time.Now()
		if _, err := b.run(ctx, wait, []string{mutant.SeenVariable + "=" + seen}, "-test.short", "-test.run", "^"+name+"$"); err != nil {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			continue
		}
		t := test{name, time.Since(began)}
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

// most is how many tests are tried with one change, the quickest first.
const most = 40

// try runs the tests that come by a change, with it on. Running out of time is noticed
// too: an endless loop is no answer.
func (b *bench) try(ctx context.Context, s site) verdict {
	tests := slices.Clone(b.reach[s.id])
	if len(tests) == 0 {
		return unreached
	}
	slices.SortFunc(tests, func(x, y test) int { return int(x.takes - y.takes) })
	tests = tests[:min(most, len(tests))]
	for part := range slices.Chunk(tests, 8) {
		var names []string
		wait := 10 * time.Second
		for _, t := range part {
			names = append(names, t.name)
			wait += 5 * t.takes
		}
		if _, err := b.run(ctx, wait, []string{mutant.OnVariable + "=" + strconv.Itoa(s.id)}, "-test.short", "-test.failfast", "-test.run", "^("+strings.Join(names, "|")+")$"); err != nil {
			return noticed
		}
	}
	return unnoticed
}
