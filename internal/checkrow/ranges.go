package checkrow

// Holds the ranges that functions refuse outside of: at both ends what lies inside is
// taken and what lies outside is not.

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"hopperful/process"
)

// rangesHeader is the first line of a ranges.csv: the check row that gives the other
// inputs, the input ("name[0]": the first number of a list; "name#": a count), and the ends of the range that the function's comment tells of it.
var rangesHeader = []string{"case", "input", "from", "to"}

// runRanges holds the ranges beside the check rows, where there are any.
func runRanges(t *testing.T, file string, rows []Row, funcs map[string]Func) {
	t.Helper()
	text, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return
	} else if err != nil {
		t.Fatal(err)
	}
	lines, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil || len(lines) == 0 || !slices.Equal(lines[0], rangesHeader) {
		t.Fatalf("%s: want the header %q: %v", file, rangesHeader, err)
	}
	for _, l := range lines[1:] {
		t.Run(l[0]+" "+l[1], func(t *testing.T) {
			t.Parallel()
			if err := holdRange(rows, funcs, l); err != nil {
				t.Errorf("%s: %s of %s: %v", file, l[1], l[0], err)
			}
		})
	}
}

// holdRange tries one input on either side of both ends of its range.
func holdRange(rows []Row, funcs map[string]Func, line []string) error {
	at := slices.IndexFunc(rows, func(r Row) bool { return r.Case == line[0] })
	name, _, _ := strings.Cut(line[0], "/")
	if at < 0 || funcs[name] == nil {
		return fmt.Errorf("no such check row")
	}
	lo, hi, err := ends(line[2], line[3])
	if err != nil {
		return err
	}
	tries := sides(lo, hi)
	if strings.HasSuffix(line[1], "#") {
		tries = wholeSides(lo, hi)
	}
	for _, try := range tries {
		in, err := parseInputs(rows[at].Inputs)
		if err != nil {
			return err
		}
		if err := in.set(line[1], strconv.FormatFloat(try.value, 'g', -1, 64)); err != nil {
			return err
		}
		_, err = funcs[name](in)
		if refused := refusedFor(err, try.value, lo, hi); refused == try.inside {
			return fmt.Errorf("%.12g is refused: %t, of %g to %g: %v", try.value, refused, lo, hi, err)
		}
	}
	return nil
}

// set puts a value in place of an input, or of the first number of a list, "name[0]"; a
// whole number is marked "name#".
func (in Inputs) set(name, value string) error {
	name, first := strings.CutSuffix(strings.TrimSuffix(name, "#"), "[0]")
	old, ok := in[name]
	switch list := strings.Fields(strings.Trim(old, "[] ")); {
	case !ok || first && len(list) == 0:
		return fmt.Errorf("the row has no such input")
	case first:
		list[0] = value
		in[name] = "[" + strings.Join(list, " ") + "]"
	default:
		in[name] = value
	}
	return nil
}

func ends(from, to string) (lo, hi float64, err error) {
	lo, hi = math.Inf(-1), math.Inf(1)
	if from != "" {
		if lo, err = strconv.ParseFloat(from, 64); err != nil {
			return 0, 0, err
		}
	}
	if to != "" {
		hi, err = strconv.ParseFloat(to, 64)
	}
	return lo, hi, err
}

type side struct {
	value  float64
	inside bool
}

func sides(lo, hi float64) []side {
	var all []side
	for _, end := range []struct{ at, inward float64 }{{lo, 1}, {hi, -1}} {
		if math.IsInf(end.at, 0) || math.IsNaN(end.at) {
			continue
		}
		step := 1e-9 * math.Abs(end.at)
		if end.at == 0 {
			step = 1e-12
		}
		all = append(all, side{end.at + end.inward*step, true}, side{end.at - end.inward*step, false})
	}
	return all
}

// wholeSides are the counts on either side of both ends.
func wholeSides(lo, hi float64) (all []side) {
	if !math.IsInf(lo, 0) {
		all = append(all, side{lo, true}, side{lo - 1, false})
	}
	if !math.IsInf(hi, 0) {
		all = append(all, side{hi, true}, side{hi + 1, false})
	}
	return all
}

// Range holds that a function takes what lies inside a range, refuses what lies outside at
// either end, and names that range.
func Range(t *testing.T, name string, lo, hi float64, f func(float64) error) {
	t.Helper()
	for _, try := range sides(lo, hi) {
		err := f(try.value)
		if refused := refusedFor(err, try.value, lo, hi); refused == try.inside {
			t.Errorf("%s: %.12g is refused: %t, of %g to %g: %v", name, try.value, refused, lo, hi, err)
		}
	}
}

// refusedFor says whether one of the refusals is that this value lies outside this range,
// an end of which may be NaN: not told. The same value may be refused for other reasons.
func refusedFor(err error, value, lo, hi float64) bool {
	alike := func(a, b float64) bool {
		return a == b || math.IsNaN(b) || !math.IsInf(b, 0) && math.Abs(a-b) <= 1e-9*math.Abs(b)
	}
	for _, r := range RangesIn(err) {
		if alike(r.Value, value) && alike(r.Lo, lo) && alike(r.Hi, hi) {
			return true
		}
	}
	return false
}

// RangesIn are all refusals for a range in an error, joined ones too.
func RangesIn(err error) []*process.RangeError {
	switch e := err.(type) {
	case *process.RangeError:
		return []*process.RangeError{e}
	case interface{ Unwrap() []error }:
		var all []*process.RangeError
		for _, one := range e.Unwrap() {
			all = append(all, RangesIn(one)...)
		}
		return all
	case interface{ Unwrap() error }:
		return RangesIn(e.Unwrap())
	}
	return nil
}
