// Command mutate changes one operator or constant at a time and prints the changes no
// test notices. Run it from the root of the module:
//
//	go run ./internal/mutate -n 40 ./process/... ./polymer
//
// The tree is not touched: all changes drawn of a package reach the compiler at once, as
// an overlay, and the environment switches one on at a time.
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/signal"
	"regexp"
	"strings"
	"syscall"
	"time"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
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
	wait := flags.Duration("wait", time.Minute, "of the processor, for one test as things are; one that takes longer is left out")
	most := flags.Duration("most", 20*time.Second, "of the processor, for the tests of one package for one change; those beyond it are not asked")
	list := flags.String("same", "internal/mutate/same.txt", "of changes that change nothing, with the reason; none if empty")
	only := flags.String("in", "", "an expression for the packages whose changes of the draw are tried; all if empty")
	near := flags.String("others", "./process/... ./polymer/... ./plan/... ./estimate/... ./internal/exchange/...", "packages whose tests are tried where a package's own notice nothing; none if empty")
	told := flags.String("after", "", "file of what an earlier run of the same draw printed on its way: only what that left is tried, and only by the tests of other packages")
	if err := flags.Parse(args); err != nil {
		return err
	}
	before, err := readLeft(*told)
	if err != nil {
		return err
	}
	patterns := flags.Args()
	if len(patterns) == 0 {
		patterns = []string{"./process/...", "./polymer/...", "./plan/..."}
	}
	units, err := load(ctx, patterns)
	if err != nil {
		return err
	}
	equal, err := readSame(*list)
	if err != nil {
		return err
	}
	chosen, err := regexp.Compile(*only)
	if err != nil {
		return fmt.Errorf("-in: %w", err)
	}
	drawn, possible := draw(units, *n, *seed)
	t := &trial{units: units, wait: *wait, most: *most, equal: equal, out: out, verdicts: map[int]verdict{}, before: before}
	for _, u := range units {
		if !chosen.MatchString(u.path) {
			continue
		}
		if err = t.own(ctx, u, drawn[u.path]); err != nil {
			break
		}
	}
	if err == nil {
		err = t.others(ctx, strings.Fields(*near))
	}
	t.tell()
	fmt.Fprintf(out, "(%d possible in %s)\n", possible, strings.Join(patterns, " "))
	return err
}

// draw takes n of all changes, numbers them and sorts them by package.
func draw(units []*unit, n int, seed uint64) (map[string][]site, int) {
	var all []site
	for _, u := range units {
		all = append(all, u.sites...)
	}
	rng := rand.New(rand.NewPCG(seed, seed))
	rng.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	drawn := map[string][]site{}
	for i, s := range all[:min(n, len(all))] {
		s.id = i + 1
		drawn[s.pkg] = append(drawn[s.pkg], s)
	}
	return drawn, len(all)
}

// soFar is what a change that its own tests did not notice is told after.
const soFar = "so far "

// readLeft reads which changes an earlier run left; nil where there was none.
func readLeft(name string) (map[string]bool, error) {
	if name == "" {
		return nil, nil
	}
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, fmt.Errorf("-after: %w", err)
	}
	left := map[string]bool{}
	for line := range strings.Lines(string(text)) {
		if told, ok := strings.CutPrefix(strings.TrimRight(line, "\n"), soFar); ok {
			left[told] = true
		}
	}
	return left, nil
}
