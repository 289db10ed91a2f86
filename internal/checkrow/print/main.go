// Command print fills the tables of check rows in the pages of docs/models from
// each checks.csv, and writes docs/use/records.md from the table of fields. Run it from the root of the module:
//
//	go run ./internal/checkrow/print
package main

import (
	"fmt"
	"os"
	"path/filepath"

	"hopperful/internal/checkrow"
	"hopperful/internal/say"
)

func main() {
	if err := fill(); err != nil {
		fmt.Fprintln(os.Stderr, "print:", err)
		os.Exit(1)
	}
}

// fill rewrites the pages whose tables are not current and names them.
func fill() error {
	pages, err := filepath.Glob("docs/models/*.md")
	if err != nil {
		return err
	}
	if len(pages) == 0 {
		return fmt.Errorf("no pages in docs/models; run it from the root of the module")
	}
	for _, page := range pages {
		old, err := os.ReadFile(page)
		if err != nil {
			return err
		}
		text, _, err := checkrow.Page(string(old), checkrow.ReadFile)
		if err != nil {
			return fmt.Errorf("%s: %w", page, err)
		}
		if text == string(old) {
			continue
		}
		if err := os.WriteFile(page, []byte(text), 0o644); err != nil {
			return err
		}
		fmt.Println(page)
	}
	return os.WriteFile("docs/use/records.md", []byte(checkrow.RecordsPage(func(code string) string { return say.For("en").Word(code) })), 0o644)
}
