package exchange

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"io"

	"hopperful/fact"
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
		return nil, &Error{File: name, What: fact.Say("exchange.whole_too_long", fact.Count("mb", MostWhole>>20)), Advice: fact.Say("exchange.do_check_export")}
	}
	var records []shop.Record
	in := bufio.NewScanner(io.LimitReader(r, MostWhole+1))
	in.Buffer(nil, mostOneLine)
	for n := 1; in.Scan(); n++ {
		text := bytes.TrimSpace(in.Bytes())
		if len(text) == 0 {
			continue
		}
		bad := func(what fact.Saying) error {
			return &Error{File: name, At: fact.Say("exchange.at_line", fact.Count("line", n), fact.Name("word", "")), What: what, Advice: fact.Say("exchange.do_export_anew")}
		}
		if len(records) == mostWhole {
			return nil, bad(fact.Say("exchange.many_records", fact.Count("most", mostWhole)))
		}
		var k Kept
		d := json.NewDecoder(bytes.NewReader(text))
		d.DisallowUnknownFields()
		if err := d.Decode(&k); err != nil {
			return nil, bad(fact.Say("exchange.no_record", fact.Name("why", err.Error())))
		}
		rec, err := k.Record()
		if err != nil {
			return nil, bad(whyNo(err))
		}
		records = append(records, rec)
	}
	if err := in.Err(); err != nil {
		return nil, &Error{File: name, What: fact.Say("exchange.unreadable", fact.Name("why", err.Error())), Advice: fact.Say("exchange.do_check_export")}
	}
	return records, nil
}

// whyNo is why a body is none of a record.
func whyNo(err error) fact.Saying {
	var one *shop.Error
	if errors.As(err, &one) {
		return one.What
	}
	return shop.WhyNot(err)
}
