package source

import (
	"fmt"
	"maps"
	"os"
	"strings"
	"testing"
	"time"
)

const entry = "@article{Koka1988,\n  author = {Koka, V. R. and Trass, O.},\n  title = {Breakage},\n  year = {1988},\n}\n"

func TestParseReadsEntries(t *testing.T) {
	t.Parallel()
	got, err := parse("x.bib", "% a remark\n\n"+entry)
	if err != nil || len(got) != 1 {
		t.Fatalf("got %v, %v", got, err)
	}
	if e := got[0]; e.Key != "Koka1988" || e.Kind != "article" || e.Fields["title"] != "Breakage" || e.Short() != "Koka and Trass 1988" {
		t.Errorf("got %+v, short %q", e, e.Short())
	}
}

func TestParseNamesFileAndLine(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		strings.Replace(entry, "  year = {1988},\n", "", 1):  "x.bib:4: entry Koka1988 lacks year",
		strings.Replace(entry, "{Breakage}", "Breakage", 1):  "x.bib:3: not a field",
		"  title = {Breakage},\n":                            "x.bib:1: not a field",
		entry + "}\n":                                        "x.bib:6: a closing brace without an entry",
		strings.TrimSuffix(entry, "}\n"):                     "x.bib: entry Koka1988 is not closed",
		strings.TrimSuffix(entry, "}\n") + "@book{A1999,\n}": "x.bib:5: an entry starts inside another",
		"@article\n": "x.bib:1: an entry starts inside another or without {",
	} {
		if got, err := parse("x.bib", text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q gave %v, %v; wanted %q", text, got, err, want)
		}
	}
}

func TestShortNames(t *testing.T) {
	t.Parallel()
	for author, want := range map[string]string{
		"Reid, K. J.":               "Reid 1965",
		"A, B. and C, D. and E, F.": "A et al. 1965",
		"{Bureau of Things}":        "Bureau of Things 1965",
	} {
		if got := (Entry{Fields: map[string]string{"author": author, "year": "1965"}}).Short(); got != want {
			t.Errorf("%q became %q, wanted %q", author, got, want)
		}
	}
}

func TestTheBibliographyIsSound(t *testing.T) {
	t.Parallel()
	if err := Check(); err != nil {
		t.Fatal(err)
	}
	keys := Keys()
	if len(keys) == 0 {
		t.Fatal("it is empty")
	}
	for i, k := range keys {
		if e, ok := Lookup(k); !ok || e.Key != k || (i > 0 && keys[i-1] >= k) || Word(k) {
			t.Errorf("key %d, %s: %+v, %v", i, k, e, ok)
		}
	}
	if _, ok := Lookup("Nobody1900"); ok {
		t.Error("a key that nobody wrote is found")
	}
}

func TestRefReadsAsPeopleCite(t *testing.T) {
	t.Parallel()
	for ref, want := range map[Ref]string{
		{Key: "Reid1965", Place: "eq. 4"}: "Reid 1965, eq. 4",
		{Key: "Reid1965"}:                 "Reid 1965",
		{Key: "judgement"}:                "judgement",
	} {
		if got := ref.String(); got != want {
			t.Errorf("got %q, wanted %q", got, want)
		}
	}
	if !Word("from memory") || Word("hearsay") {
		t.Error("the fixed words are not told from others")
	}
}

func FuzzParse(f *testing.F) {
	f.Add(entry)
	f.Add("@a{b,\n}")
	f.Add("x = {")
	f.Fuzz(func(t *testing.T, text string) {
		entries, err := parse("x.bib", text)
		if err != nil && !strings.HasPrefix(err.Error(), "x.bib:") {
			t.Errorf("the error names no file: %v", err)
		}
		for _, e := range entries {
			if e.Short() == "" {
				t.Errorf("%+v has no short name", e)
			}
		}
	})
}

// counts is what the bibliography holds, by how its works can be found.
type counts struct{ works, read, remembered, missing, undated int }

// found counts works and tells the first fault of each that has one: every work has who,
// what and when, and either an address, with the day it was seen or that it is from
// memory, or the reason why it has none.
func found(all []Entry) (n counts, faults []string) {
	for _, e := range all {
		fault := func(what string) { faults = append(faults, e.Key+" "+what) }
		seen, at := e.Fields["seen"], e.Address()
		_, notDay := time.Parse(time.DateOnly, seen)
		switch {
		case e.Fields["author"] == "" || e.Fields["title"] == "" || e.Fields["year"] == "":
			fault("lacks author, title or year")
		case at == "" && e.Missing() == "":
			fault("has no address and does not say why")
		case at != "" && e.Missing() != "":
			fault("has an address and says that it has none")
		case at == "" && seen != "":
			fault("saw an address it does not have")
		case at != "" && notDay != nil && !e.Remembered():
			fault("does not say when its address was seen, or that it is from memory")
		case strings.HasPrefix(at, "http") && strings.Contains(at, " "):
			fault("has no link but a text: " + at)
		}
		n.works++
		switch {
		case at == "":
			n.missing++
		case e.Remembered():
			n.remembered++
		default:
			n.read++
		}
		if e.Undated() {
			n.undated++
		}
	}
	return n, faults
}

func TestWorksCanBeFound(t *testing.T) {
	t.Parallel()
	var all []Entry
	for _, key := range Keys() {
		e, _ := Lookup(key)
		all = append(all, e)
	}
	n, faults := found(all)
	for _, f := range faults {
		t.Error(f)
	}
	page, err := os.ReadFile("../docs/sources.md")
	if err != nil {
		t.Fatal(err)
	}
	want := fmt.Sprintf("Of %d works, %d have an address that was seen, %d one from memory and %d none; %d are undated pages of sellers, hobbyists or exercises.",
		n.works, n.read, n.remembered, n.missing, n.undated)
	if !strings.Contains(string(page), want) {
		t.Errorf("docs/sources.md must say: %s", want)
	}
	for _, e := range all { // who looks for a work without an address finds why
		if why := e.Missing(); why != "" && !strings.Contains(string(page), e.Key+" | "+why) {
			t.Errorf("docs/sources.md must list: | %s | %s |", e.Key, why)
		}
		if e.Remembered() && !strings.Contains(string(page), e.Key+" | "+e.Address()) {
			t.Errorf("docs/sources.md must list: | %s | %s |", e.Key, e.Address())
		}
	}
}

func TestTheRuleOfAddressesCanFail(t *testing.T) {
	t.Parallel()
	sound := map[string]string{"author": "A, B.", "title": "C", "year": "1990", "doi": "10.1/2", "seen": "2026-11-30"}
	for _, c := range []struct{ field, value, want string }{
		{"seen", "2026-11-30", ""},
		{"seen", "from memory", ""},
		{"seen", "", "does not say when"},
		{"seen", "yesterday", "does not say when"},
		{"doi", "", "has no address and does not say why"},
		{"none", "printed", "has an address and says"},
		{"year", "", "lacks"},
		{"doi", "10.1/2 or so", "no link"},
	} {
		e := Entry{Key: "A1990", Fields: maps.Clone(sound)}
		e.Fields[c.field] = c.value
		_, faults := found([]Entry{e})
		if got := strings.Join(faults, "; "); (c.want == "") != (got == "") || !strings.Contains(got, c.want) {
			t.Errorf("%s = %q: %q, wanted %q", c.field, c.value, got, c.want)
		}
	}
}

func TestGuessesAreToldFromWorks(t *testing.T) {
	t.Parallel()
	for key, want := range map[string]bool{"judgement": true, "from memory": true, "common practice, no source": true, "own derivation": false, "Reid1965": false, "": false} {
		if got := (Ref{Key: key}).Guess(); got != want {
			t.Errorf("%q a guess: %v", key, got)
		}
	}
}
