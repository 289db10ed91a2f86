package polymer

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"hopperful/source"
)

// Bounds on what is read, well above the books.
const (
	maxBytes = 1 << 20 // a table of materials is some tens of kB
	maxText  = 400     // characters of one field
)

// header is the first line of a table of values.
const header = "polymer,grade,property,value,low,high,unit,at,source,place,mark"

// Read reads a table of values in the form of polymers.csv: that header, then
// one line a value; low and high empty where the source gives one number. name
// is the file's name for messages. Every fault names file and line.
func Read(name string, r io.Reader) ([]Value, error) {
	var values []Value
	err := rows(name, header, r, func(f []string) error {
		v, err := parse(f)
		if err == nil {
			values = append(values, v)
		}
		return err
	})
	return values, err
}

// rows walks the lines of one of our tables and hands each to each, trimmed.
func rows(name, header string, r io.Reader, each func(fields []string) error) error {
	text, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	if len(text) > maxBytes {
		return fmt.Errorf("%s: longer than %d bytes: too much for a table of materials", name, maxBytes)
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
		if err := tidy(fields); err != nil {
			return fmt.Errorf("%s:%d: %w", name, line, err)
		}
		if first {
			if strings.Join(fields, ",") != header {
				return fmt.Errorf("%s:%d: the first line must be %s", name, line, header)
			}
			continue
		}
		if err := each(fields); err != nil {
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

// parse turns the fields of one line into a checked value.
func parse(f []string) (Value, error) {
	v := Value{
		Polymer: f[0], Grade: f[1], Property: Property(f[2]), At: f[7],
		Source: source.Ref{Key: f[8], Place: f[9]}, Mark: Mark(f[10]),
	}
	d, ok := v.Property.Description()
	if !ok {
		return v, fmt.Errorf("column property: %q is none of the known properties", f[2])
	}
	v.Kind = d.Kind
	number := func(column, text string, into *float64) error {
		si, err := d.Kind.Parse(strings.TrimSpace(text + " " + f[6]))
		if err != nil {
			return fmt.Errorf("column %s: %w", column, err)
		}
		*into = si
		return nil
	}
	if err := number("value", f[3], &v.Value); err != nil {
		return v, err
	}
	if f[4] == "" && f[5] == "" {
		v.judgeRange(d)
		return v, v.Check()
	}
	if err := number("low", f[4], &v.Low); err != nil {
		return v, err
	}
	if err := number("high", f[5], &v.High); err != nil {
		return v, err
	}
	return v, v.Check()
}
