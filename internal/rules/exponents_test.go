package rules

import (
	"encoding/csv"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// exponent is a number written for machines: 1e-6, 2.1E5.
var exponent = regexp.MustCompile(`(^|[^\w.])[0-9]+(\.[0-9]+)?[eE][-+−]?[0-9]+($|[^\w])`)

// machineTables are the tables of checks: their cells are read by programs and by programmers.
var machineTables = []string{"checks.csv", "ranges.csv"}

// exponentsIn finds such numbers in what people read of a file: texts of a table's cells,
// words of a catalogue, notes to sources. A cell that is a number and nothing else is read by
// programs, who write it for people.
func exponentsIn(name, text string) (bad []string) {
	var told []string
	if path.Ext(name) == ".csv" {
		r := csv.NewReader(strings.NewReader(text))
		r.Comment, r.FieldsPerRecord = '#', -1
		rows, err := r.ReadAll()
		if err != nil {
			return []string{name + ": " + err.Error()}
		}
		for _, row := range rows {
			told = append(told, row...)
		}
	} else {
		told = strings.Split(text, "\n")
	}
	for _, x := range told {
		if _, err := strconv.ParseFloat(x, 64); err != nil && exponent.MatchString(x) {
			bad = append(bad, name+": a number written for machines: "+strings.TrimSpace(x))
		}
	}
	return bad
}

// toldHere reports whether people are shown what stands in a file.
func toldHere(name string) bool {
	folder, file := path.Split(name)
	if strings.Contains(folder, "testdata/") || strings.HasPrefix(folder, "docs/") {
		return false
	}
	for _, machine := range machineTables {
		if file == machine {
			return false
		}
	}
	return path.Ext(file) == ".csv" || path.Ext(file) == ".bib" || under(name, "internal/say/words")
}

// TestNumbersForPeopleHaveNoExponents: what tables, the catalogue and the notes to sources say
// to people is written as people write numbers.
func TestNumbersForPeopleHaveNoExponents(t *testing.T) {
	t.Parallel()
	read := 0
	if err := walk(func(name string) error {
		if !toldHere(name) {
			return nil
		}
		text, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(name)))
		if err != nil {
			return err
		}
		read++
		report(t, exponentsIn(name, string(text)))
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	if read < 60 {
		t.Errorf("only %d files were read", read)
	}
}

// TestExponentsAreFound: a number for machines is found in a cell with words and in a note,
// a cell of nothing else and the number of a version are left alone.
func TestExponentsAreFound(t *testing.T) {
	t.Parallel()
	wantOne(t, exponentsIn("a.csv", "PLA,2e-7,\"abstract, 400 to 1000e-6 cm³\"\n"), "1000e-6")
	wantOne(t, exponentsIn("a.bib", "note = {equal to 1e-12},\nversion = {8e7cd45}"), "1e-12")
}
