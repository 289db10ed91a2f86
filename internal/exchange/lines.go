package exchange

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"hopperful/shop"
)

// The bounds of a whole shop as JSON Lines. A record has at most a quarter of a
// megabyte; pictures are in few.
const (
	MostWhole   = 256 << 20
	mostWhole   = 200_000 // records
	mostOneLine = 1 << 20
)

// WriteLines writes records as JSON Lines, one a line, in their order.
func WriteLines(w io.Writer, records []shop.Record) error {
	out := bufio.NewWriter(w)
	e := json.NewEncoder(out)
	e.SetEscapeHTML(false)
	for _, r := range records {
		k, err := KeptOf(r)
		if err != nil {
			return err
		}
		if err := e.Encode(k); err != nil {
			return err
		}
	}
	return out.Flush()
}

// ReadLines reads records that [WriteLines] wrote; size is the number of bytes if
// it is known, else negative. Every error is an [*Error] that names the line.
func ReadLines(name string, r io.Reader, size int64) ([]shop.Record, error) {
	if size > MostWhole {
		return nil, &Error{File: name, Say: fmt.Sprintf("it is longer than %d MB.", MostWhole>>20), Hint: "Check that it is what hopperful export wrote."}
	}
	var records []shop.Record
	in := bufio.NewScanner(io.LimitReader(r, MostWhole+1))
	in.Buffer(nil, mostOneLine)
	for n := 1; in.Scan(); n++ {
		text := bytes.TrimSpace(in.Bytes())
		if len(text) == 0 {
			continue
		}
		bad := func(why error) error {
			say := why.Error()
			hint := "Export it anew, or take the line out if you changed it."
			var one *shop.Error
			if errors.As(why, &one) && one.Say != "" {
				say = one.Say
			}
			return &Error{File: name, Place: fmt.Sprintf("line %d", n), Say: say, Hint: hint}
		}
		if len(records) == mostWhole {
			return nil, bad(fmt.Errorf("more than %d records", mostWhole))
		}
		var k Kept
		d := json.NewDecoder(bytes.NewReader(text))
		d.DisallowUnknownFields()
		if err := d.Decode(&k); err != nil {
			return nil, bad(fmt.Errorf("it is no record (%w)", err))
		}
		rec, err := k.Record()
		if err != nil {
			return nil, bad(err)
		}
		records = append(records, rec)
	}
	if err := in.Err(); err != nil {
		return nil, &Error{File: name, Say: fmt.Sprintf("it could not be read (%v).", err), Hint: "Check that it is what hopperful export wrote."}
	}
	return records, nil
}
