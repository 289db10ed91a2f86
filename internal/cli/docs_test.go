package cli

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// Every module asked for by name has its line, with its reason, on the page of
// dependencies, and every line there has its module.
func TestDependenciesAreExplained(t *testing.T) {
	t.Parallel()
	var asked []string
	for _, c := range []struct{ file, pattern string }{
		{"../../go.mod", `(?m)^\t(\S+) v\S+$`},
		{"../../tools/go.mod", `(?m)^(?:tool |\t)(\S+?)/cmd/`},
	} {
		asked = append(asked, matches(t, c.file, c.pattern)...)
	}
	explained := matches(t, "../../docs/dependencies.md", "(?m)^\\| `([^`]+)` \\| \\S")
	for _, m := range asked {
		if !slices.Contains(explained, m) {
			t.Errorf("go.mod asks for %s; docs/dependencies.md does not say what for", m)
		}
	}
	for _, m := range explained {
		if !slices.Contains(asked, m) {
			t.Errorf("docs/dependencies.md explains %s; no go.mod asks for it", m)
		}
	}
}

// Every link of a page to a file of ours leads somewhere.
func TestLinksLeadSomewhere(t *testing.T) {
	t.Parallel()
	var pages []string
	for _, pattern := range []string{"../../*.md", "../../docs/*.md", "../../docs/*/*.md"} {
		found, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		pages = append(pages, found...)
	}
	link := regexp.MustCompile(`\]\(([^)#\s]+)[^)]*\)`)
	for _, page := range pages {
		text, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range link.FindAllStringSubmatch(string(text), -1) {
			if strings.Contains(m[1], "://") {
				continue
			}
			if _, err := os.Stat(filepath.Join(filepath.Dir(page), m[1])); err != nil {
				t.Errorf("%s: the link to %s leads nowhere", page, m[1])
			}
		}
	}
}

func matches(t *testing.T, file, pattern string) []string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var found []string
	for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(string(text), -1) {
		found = append(found, m[1])
	}
	if len(found) == 0 {
		t.Fatalf("%s: nothing found", file)
	}
	return found
}
