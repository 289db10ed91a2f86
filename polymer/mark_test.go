package polymer

// Which source may stand behind which mark, and what a value lends its figure.

import (
	"slices"
	"strings"
	"testing"

	"hopperful/figure"
	"hopperful/source"
)

// Every mark with every kind of key: a work with a date, a page without, the words of those that have no source, none, and nobody.
func TestWhichKeyFitsWhichMark(t *testing.T) {
	t.Parallel()
	var dated, undated string
	each(t, func(p Polymer) {
		for _, v := range p.Values() {
			work, listed := source.Lookup(v.Source.Key)
			switch {
			case listed && work.Undated():
				undated = v.Source.Key
			case listed:
				dated = v.Source.Key
			}
		}
	})
	if dated == "" || undated == "" {
		t.Fatalf("a dated work %q, an undated page %q", dated, undated)
	}
	keys := []string{dated, undated, "own derivation", "common practice, no source", "from memory", "judgement", "", "Nobody1900"}
	for m, fits := range map[Mark][]string{
		MeasuredHere: {""}, Entered: {""}, Published: {dated}, Computed: {dated, "own derivation"}, Undated: {undated}, Practice: {"common practice, no source"},
		Memory: {"from memory"}, Judged: {"judgement"}, "hearsay": nil,
	} {
		for _, key := range keys {
			if err := m.Fit(key); (err == nil) != slices.Contains(fits, key) || err != nil && (!strings.Contains(err.Error(), string(m)) || !strings.Contains(err.Error(), key)) {
				t.Errorf("%s with %q: %v", m, key, err)
			}
		}
		if m.Known() != (m != "hearsay") || m.own() != (m == MeasuredHere || m == Entered) || m.read() != (m == Published || m == Undated) {
			t.Errorf("%s: known %t, own %t, read %t", m, m.Known(), m.own(), m.read())
		}
		for key, basis := range map[string]figure.Basis{"": figure.Books, dated: figure.Books} {
			switch m {
			case MeasuredHere:
				basis = figure.Measured
			case Entered:
				basis = figure.Entered
			}
			v := Value{Polymer: "pla", Mark: m, Source: source.Ref{Key: key, Place: "p. 3"}}
			f := v.Vouch(figure.Figure{Basis: figure.Reckoned})
			cited := len(f.Sources) == 1 && f.Sources[0] == v.Source
			if f.Basis != basis || cited != (key != "") || key == "" && len(f.Sources) > 0 {
				t.Errorf("%s with %q lends %s and %v", m, key, f.Basis, f.Sources)
			}
			if unknown := (Value{Polymer: Unknown, Mark: m}).Vouch(figure.Figure{}); unknown.Basis != figure.Assumed {
				t.Errorf("%s of an unknown material lends %s", m, unknown.Basis)
			}
		}
	}
}

// A line of a table that cannot be read is told by its column and its word.
func TestLinesThatCannotBeRead(t *testing.T) {
	t.Parallel()
	good := []string{"pla", "any", "", "", "", "", "", "", "judgement", "", "judgement"}
	for _, p := range pla(t).Values() {
		if p.Property == "density" {
			good[2] = string(p.Property)
		}
	}
	good[3], good[6] = "1240", "kg/m³"
	for column, c := range map[int][2]string{2: {"colour", `column property: "colour"`}, 3: {"heavy", "column value"}, 4: {"light", "column low"}, 5: {"dark", "column high"}, 6: {"parsec", "column value"}, 10: {"hearsay", "hearsay"}, 8: {"Nobody1900", "Nobody1900"}} {
		line := slices.Clone(good)
		if line[column] = c[0]; column == 4 || column == 5 {
			line[4], line[5] = "1200", "1300"
			line[column] = c[0]
		}
		if _, err := parse(line); err == nil || !strings.Contains(err.Error(), c[1]) {
			t.Errorf("%q: %v", strings.Join(line, ","), err)
		}
	}
	if v, err := parse(good); err != nil || v.Value != 1240 || v.Low >= 1240 || v.High <= 1240 {
		t.Errorf("%+v, %v", v, err)
	}
	line := slices.Clone(good)
	line[4], line[5] = "1200", "1300"
	if v, err := parse(line); err != nil || v.Low != 1200 || v.High != 1300 || v.Note != "" {
		t.Errorf("%+v, %v", v, err)
	}
}

func pla(t *testing.T) Polymer {
	t.Helper()
	p, err := Find("pla")
	if err != nil {
		t.Fatal(err)
	}
	return p
}
