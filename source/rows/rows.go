// Package rows reads the small tables the ground floor's numbers stand in: a
// known first line, then one number or fact with its source a line.
package rows

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"
)

// Bounds on what is read, well above the books.
const (
	maxBytes = 1 << 20 // a table is some tens of kB
	maxText  = 400     // characters of one field
)

// Each walks the lines below the header of a table and hands their fields to
// each, trimmed. name is the file's name for messages. Every fault names file
// and line.
func Each(name, header string, r io.Reader, each func(fields []string) error) error {
	text, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	if len(text) > maxBytes {
		return fmt.Errorf("%s: longer than %d bytes: too much for a table", name, maxBytes)
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
		err = tidy(fields)
		switch {
		case err != nil:
		case !first:
			err = each(fields)
		case strings.Join(fields, ",") != header:
			err = fmt.Errorf("the first line must be %s", header)
		}
		if err != nil {
			line, _ := reader.FieldPos(0)
			return fmt.Errorf("%s:%d: %w", name, line, err)
		}
	}
}

// tidy trims every field and refuses an overlong one.
func tidy(fields []string) error {
	for i, f := range fields {
		if len(f) > maxText {
			return fmt.Errorf("column %d is longer than %d bytes", i+1, maxText)
		}
		fields[i] = strings.TrimSpace(f)
	}
	return nil
}
