// Command manual writes what a system's packages hold beside the program: a page of the
// manual for each command and completions for three shells, all from the commands
// themselves, so that they cannot differ from what is built.
//
//	go run ./internal/manual -version v1.2.0 -day 2026-11-30 folder
package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"hopperful/internal/cli"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "manual:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	flags := flag.NewFlagSet("manual", flag.ContinueOnError)
	version := flags.String("version", "", "of the program, as the pages show it")
	day := flags.String("day", "", "of the release, as 2026-11-30")
	if err := flags.Parse(args); err != nil {
		return err
	}
	when, err := time.Parse(time.DateOnly, *day)
	if err != nil || flags.NArg() != 1 || *version == "" {
		return fmt.Errorf("usage: manual -version v1.2.0 -day 2026-11-30 FOLDER")
	}
	return write(cli.Commands(), *version, when, flags.Arg(0))
}

// write fills folder/man1 and folder/completions.
func write(root *cobra.Command, version string, day time.Time, folder string) error {
	pages, shells := filepath.Join(folder, "man1"), filepath.Join(folder, "completions")
	for _, f := range []string{pages, shells} {
		if err := os.MkdirAll(f, 0o755); err != nil {
			return err
		}
	}
	root.DisableAutoGenTag = true // the day stands in the head already
	head := &doc.GenManHeader{Section: "1", Source: "hopperful " + version, Manual: "hopperful", Date: &day}
	if err := doc.GenManTree(root, head, pages); err != nil {
		return fmt.Errorf("the manual: %w", err)
	}
	for name, completion := range map[string]func(io.Writer) error{
		"hopperful.bash": func(w io.Writer) error { return root.GenBashCompletionV2(w, true) },
		"_hopperful":     root.GenZshCompletion,
		"hopperful.fish": func(w io.Writer) error { return root.GenFishCompletion(w, true) },
	} {
		if err := writeFile(filepath.Join(shells, name), completion); err != nil {
			return fmt.Errorf("completion %s: %w", name, err)
		}
	}
	return nil
}

func writeFile(path string, fill func(io.Writer) error) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	if err := fill(f); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}
