package rules

import (
	"encoding/csv"
	"errors"
	"io"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/source"
)

// casesOf returns the functions that the rows of a folder's checks.csv check.
func casesOf(t *testing.T, dir string) map[string]bool {
	t.Helper()
	file, err := os.Open(filepath.Join(root, dir, "checks.csv"))
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := checkrow.Read(file)
	if err != nil {
		t.Fatalf("%s: %v", dir, err)
	}
	cases := map[string]bool{}
	for _, r := range rows {
		name, _, _ := strings.Cut(r.Case, "/")
		cases[name] = true
	}
	return cases
}

// csvViolations judges the source column of a table; a table without one is
// none of our business.
func csvViolations(name string, r io.Reader) []string {
	lines := csv.NewReader(r)
	lines.Comment = '#'
	head, err := lines.Read()
	if err != nil {
		return []string{name + ": " + err.Error()}
	}
	column := slices.Index(head, "source")
	if column < 0 {
		return nil
	}
	var bad []string
	for {
		row, err := lines.Read()
		if errors.Is(err, io.EOF) {
			return bad
		}
		if err != nil {
			return append(bad, name+": "+err.Error())
		}
		line, _ := lines.FieldPos(0)
		why := sourceFault(row[column])
		if _, ok := source.Lookup(row[column]); ok || source.Word(row[column]) {
			why = ""
		}
		if why != "" {
			bad = append(bad, name+":"+itoa(line)+": source "+why)
		}
	}
}

// unused returns the keys that stand in none of the texts.
func unused(keys []string, texts map[string]string) []string {
	var bad []string
	for _, k := range keys {
		found := false
		for _, text := range texts {
			if strings.Contains(text, k) {
				found = true
				break
			}
		}
		if !found {
			bad = append(bad, "bibliography: nothing cites "+k)
		}
	}
	return bad
}

func TestBibliographyIsWellFormed(t *testing.T) {
	t.Parallel()
	if err := source.Check(); err != nil {
		t.Fatal(err)
	}
	for _, k := range source.Keys() {
		if !keyLike.MatchString(k) || keyLike.FindString(k) != k {
			t.Errorf("the key %s is not author and year, as Koka1988", k)
		}
	}
}

func TestEveryKeyIsUsedAndKnown(t *testing.T) {
	t.Parallel()
	texts := map[string]string{}
	err := walk(func(name string) error {
		if !slices.Contains([]string{".go", ".csv", ".md"}, path.Ext(name)) || under(name, "internal/rules") {
			return nil
		}
		text, err := os.ReadFile(filepath.Join(root, name))
		if err != nil {
			return err
		}
		texts[name] = string(text)
		if path.Ext(name) == ".csv" {
			report(t, csvViolations(name, strings.NewReader(string(text))))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	report(t, unused(source.Keys(), texts))
}

func TestBibliographyRulesCanFail(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ csv, want string }{
		{"a,source\n1,Reid1965\n2,judgement\n3,\"common practice, no source\"\n", ""},
		{"a,source\n1,Nobody1965\n", "x.csv:2: source Nobody1965 is not in the bibliography"},
		{"a,source\n1,\n", "x.csv:2: source neither a key"},
		{"a,source\n1,hearsay\n", "x.csv:2: source neither a key"},
		{"a,b\n1,hearsay\n", ""},
		{"a,source\n1\n", "wrong number of fields"},
		{"", "EOF"},
	} {
		wantOne(t, csvViolations("x.csv", strings.NewReader(c.csv)), c.want)
	}
	wantOne(t, unused([]string{"Reid1965", "Nobody1965"}, map[string]string{"a.go": "// Source: Reid1965."}), "nothing cites Nobody1965")
}
