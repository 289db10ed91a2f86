package main

// Tries changes by the tests of their own package, then those nobody noticed by the tests
// of the packages that build on it, and counts.

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"time"
)

// trial is one run of the command.
type trial struct {
	units    []*unit
	wait     time.Duration
	most     time.Duration
	equal    sames
	out      io.Writer
	tried    []site // in the order they were tried
	verdicts map[int]verdict
	before   map[string]bool // what an earlier run of the same draw left, as it told it; nil: there is none
}

// inFolder does something with a folder that goes afterwards.
func inFolder(do func(string) error) error {
	folder, err := os.MkdirTemp("", "mutate-*")
	if err != nil {
		return err
	}
	return errors.Join(do(folder), os.RemoveAll(folder))
}

// own tries the changes drawn of one package by its own tests.
func (t *trial) own(ctx context.Context, u *unit, drawn []site) error {
	var sites []site
	for _, s := range drawn {
		if t.tried = append(t.tried, s); t.equal.why(s) != "" {
			t.verdicts[s.id] = same
			continue
		}
		if t.before != nil { // nobody asks its own tests twice
			t.verdicts[s.id] = noticed
			if t.before[s.String()] {
				t.verdicts[s.id] = unnoticed
			}
			continue
		}
		sites = append(sites, s)
	}
	if len(sites) == 0 {
		return nil
	}
	return inFolder(func(folder string) error {
		b, built, err := prepare(ctx, u.path, u.dir, []*unit{u}, sites, folder, t.wait)
		if err != nil {
			return err
		}
		for _, s := range sites {
			if !slices.ContainsFunc(built, func(x site) bool { return x.id == s.id }) {
				t.verdicts[s.id] = unbuilt
			}
		}
		noticedHere := 0
		for _, s := range built {
			v := b.try(ctx, s, t.most)
			if ctx.Err() != nil {
				return ctx.Err()
			}
			if t.verdicts[s.id] = v; v == noticed {
				noticedHere++
			} else {
				fmt.Fprintf(os.Stderr, soFar+"%s\n", s)
			}
		}
		fmt.Fprintf(os.Stderr, "%s: %d of %d noticed by its own tests\n", u.path, noticedHere, len(built))
		return nil
	})
}

// left are the changes nobody noticed so far.
func (t *trial) left(but string) (all []site) {
	for _, s := range t.tried {
		if v, ok := t.verdicts[s.id]; ok && s.pkg != but && (v == unnoticed || v == unreached) {
			all = append(all, s)
		}
	}
	return all
}

// others tries what is left by the tests of other packages, which are compiled with all of
// it at once.
func (t *trial) others(ctx context.Context, patterns []string) error {
	if len(patterns) == 0 || len(t.left("")) == 0 {
		return nil
	}
	near, _, err := list(ctx, patterns)
	if err != nil {
		return err
	}
	for _, l := range near {
		left := t.left(l.ImportPath)
		if len(left) == 0 || len(l.TestGoFiles)+len(l.XTestGoFiles) == 0 {
			continue
		}
		err := inFolder(func(folder string) error {
			b, built, err := prepare(ctx, l.ImportPath, l.Dir, t.units, left, folder, t.wait)
			if err != nil {
				return err
			}
			for _, s := range built {
				switch v := b.try(ctx, s, t.most); {
				case ctx.Err() != nil:
					return ctx.Err()
				case v == noticed, v == unnoticed:
					t.verdicts[s.id] = v
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
		fmt.Fprintf(os.Stderr, "after the tests of %s %d are left\n", l.ImportPath, len(t.left("")))
	}
	return nil
}

// tell prints the changes nobody noticed, those that change nothing with their reasons,
// and the count.
func (t *trial) tell() {
	var count [unbuilt + 1]int
	for _, s := range t.tried {
		v, ok := t.verdicts[s.id]
		if !ok {
			continue // broken off before it
		}
		count[v]++
		switch v {
		case unnoticed:
			fmt.Fprintf(t.out, "unnoticed: %s\n", s)
		case unreached:
			fmt.Fprintf(t.out, "not run: %s\n", s)
		case same:
			fmt.Fprintf(t.out, "the same: %s (%s)\n", s, t.equal.why(s))
		}
	}
	fmt.Fprintf(t.out, "%d of %d changes noticed, %d unnoticed, %d of lines no test runs; besides, %d change nothing and %d did not compile\n",
		count[noticed], count[noticed]+count[unnoticed]+count[unreached], count[unnoticed], count[unreached], count[same], count[unbuilt])
}
