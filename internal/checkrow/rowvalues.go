package checkrow

// Holds what a model makes of its check rows, and of the same with each number moved a
// little, to a millionth: a row's tolerance is that of its source, which a changed constant
// often keeps.

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// slow rows are held as they are and not moved.
const slow = 30 * time.Millisecond

// movedBy is how far each number of a row is moved.
const movedBy = 1.07

// runValues runs the lines of the file beside the check rows: a case, its inputs and what
// the model made of them. Where there is no such file nothing is held.
func runValues(t *testing.T, folder string, rows []Row, funcs map[string]Func) {
	t.Helper()
	file := filepath.Join(folder, "testdata", "rows.txt")
	if *update {
		if err := writeValues(file, rows, funcs); err != nil {
			t.Fatal(err)
		}
	}
	text, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return
	} else if err != nil {
		t.Fatal(err)
	}
	t.Run("values", func(t *testing.T) {
		t.Parallel()
		for i, line := range strings.Split(strings.TrimSpace(string(text)), "\n") {
			f := strings.Split(line, "\t")
			name, _, _ := strings.Cut(f[0], "/")
			if len(f) != 3 || funcs[name] == nil {
				continue // the model lost that function, which its rows tell
			}
			if got := valueLine(funcs[name], f[1]); !slices.EqualFunc(strings.Fields(got), strings.Fields(f[2]), nearly) {
				t.Errorf("%s:%d: %s of %s is now %s, approved %s; -run Checks -update keeps it", file, i+1, f[0], f[1], got, f[2])
			}
		}
	})
}

// valueLine is what a function makes of inputs.
func valueLine(fn Func, inputs string) (line string) {
	defer func() {
		if r := recover(); r != nil {
			line = "no row"
		}
	}()
	in, err := parseInputs(inputs)
	if err != nil {
		return "no row"
	}
	got, err := fn(in)
	if err != nil {
		return "refused"
	}
	var all []string
	for _, v := range got {
		all = append(all, strconv.FormatFloat(v, 'g', 9, 64))
	}
	return strings.Join(all, " ")
}

func writeValues(file string, rows []Row, funcs map[string]Func) error {
	var out strings.Builder
	for _, row := range rows {
		name, _, _ := strings.Cut(row.Case, "/")
		fn := funcs[name]
		if fn == nil {
			continue
		}
		began := time.Now()
		first := valueLine(fn, row.Inputs)
		took := time.Since(began)
		fmt.Fprintf(&out, "%s\t%s\t%s\n", row.Case, row.Inputs, first)
		if took > slow || first == "refused" {
			continue
		}
		for _, inputs := range movedInputs(row.Inputs) {
			if line := valueLine(fn, inputs); line != "no row" {
				fmt.Fprintf(&out, "%s\t%s\t%s\n", row.Case, inputs, line)
			}
		}
	}
	return errors.Join(os.MkdirAll(filepath.Dir(file), 0o755), os.WriteFile(file, []byte(out.String()), 0o644))
}

// movedInputs are a row's inputs with one number moved at a time; whole numbers count
// something and go up by one.
func movedInputs(text string) (all []string) {
	in, err := parseInputs(text)
	if err != nil {
		return nil
	}
	keys := slices.Sorted(maps.Keys(in))
	for _, key := range keys {
		v, err := strconv.ParseFloat(in[key], 64)
		if err != nil || v == 0 {
			continue
		}
		v *= movedBy
		if _, err := strconv.Atoi(in[key]); err == nil {
			v = v/movedBy + 1
		}
		var parts []string
		for _, k := range keys {
			value := in[k]
			if k == key {
				value = strconv.FormatFloat(v, 'g', 12, 64)
			}
			parts = append(parts, k+"="+value)
		}
		all = append(all, strings.Join(parts, "; "))
	}
	return all
}
