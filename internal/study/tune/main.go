// Tune prints the study's tables for mills that may be tuned on:
//
//	go run ./internal/study/tune -mills 24
//
// from the root of the house. The published figures are from other mills.
package main

import (
	"flag"
	"fmt"
	"os"
	"time"

	"hopperful/internal/study"
	"hopperful/internal/study/outside"
)

func main() {
	mills := flag.Int("mills", 20, "mills outside the equations")
	inside := flag.Int("inside", 0, "mills inside the equations")
	plans := flag.Int("plans", 0, "mills outside the equations in which plans are carried out")
	from := flag.Int("from", 1, "first of the mills outside the equations that are forecast, or in which plans are carried out")
	changes := flag.Int("changes", 0, "mills outside the equations that change at once")
	each := flag.Bool("each", false, "tell of every campaign")
	why := flag.Bool("why", false, "and of where its time went, against the best with the truth known")
	rows := flag.String("rows", "", "file to keep every forecast in")
	against := flag.String("against", "", "file of earlier forecasts of the same mills to compare with")
	flag.Parse()
	if err := tune(*mills, *inside, *plans, *from, *changes, *each, *why, *rows, *against); err != nil {
		fmt.Fprintln(os.Stderr, "tune:", err)
		os.Exit(1)
	}
}

func tune(mills, inside, plans, from, changes int, each, why bool, rows, against string) error {
	began := time.Now()
	if inside > 0 {
		results, err := study.Mills(inside, 1, study.Counts)
		if err != nil {
			return err
		}
		fmt.Println(study.Table(results, inside, 1))
	}
	if plans > 0 {
		if err := carry(plans, from, each || why, why); err != nil {
			return err
		}
	}
	if mills > 0 {
		if err := score(from, mills, rows, against); err != nil {
			return err
		}
	}
	if changes > 0 {
		n, err := study.Changes(outside.Seeds[outside.Tuning](changes))
		if err != nil {
			return err
		}
		fmt.Printf("asked about a change after %v runs in %d mills, %d of them by the right record; %d of %d looks without one ask, %d more about other scrap\n", n.After, n.Mills, n.Right, n.Falsely, n.Looks, n.Scrap)
	}
	fmt.Printf("%.0f s\n", time.Since(began).Seconds())
	return nil
}

// carry prints how plans went.
func carry(plans, from int, each, why bool) error {
	all, entries, err := study.Carry(outside.Seeds[outside.Tuning](from + plans - 1)[from-1:], func(mill outside.Tuning, c study.Campaign) {
		if each {
			fmt.Printf("mill %d: %v\n", mill, c)
			for _, s := range c.Steps {
				fmt.Println("  ", s)
			}
		}
		if why && c.Possible {
			fmt.Print(c.Why())
		}
	})
	if err != nil {
		return err
	}
	fmt.Println(study.CarriedTable(all))
	fmt.Println(entries.Sentence())
	return nil
}

// score prints how forecasts did.
func score(from, mills int, rows, against string) error {
	scores, entries, err := study.Outside(outside.Seeds[outside.Tuning](from + mills - 1)[from-1:])
	if err != nil {
		return err
	}
	fmt.Printf("%d mills outside the equations; each cell: median error, share of truths in the 80 %% range\n\n", mills)
	fmt.Print(scores.Table())
	fmt.Println(entries.Sentence())
	for _, why := range entries.Refused {
		fmt.Println("refused:", why)
	}
	for _, why := range entries.Doubted {
		fmt.Println("asked about though true:", why)
	}
	all := forecasts(scores)
	if rows != "" {
		if err := keep(rows, all); err != nil {
			return err
		}
	}
	if against == "" {
		return nil
	}
	before, err := kept(against)
	if err != nil {
		return err
	}
	compare(before, all)
	return nil
}
