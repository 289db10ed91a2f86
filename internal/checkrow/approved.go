package checkrow

// Holds whole answers against approved ones: every number, code and name of them, so that
// nothing an answer is made of changes without somebody looking.

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"hash/crc32"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

var update = flag.Bool("update", false, "write the approved answers anew")

// left is what no answer is judged by here: where a number comes from, how it is shown and
// what facts are called have tests of their own.
var left = []string{"Sources", "sources", "source", "How", "how", "from", "shown", "shown_range", "unit", "basis", "name", "Name", "Sort", "Style", "Kind", "kind",
	"title", "summary", "x_name", "y_name", "x_unit", "y_unit", "log_x", "Called", "records", "Cautions", "Columns"}

// Approved holds an answer against the one kept in testdata, number by number to a
// millionth, the rest word by word.
func Approved(t *testing.T, name string, answer any) {
	t.Helper()
	var out strings.Builder
	writeLines(&out, "", treeOf(t, answer))
	ApprovedText(t, name, out.String())
}

// treeOf is an answer as its JSON holds it.
func treeOf(t *testing.T, answer any) (tree any) {
	t.Helper()
	text, err := json.Marshal(answer)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &tree); err != nil {
		t.Fatal(err)
	}
	return tree
}

// Whole is an answer as one line: how many numbers and words it has, and sums in which each counts
// by its own digits, however small, and by its place: no number or word moves unseen.
func Whole(t *testing.T, answer any) string {
	t.Helper()
	var w whole
	w.add(treeOf(t, answer))
	return fmt.Sprintf("%d %.9g %d %d", w.numbers, w.sum, w.words, w.letters)
}

type whole struct {
	numbers, words int
	sum            float64
	letters        uint32
}

func (w *whole) add(v any) {
	switch v := v.(type) {
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(v)) {
			if !slices.Contains(left, key) || key == "basis" || key == "records" { // whose word it is stays
				w.add(v[key])
			}
		}
	case []any:
		for _, x := range v {
			w.add(x)
		}
	case float64:
		w.numbers++
		if v != 0 { // about the middle of what answers hold, so that the sum stays small beside its parts
			w.sum += float64(w.numbers%7+1) * math.Copysign(math.Log(math.Abs(v))-2, v)
		}
	case string:
		if at, err := time.Parse(time.RFC3339Nano, v); err == nil { // wherever the clock hangs
			v = at.UTC().String()
		}
		w.words++
		w.letters = w.letters*31 + crc32.ChecksumIEEE([]byte(v))
	case bool:
		w.add(map[bool]string{true: "yes", false: "no"}[v])
	}
}

// writeLines puts one line a value, a row of numbers as their count, sum and ends, and
// nothing for what is empty.
func writeLines(out *strings.Builder, place string, v any) {
	switch v := v.(type) {
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(v)) {
			if !slices.Contains(left, key) {
				writeLines(out, place+"."+key, v[key])
			}
		}
	case []any:
		if n, sum := len(v), 0.0; n > 3 && !slices.ContainsFunc(v, func(x any) bool { f, ok := x.(float64); sum += f; return !ok }) {
			fmt.Fprintf(out, "%s %d %.8g %.8g %.8g\n", place, n, sum, v[0], v[n-1])
			return
		}
		for i, x := range v {
			writeLines(out, fmt.Sprintf("%s[%d]", place, i), x)
		}
	case float64:
		if v != 0 {
			fmt.Fprintf(out, "%s %.8g\n", place, v)
		}
	case string:
		if v != "" && v != "0001-01-01T00:00:00Z" { // no moment
			fmt.Fprintf(out, "%s %s\n", place, strings.Join(strings.Fields(v), "_"))
		}
	case bool:
		if v {
			fmt.Fprintf(out, "%s true\n", place)
		}
	}
}

// ApprovedText holds lines against those kept in testdata.
func ApprovedText(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", name+".txt")
	if *update {
		if err := errors.Join(os.MkdirAll("testdata", 0o755), os.WriteFile(file, []byte(got), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	a, b, told := strings.Split(got, "\n"), strings.Split(string(want), "\n"), 0
	for i := range max(len(a), len(b)) {
		if i >= len(a) || i >= len(b) {
			t.Errorf("%s has %d lines, %d were approved", file, len(a), len(b))
			return
		}
		if !slices.EqualFunc(strings.Fields(a[i]), strings.Fields(b[i]), nearly) {
			if t.Errorf("%s:%d: now %q, approved %q", file, i+1, a[i], b[i]); told == 10 {
				t.Fatalf("look at it; -run %s -update keeps it", t.Name())
			}
			told++
		}
	}
}

func nearly(a, b string) bool {
	x, err := strconv.ParseFloat(a, 64)
	y, err2 := strconv.ParseFloat(b, 64)
	return a == b || err == nil && err2 == nil && math.Abs(x-y) <= 1e-6*math.Abs(y)
}
