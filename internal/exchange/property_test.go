package exchange

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hopperful/process/sieve"
)

// drawnStack is any stack a workshop could weigh.
func drawnStack(t *rapid.T) Stack {
	var s Stack
	s.Lot = rapid.SampledFrom([]string{"", "R3", "B12"}).Draw(t, "lot")
	form := rapid.SampledFrom([]sieve.Form{sieve.Woven, sieve.PlateRound, sieve.PlateSquare}).Draw(t, "form")
	openings := rapid.SliceOfNDistinct(rapid.Float64Range(30e-6, 0.1), 1, 12, func(x float64) float64 { return x }).Draw(t, "openings")
	slices.Sort(openings)
	slices.Reverse(openings)
	for _, x := range openings {
		one, err := sieve.Own(x, form)
		if err != nil {
			t.Fatal(err)
		}
		s.Sieves = append(s.Sieves, one)
	}
	gross := rapid.Bool().Draw(t, "gross")
	for range rapid.IntRange(1, 3).Draw(t, "portions") {
		p := sieve.Portion{Charge: 0.05}
		for range len(openings) + 1 {
			r := sieve.Row{Mass: rapid.Float64Range(1e-9, 0.2).Draw(t, "mass")}
			if gross {
				r.Tare = rapid.Float64Range(0.1, 0.5).Draw(t, "tare")
				r.Mass += r.Tare
			}
			p.Rows = append(p.Rows, r)
		}
		s.Portions = append(s.Portions, p)
	}
	return s
}

// What is written is read back: from CSV to the last bit, from a workbook to
// its digits.
func TestWrittenStacksReadBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		s := drawnStack(rt)
		for f, within := range []float64{CSV: 0, XLSX: 1e-14} {
			f := Format(f)
			if f == XLSX && rapid.IntRange(0, 9).Draw(rt, "seldom") > 0 {
				continue // a workbook takes a hundred times as long
			}
			var b bytes.Buffer
			if err := writeStack(&b, s, f); err != nil {
				rt.Fatal(err)
			}
			text := b.String()
			got, err := ReadStack("stack", &b, int64(b.Len()), Reading{})
			if err != nil {
				rt.Fatalf("%v\n%s", err, text)
			}
			same(t, s, got, within)
		}
	})
}

// Every template, filled in, is a stack; as it is, it says what is missing.
func TestTemplates(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"ISO 3310-1 R20/3", "iso r40/3", "ISO 3310-1 R20", "astm e11", "4mm 2mm 1.3mm", "No. 10, No. 18"} {
		sieves, err := SievesNamed(name)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, gross := range []bool{false, true} {
			var b bytes.Buffer
			if err := WriteTemplate(&b, "en", sieves, gross, CSV); err != nil {
				t.Fatal(err)
			}
			if _, err := read4("empty.csv", b.String()); err == nil || !strings.Contains(worded(err), "mass") {
				t.Errorf("%s, unfilled: %v", name, err)
			}
			filled, columns := b.String(), ",52.5"
			if gross {
				columns = ",352.5,300"
			}
			for _, s := range sieves {
				line := s.Designation + "," + milli(s.Opening)
				filled = strings.Replace(filled, line+strings.Repeat(",", strings.Count(columns, ",")), line+columns, 1)
			}
			filled = strings.Replace(filled, "pan,"+strings.Repeat(",", strings.Count(columns, ",")), "pan,"+columns, 1)
			got, err := read4("filled.csv", filled)
			if err != nil || len(got.Sieves) != len(sieves) || got.Portions[0].Rows[0].Mass-got.Portions[0].Rows[0].Tare < 0.0524 {
				t.Errorf("%s, filled: %v, %d of %d sieves", name, err, len(got.Sieves), len(sieves))
			}
		}
	}
	for _, bad := range []string{"", "DIN 4188", "1mm 2mm", "5m"} {
		if _, err := SievesNamed(bad); err == nil {
			t.Errorf("%q was taken for a series", bad)
		}
	}
}

// Whatever comes in, ReadStack either refuses with an *Error or returns a stack
// that Weigh can judge.
func FuzzReadStack(f *testing.F) {
	f.Add([]byte("opening (mm),retained (g)\n2.8,0\n1.4,52.3\npan,7.1\ncharge,99.8\n"))
	f.Add([]byte("opening [mm];full 1 [g];full 2 [g];empty [g]\n2,8;310;300;300\npan;7,1;8;7\n"))
	f.Add([]byte("2.8 mm 0 g\npan 7.1 g"))
	f.Add([]byte("\xff\xfeo\x00p\x00"))
	var b bytes.Buffer
	if err := writeStack(&b, wanted(), XLSX); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Fuzz(func(t *testing.T, raw []byte) {
		s, err := ReadStack("fuzz", bytes.NewReader(raw), int64(len(raw)), Reading{})
		if err != nil {
			if _, ok := err.(*Error); !ok {
				t.Fatalf("%T: %v", err, err)
			}
			return
		}
		if len(s.Sieves) == 0 || len(s.Portions) == 0 || len(s.Portions[0].Rows) != len(s.Sieves)+1 {
			t.Fatalf("%+v", s)
		}
		_, _ = sieve.Weigh(s.Stack) // must not panic
	})
}
