// Command mutate changes one operator or constant at a time and prints the changes no
// test notices. Run it from the root of the module:
//
//	go run ./internal/mutate -n 40 ./process/... ./polymer
//
// The tree is not touched: a change reaches the compiler as an overlay.
package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"time"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(1)
	}
}

// run tries a sample of all changes and reports.
func run(ctx context.Context, args []string, out io.Writer) error {
	flags := flag.NewFlagSet("mutate", flag.ContinueOnError)
	n := flags.Int("n", 40, "how many changes to try, drawn from all")
	seed := flags.Uint64("seed", 1, "of the draw")
	wait := flags.Duration("wait", 3*time.Minute, "for the tests of one change")
	if err := flags.Parse(args); err != nil {
		return err
	}
	patterns := flags.Args()
	if len(patterns) == 0 {
		patterns = []string{"./process/...", "./polymer/...", "./plan/..."}
	}
	all, err := sitesOf(ctx, patterns)
	if err != nil {
		return err
	}
	rng := rand.New(rand.NewPCG(*seed, *seed))
	rng.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	killed, lived, tried := 0, 0, 0
	for _, s := range all {
		if tried == *n || ctx.Err() != nil {
			break
		}
		verdict, err := try(ctx, s, *wait)
		if err != nil {
			return err
		}
		switch verdict {
		case unbuilt: // no change at all: the compiler refuses it
			continue
		case noticed:
			killed++
		case unnoticed:
			lived++
			fmt.Fprintf(out, "unnoticed: %s:%d: %s\n", s.file, s.line, s.what)
		}
		tried++
	}
	fmt.Fprintf(out, "%d of %d changes noticed (%d possible in %s)\n", killed, tried, len(all), strings.Join(patterns, " "))
	if lived > 0 && ctx.Err() != nil {
		return ctx.Err()
	}
	return nil
}

// sitesOf lists every change to the files of the packages.
func sitesOf(ctx context.Context, patterns []string) ([]site, error) {
	list := exec.CommandContext(ctx, "go", append([]string{"list", "-f", "{{$d := .Dir}}{{range .GoFiles}}{{$d}}/{{.}}\t{{$.ImportPath}}\n{{end}}"}, patterns...)...)
	text, err := list.Output()
	if err != nil {
		return nil, fmt.Errorf("listing the packages: %w", err)
	}
	root, err := os.Getwd()
	if err != nil {
		return nil, err
	}
	var all []site
	for line := range strings.Lines(string(text)) {
		file, pkg, ok := strings.Cut(strings.TrimSpace(line), "\t")
		if !ok {
			continue
		}
		source, err := os.ReadFile(file)
		if err != nil {
			return nil, err
		}
		short, err := filepath.Rel(root, file)
		if err != nil {
			return nil, err
		}
		found, err := changes(short, source)
		if err != nil {
			return nil, err
		}
		for _, s := range found {
			s.pkg, s.path = pkg, file
			all = append(all, s)
		}
	}
	return all, nil
}

// verdict is what the tests made of a change.
type verdict int

const (
	unbuilt verdict = iota
	noticed
	unnoticed
)

// try runs the tests of the package with one change in place.
func try(ctx context.Context, s site, wait time.Duration) (v verdict, err error) {
	dir, err := os.MkdirTemp("", "mutate-*")
	if err != nil {
		return unbuilt, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	source, err := os.ReadFile(s.path)
	if err != nil {
		return unbuilt, err
	}
	changed := filepath.Join(dir, "changed.go")
	if err := os.WriteFile(changed, s.apply(source), 0o600); err != nil {
		return unbuilt, err
	}
	overlay, err := json.Marshal(map[string]map[string]string{"Replace": {s.path: changed}})
	if err != nil {
		return unbuilt, err
	}
	plan := filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(plan, overlay, 0o600); err != nil {
		return unbuilt, err
	}
	timed, stop := context.WithTimeout(ctx, wait)
	defer stop()
	if exec.CommandContext(timed, "go", "build", "-overlay="+plan, s.pkg).Run() != nil {
		return unbuilt, ctx.Err()
	}
	// Running out of time is noticed too: an endless loop is no answer.
	if exec.CommandContext(timed, "go", "test", "-vet=off", "-failfast", "-overlay="+plan, s.pkg).Run() != nil {
		return noticed, ctx.Err()
	}
	return unnoticed, nil
}
