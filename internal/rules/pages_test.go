package rules

import (
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
)

// pageViolations judges a page of docs/models and returns the tables it shows.
func pageViolations(name, text string, read func(string) ([]checkrow.Row, error)) (bad, paths []string) {
	filled, paths, err := checkrow.Page(text, read)
	switch {
	case err != nil:
		bad = append(bad, name+": "+err.Error())
	case len(paths) == 0:
		bad = append(bad, name+": no check rows are shown; end the page with the two marks")
	case filled != text:
		bad = append(bad, name+": the check rows are not current; run go run ./internal/checkrow/print")
	}
	return bad, paths
}

func TestModelPagesShowTheirChecks(t *testing.T) {
	t.Parallel()
	pages, err := filepath.Glob(filepath.Join(root, "docs", "models", "*.md"))
	if err != nil {
		t.Fatal(err)
	}
	read := func(name string) ([]checkrow.Row, error) { return checkrow.ReadFile(filepath.Join(root, name)) }
	shown := map[string]bool{}
	for _, page := range pages {
		text, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		bad, paths := pageViolations(filepath.Base(page), string(text), read)
		report(t, bad)
		for _, p := range paths {
			shown[p] = true
		}
	}
	err = walk(func(name string) error {
		if path.Base(name) == "checks.csv" && !shown[name] {
			t.Errorf("no page of docs/models shows %s", name)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestPageRuleCanFail(t *testing.T) {
	t.Parallel()
	read := func(string) ([]checkrow.Row, error) {
		return []checkrow.Row{{Line: 2, Case: "F/a|b", Wanted: "1", Tolerance: "abs 0", Kind: "published", Source: "Reid1965", Place: "eq. 2"}}, nil
	}
	stale := "# F\n\n<!-- checks: process/a/checks.csv -->\nold\n<!-- end checks -->\n"
	current, _, err := checkrow.Page(stale, read)
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]string{
		current:    "",
		stale:      "not current",
		"# F\n":    "no check rows are shown",
		stale[:25]: "is not ended by",
		strings.TrimSuffix(stale, "<!-- end checks -->\n"): "have no",
	} {
		bad, _ := pageViolations("f.md", text, read)
		wantOne(t, bad, want)
	}
	for _, want := range []string{"1 row: 1 published.", `| F/a\|b |  | 1 | abs 0 | Reid1965, eq. 2 |`} {
		if !slices.Contains(strings.Split(current, "\n"), want) {
			t.Errorf("%q is missing in\n%s", want, current)
		}
	}
}
