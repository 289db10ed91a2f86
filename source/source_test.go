package source

import (
	"strings"
	"testing"
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

// Every work has who, what and when. Those nobody can find by an address are counted, and
// the count only falls: undated pages of sellers are being replaced.
func TestWorksCanBeFound(t *testing.T) {
	t.Parallel()
	const withoutAddress = 89
	n := 0
	for _, key := range Keys() {
		e, _ := Lookup(key)
		for _, field := range []string{"author", "title", "year"} {
			if e.Fields[field] == "" {
				t.Errorf("%s has no %s", key, field)
			}
		}
		switch at := e.Address(); {
		case at == "":
			n++
		case strings.Contains(at, " ") && strings.HasPrefix(at, "http"):
			t.Errorf("%s: %q is no address", key, at)
		}
	}
	if n > withoutAddress {
		t.Errorf("%d works have no address, %d had none before", n, withoutAddress)
	} else if n < withoutAddress {
		t.Errorf("%d works have no address: write that down here", n)
	}
}
