package identify

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"hopperful/polymer"
	"hopperful/source"
)

// Bounds on what is read, well above the books.
const (
	maxBytes = 1 << 18
	maxText  = 400
)

// rows walks the lines of a table with that header and hands each to each,
// trimmed. Every fault names file and line.
func rows(name, header string, r io.Reader, each func(f []string) error) error {
	text, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	if len(text) > maxBytes {
		return fmt.Errorf("%s: longer than %d bytes: too much for a table of chances", name, maxBytes)
	}
	reader := csv.NewReader(strings.NewReader(string(text)))
	reader.FieldsPerRecord = strings.Count(header, ",") + 1
	for first := true; ; first = false {
		fields, err := reader.Read()
		if err == io.EOF && !first {
			return nil
		}
		if err != nil {
			return fmt.Errorf("%s: %w; the columns are %s", name, err, header)
		}
		line, _ := reader.FieldPos(0)
		for i, f := range fields {
			if len(f) > maxText {
				return fmt.Errorf("%s:%d: column %d is longer than %d bytes", name, line, i+1, maxText)
			}
			fields[i] = strings.TrimSpace(f)
		}
		if first {
			if got := strings.Join(fields, ","); got != header {
				return fmt.Errorf("%s:%d: the first line must be %s", name, line, header)
			}
			continue
		}
		if err := each(fields); err != nil {
			return fmt.Errorf("%s:%d: %w", name, line, err)
		}
	}
}

// between reads a number and holds it between two bounds, ends included.
func between(column, text string, lo, hi float64) (float64, error) {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !(v >= lo && v <= hi) {
		return 0, fmt.Errorf("column %s: %q is no number between %g and %g", column, text, lo, hi)
	}
	return v, nil
}

// backed reports a line whose source does not fit its mark.
func backed(key string, mark polymer.Mark) error {
	_, listed := source.Lookup(key)
	ok := false
	switch mark {
	case polymer.Published:
		ok = listed
	case polymer.Computed:
		ok = listed || key == "own derivation"
	case polymer.Practice:
		ok = key == "common practice, no source"
	case polymer.Memory:
		ok = key == "from memory"
	case polymer.Judged:
		ok = key == "judgement"
	case polymer.Entered, polymer.MeasuredHere:
		ok = key == ""
	}
	if !ok {
		return fmt.Errorf("the source %q does not fit the mark %q", key, mark)
	}
	return nil
}
