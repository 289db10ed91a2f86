// Package checkrow reads check rows: the published numbers a model is held
// against, one a line in the checks.csv beside the model, so that an engineer
// can review them without reading Go. It is test support: tests run the rows,
// and the pages in docs/models print them.
package checkrow

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Header is the first line of every checks.csv.
var Header = []string{"case", "inputs", "wanted", "tolerance", "kind", "source", "place"}

// Missed is the kind of a measurement that the model does not meet: the row holds
// that it is still missed, so that nobody hides it by a wider tolerance and nobody
// goes on telling it once it is met.
const Missed = "missed measurement"

// Kinds are the possible grounds of a wanted value, strongest first.
var Kinds = []string{"measurement", Missed, "published", "second library", "identity", "own derivation", "common practice", "from memory"}

// Row is one line of a checks.csv.
type Row struct {
	Line      int    // line in the file, for messages
	Case      string // "Function/what is special", the part before the slash picks the function
	Inputs    string // "name=value; name=[1 2 3]" in SI units; a word is allowed as value
	Wanted    string // "1.5", "[1 2 3]", or "error" for a refusal
	Tolerance string // "rel 1e-6", "abs 0.05", "factor 2"; anything after a colon is the reason
	Kind      string // one of Kinds
	Source    string // a key of package source, or one of its words
	Place     string // equation, table or page in the source
}

// Inputs are a row's arguments by name.
type Inputs map[string]string

// Func computes a row's result from its inputs.
type Func func(Inputs) ([]float64, error)

// Read parses a checks.csv and checks its form.
func Read(r io.Reader) ([]Row, error) {
	lines := csv.NewReader(r)
	lines.FieldsPerRecord = len(Header)
	lines.Comment = '#'
	head, err := lines.Read()
	if err != nil {
		return nil, fmt.Errorf("check rows: %w", err)
	}
	if !slices.Equal(head, Header) {
		return nil, fmt.Errorf("check rows: the header is %q, it must be %q", head, Header)
	}
	var rows []Row
	for {
		f, err := lines.Read()
		if errors.Is(err, io.EOF) {
			return rows, nil
		}
		if err != nil {
			return nil, fmt.Errorf("check rows: %w", err)
		}
		line, _ := lines.FieldPos(0)
		row := Row{line, f[0], f[1], f[2], f[3], f[4], f[5], f[6]}
		if !slices.Contains(Kinds, row.Kind) {
			return nil, fmt.Errorf("check rows: line %d: kind %q is none of %q", line, row.Kind, Kinds)
		}
		if row.Source == "" {
			return nil, fmt.Errorf("check rows: line %d: no source", line)
		}
		rows = append(rows, row)
	}
}

// Run runs every row of the file as a sub-test with the function its case
// names, then the ranges in the ranges.csv beside it. A row without a function, or a
// function without a row, fails.
func Run(t *testing.T, file string, funcs map[string]Func) {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := Read(f)
	if err != nil {
		t.Fatal(err)
	}
	used := map[string]bool{}
	for _, row := range rows {
		name, _, _ := strings.Cut(row.Case, "/")
		fn, ok := funcs[name]
		if !ok {
			t.Errorf("%s:%d: no function runs case %q", file, row.Line, row.Case)
			continue
		}
		used[name] = true
		t.Run(row.Case, func(t *testing.T) {
			t.Parallel()
			if err := row.Check(fn); err != nil {
				t.Errorf("%s:%d: %v (%s, %s)", file, row.Line, err, row.Source, row.Place)
			}
		})
	}
	for name := range funcs {
		if !used[name] {
			t.Errorf("%s: no row checks %s", file, name)
		}
	}
	runRanges(t, filepath.Join(filepath.Dir(file), "ranges.csv"), rows, funcs)
	runValues(t, filepath.Dir(file), rows, funcs)
}

// beyond is a difference beyond the tolerance.
type beyond struct{ error }

// Check runs one row and reports a difference beyond its tolerance, or that there
// is none where the row tells a miss.
func (row Row) Check(fn Func) error {
	err := row.hold(fn)
	if row.Kind != Missed {
		return err
	}
	if _, missed := err.(beyond); missed {
		return nil
	}
	if err == nil {
		return fmt.Errorf("the measurement is met now: make it a row of the kind measurement")
	}
	return err
}

func (row Row) hold(fn Func) error {
	in, err := parseInputs(row.Inputs)
	if err != nil {
		return err
	}
	got, err := fn(in)
	if row.Wanted == "error" {
		if err == nil {
			return fmt.Errorf("got %v, wanted a refusal", got)
		}
		return nil
	}
	if err != nil {
		return err
	}
	want, err := numbers(row.Wanted)
	if err != nil {
		return fmt.Errorf("wanted: %w", err)
	}
	if len(got) != len(want) {
		return fmt.Errorf("got %d numbers %v, wanted %d", len(got), got, len(want))
	}
	for i := range want {
		ok, err := within(got[i], want[i], row.Tolerance)
		if err != nil {
			return err
		}
		if !ok {
			return beyond{fmt.Errorf("number %d: got %.10g, wanted %.10g, tolerance %s", i+1, got[i], want[i], row.Tolerance)}
		}
	}
	return nil
}

// Num returns the input name as a number; a missing or malformed one panics,
// which fails the test that reads the row.
func (in Inputs) Num(name string) float64 {
	v := in.List(name)
	if len(v) != 1 {
		panic(fmt.Sprintf("check rows: input %q is not one number: %q", name, in[name]))
	}
	return v[0]
}

// List returns the input name as numbers.
func (in Inputs) List(name string) []float64 {
	text, ok := in[name]
	if !ok {
		panic(fmt.Sprintf("check rows: input %q is missing", name))
	}
	v, err := numbers(text)
	if err != nil {
		panic(fmt.Sprintf("check rows: input %q: %v", name, err))
	}
	return v
}

// Word returns the input name as text.
func (in Inputs) Word(name string) string { return in[name] }

// Has reports whether the row gives the input name.
func (in Inputs) Has(name string) bool { _, ok := in[name]; return ok }

// Bit is 1 for true, so that rows can hold answers.
func Bit(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// Each runs f for every value of a list.
func Each(list []float64, f func(float64) (float64, error)) ([]float64, error) {
	var all []float64
	for _, v := range list {
		got, err := f(v)
		if err != nil {
			return nil, err
		}
		all = append(all, got)
	}
	return all, nil
}

func parseInputs(text string) (Inputs, error) {
	in := Inputs{}
	for _, part := range strings.Split(text, ";") {
		if strings.TrimSpace(part) == "" {
			continue
		}
		name, value, ok := strings.Cut(part, "=")
		if !ok {
			return nil, fmt.Errorf("inputs: %q is not name=value", part)
		}
		in[strings.TrimSpace(name)] = strings.TrimSpace(value)
	}
	return in, nil
}

func numbers(text string) ([]float64, error) {
	text = strings.TrimSuffix(strings.TrimPrefix(strings.TrimSpace(text), "["), "]")
	var all []float64
	for _, word := range strings.Fields(text) {
		v, err := strconv.ParseFloat(word, 64)
		if err != nil {
			return nil, err
		}
		all = append(all, v)
	}
	return all, nil
}

func within(got, want float64, tolerance string) (bool, error) {
	spec, _, _ := strings.Cut(tolerance, ":")
	how, size, _ := strings.Cut(strings.TrimSpace(spec), " ")
	tol, err := strconv.ParseFloat(strings.TrimSpace(size), 64)
	if err != nil {
		return false, fmt.Errorf("tolerance %q: %w", tolerance, err)
	}
	switch how {
	case "abs":
		return math.Abs(got-want) <= tol, nil
	case "rel":
		return math.Abs(got-want) <= tol*math.Abs(want), nil
	case "factor":
		return got > 0 && got <= want*tol && got >= want/tol, nil
	}
	return false, fmt.Errorf("tolerance %q is neither abs, rel nor factor", tolerance)
}
