package rules

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// structure is what docs/structure.md lays down.
type structure struct {
	imports   []importRule
	testLibs  []string
	packages  []heldPackage
	calls     []heldCall
	badNames  []string
	waiting   map[string]bool // formulas nothing calls yet, "folder.Name"
	longFile  int
	longFuncs int
}

type importRule struct {
	folder  string
	house   []string // "everything" is one of them at the edges
	outside []string // "anything" likewise
}

type heldPackage struct {
	name string
	only []string
}

type heldCall struct {
	calls  []string // "time.Now", or "math/rand.*" for all of a package
	except []string
	only   []string
}

func itoa(n int) string { return strconv.Itoa(n) }

var quoted = regexp.MustCompile("`([^`]+)`")

// ticked returns what stands between backticks.
func ticked(cell string) []string {
	var all []string
	for _, m := range quoted.FindAllStringSubmatch(cell, -1) {
		all = append(all, m[1])
	}
	return all
}

// words is ticked, and the plain words everything and anything.
func words(cell string) []string {
	if w := strings.TrimSpace(cell); w == "everything" || w == "anything" {
		return []string{w}
	}
	return ticked(cell)
}

// rows returns the cells of the first table under a heading.
func rows(page, heading string, columns int) ([][]string, error) {
	_, rest, ok := strings.Cut(page, "\n## "+heading+"\n")
	if !ok {
		return nil, fmt.Errorf("docs/structure.md has no heading %q", heading)
	}
	rest, _, _ = strings.Cut(rest, "\n## ")
	var all [][]string
	for _, line := range strings.Split(rest, "\n") {
		if !strings.HasPrefix(line, "|") {
			continue
		}
		cells := strings.Split(strings.Trim(line, "|"), "|")
		if len(cells) != columns {
			return nil, fmt.Errorf("docs/structure.md: %q has %d cells, wanted %d", line, len(cells), columns)
		}
		all = append(all, cells)
	}
	if len(all) < 3 {
		return nil, fmt.Errorf("docs/structure.md: no table under %q", heading)
	}
	return all[2:], nil // without the head and the line below it
}

var sizes = regexp.MustCompile(`No file has more than (\d+) lines and no function more than (\d+)`)

// parseStructure reads the rules from the page.
func parseStructure(page string) (structure, error) {
	var s structure
	lines, err := rows(page, "Who imports whom", 3)
	if err != nil {
		return s, err
	}
	for _, c := range lines {
		s.imports = append(s.imports, importRule{ticked(c[0])[0], words(c[1]), words(c[2])})
	}
	if lines, err = rows(page, "Packages held back", 3); err != nil {
		return s, err
	}
	for _, c := range lines {
		s.packages = append(s.packages, heldPackage{ticked(c[0])[0], ticked(c[1])})
	}
	if lines, err = rows(page, "Calls held back", 3); err != nil {
		return s, err
	}
	for _, c := range lines {
		calls, except, _ := strings.Cut(c[0], " except ")
		s.calls = append(s.calls, heldCall{ticked(calls), ticked(except), ticked(c[1])})
	}
	if lines, err = rows(page, "Formulas that wait", 3); err != nil {
		return s, err
	}
	s.waiting = map[string]bool{}
	for _, c := range lines {
		if strings.TrimSpace(c[2]) == "" {
			return s, fmt.Errorf("docs/structure.md: %v wait for nothing", c)
		}
		for _, name := range ticked(c[1]) {
			s.waiting[ticked(c[0])[0]+"."+name] = true
		}
	}
	for _, line := range strings.Split(page, "\n") {
		if list, ok := strings.CutPrefix(line, "Test libraries: "); ok {
			s.testLibs = ticked(list)
		}
		if list, ok := strings.CutPrefix(line, "Names not used: "); ok {
			s.badNames = ticked(list)
		}
	}
	m := sizes.FindStringSubmatch(page)
	if m == nil || len(s.testLibs) == 0 || len(s.badNames) == 0 {
		return s, fmt.Errorf("docs/structure.md lacks the sizes, the test libraries or the names not used")
	}
	s.longFile, _ = strconv.Atoi(m[1])
	s.longFuncs, _ = strconv.Atoi(m[2])
	return s, nil
}

// laidDown reads docs/structure.md.
func laidDown(t *testing.T) structure {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(root, "docs", "structure.md"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := parseStructure(string(text))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestStructurePageIsRead(t *testing.T) {
	t.Parallel()
	s := laidDown(t)
	for _, folder := range []string{"process", "polymer", "source", "quantity", "figure", "estimate", "shop", "plan", "internal", "cmd"} {
		if !slices.ContainsFunc(s.imports, func(r importRule) bool { return r.folder == folder }) {
			t.Errorf("docs/structure.md says nothing about who %s imports", folder)
		}
	}
	if len(s.packages) < 5 || len(s.calls) < 3 || s.longFile != 500 || s.longFuncs != 80 {
		t.Errorf("docs/structure.md was read as %+v", s)
	}
	if _, err := parseStructure("# Structure\n\n## Who imports whom\n\nnothing\n"); err == nil {
		t.Error("a page without tables passes")
	}
}
