package polymer

import (
	"fmt"
	"io"
	"strings"

	"hopperful/source"
	"hopperful/source/rows"
)

// header is the first line of a table of values.
const header = "polymer,grade,property,value,low,high,unit,at,source,place,mark"

// Read reads a table of values in the form of polymers.csv: that header, then
// one line a value; low and high empty where the source gives one number. name
// is the file's name for messages. Every fault names file and line.
func Read(name string, r io.Reader) ([]Value, error) {
	var values []Value
	err := rows.Each(name, header, r, func(f []string) error {
		v, err := parse(f)
		if err == nil {
			values = append(values, v)
		}
		return err
	})
	return values, err
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
