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
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/signal"
	"slices"
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
	wait := flags.Duration("wait", time.Minute, "of the processor, for one test as things are; one that takes longer is left out")
	list := flags.String("same", "internal/mutate/same.txt", "of changes that change nothing, with the reason; none if empty")
	if err := flags.Parse(args); err != nil {
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
	drawn, possible := draw(units, *n, *seed)
	var count [unbuilt + 1]int
	for _, u := range units {
		if err := u.trySome(ctx, drawn[u.path], *wait, equal, &count, out); err != nil {
			return err
		}
	}
	tried := count[noticed] + count[unnoticed] + count[unreached]
	fmt.Fprintf(out, "%d of %d changes noticed, %d unnoticed, %d of lines no test of their package runs; besides, %d change nothing and %d did not compile (%d possible in %s)\n",
		count[noticed], tried, count[unnoticed], count[unreached], count[same], count[unbuilt], possible, strings.Join(patterns, " "))
	return nil
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

// trySome tries the changes drawn of one package.
func (u *unit) trySome(ctx context.Context, sites []site, wait time.Duration, equal sames, count *[unbuilt + 1]int, out io.Writer) (err error) {
	for _, s := range sites {
		if why := equal.why(s); why != "" {
			count[same]++
			fmt.Fprintf(out, "the same: %s (%s)\n", s, why)
		}
	}
	sites = slices.DeleteFunc(sites, func(s site) bool { return equal.why(s) != "" })
	if len(sites) == 0 {
		return nil
	}
	folder, err := os.MkdirTemp("", "mutate-*")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
	b, built, err := prepare(ctx, u, sites, folder, wait)
	if err != nil {
		return err
	}
	count[unbuilt] += len(sites) - len(built)
	for _, s := range built {
		v := b.try(ctx, s)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		count[v]++
		switch v {
		case unnoticed:
			fmt.Fprintf(out, "unnoticed: %s\n", s)
		case unreached:
			fmt.Fprintf(out, "not run: %s\n", s)
		}
	}
	fmt.Fprintf(os.Stderr, "%s: %d tried\n", u.path, len(built))
	return nil
}
