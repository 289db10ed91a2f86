// Publish runs the whole study and writes its page and its picture:
//
//	go run ./internal/study/publish
//
// from the root of the house. It takes some minutes.
package main

import (
	"flag"
	"fmt"
	"os"

	"hopperful/internal/study"
	"hopperful/internal/study/outside"
)

// seed is of the mills inside the equations.
const seed = 20

func main() {
	inside := flag.Int("inside", 200, "mills inside the equations")
	forecasts := flag.Int("forecasts", 40, "mills outside the equations whose makers' records are forecast from")
	plans := flag.Int("plans", 24, "mills in which plans are carried out")
	changes := flag.Int("changes", 24, "mills that change at once")
	into := flag.String("into", "docs/study", "folder the page and its picture are written to")
	flag.Parse()
	if err := write(*into, *inside, *forecasts, *plans, *changes); err != nil {
		fmt.Fprintln(os.Stderr, "study:", err)
		os.Exit(1)
	}
}

func write(folder string, inside, forecasts, plans, changes int) error {
	results, err := study.Mills(inside, seed, study.Counts)
	if err != nil {
		return err
	}
	seeds := outside.Seeds[outside.Reporting]
	world, err := study.Look(seeds(forecasts), seeds(plans), seeds(changes))
	if err != nil {
		return err
	}
	if err := os.WriteFile(folder+"/learning.md", []byte(study.Page(results, inside, seed, world)), 0o644); err != nil {
		return err
	}
	return os.WriteFile(folder+"/learning.svg", []byte(study.Picture(results)), 0o644)
}
