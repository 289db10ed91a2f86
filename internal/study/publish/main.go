// Publish runs the whole study and writes its page and its picture:
//
//	go run ./internal/study/publish
//
// from the root of the house. It takes a minute or two.
package main

import (
	"fmt"
	"os"

	"hopperful/internal/study"
)

// The study as published.
const (
	mills = 200
	seed  = 20
)

func main() {
	if err := write("docs/study"); err != nil {
		fmt.Fprintln(os.Stderr, "study:", err)
		os.Exit(1)
	}
}

func write(folder string) error {
	results, err := study.Mills(mills, seed, study.Counts)
	if err != nil {
		return err
	}
	if err := os.WriteFile(folder+"/learning.md", []byte(study.Table(results, mills, seed)), 0o644); err != nil {
		return err
	}
	return os.WriteFile(folder+"/learning.svg", []byte(study.Picture(results)), 0o644)
}
