// Package source is the project's one bibliography. The entries live in
// bib/*.bib, one file a subject, in BibTeX so that engineers can read and reuse
// them; every key used anywhere is here and every entry here is used (a test
// holds both).
package source

import (
	"embed"
	"fmt"
	"io/fs"
	"sort"
	"strings"
	"sync"
)

//go:embed bib/*.bib
var files embed.FS

// Ref points at a place in a source: an entry's key and where in it to look.
type Ref struct {
	Key   string `json:"key"`   // "Koka1988"; or one of the words of [Word]
	Place string `json:"place"` // "eq. 4", "table 2", "p. 101"; may be empty
}

// Cite points at a place in a source.
func Cite(key, place string) Ref { return Ref{key, place} }

// String renders the reference for a person: short author and year, and place.
func (r Ref) String() string {
	name := r.Key
	if e, ok := Lookup(r.Key); ok {
		name = e.Short()
	}
	if r.Place == "" {
		return name
	}
	return name + ", " + r.Place
}

// Entry is one work of the bibliography.
type Entry struct {
	Key    string
	Kind   string            // article, book, misc …
	Fields map[string]string // author, title, year, note …, lower-case names
}

// Short is "Koka and Trass 1988": the author field's family names and the year.
func (e Entry) Short() string {
	authors := strings.Split(e.Fields["author"], " and ")
	names := make([]string, 0, len(authors))
	for _, a := range authors {
		family, _, _ := strings.Cut(a, ",")
		names = append(names, strings.Trim(strings.TrimSpace(family), "{}"))
	}
	who := strings.Join(names, " and ")
	if len(names) > 2 {
		who = names[0] + " et al."
	}
	return strings.TrimSpace(who + " " + e.Fields["year"])
}

// Address is where the work can be found: a link, a number of a standard, report or
// package, or "" where none is known; Missing then says why.
func (e Entry) Address() string {
	switch {
	case e.Fields["doi"] != "":
		return "https://doi.org/" + e.Fields["doi"]
	case e.Fields["url"] != "":
		return e.Fields["url"]
	}
	return e.Fields["number"]
}

// remembered stands in the field seen of an address nobody has looked up.
const remembered = "from memory"

// Remembered reports whether the address is from memory: it was neither opened nor
// found beside the work's name in another public text. Where it was, the field seen
// is the day of that.
func (e Entry) Remembered() bool { return e.Fields["seen"] == remembered }

// Missing is why there is no address; "" where there is one.
func (e Entry) Missing() string { return e.Fields["none"] }

// Undated reports whether the work is a page of a seller, a stockist or a hobbyist, or
// an exercise, without a date: it may say something else tomorrow.
func (e Entry) Undated() bool { return e.Fields["undated"] != "" }

// Mind is the code of what a reader has to bear in mind of the address; "" for nothing.
func (e Entry) Mind() string {
	switch {
	case e.Missing() != "":
		return "source.no_address"
	case e.Undated():
		return "source.undated"
	case e.Remembered():
		return "source.from_memory"
	}
	return ""
}

// Word reports whether key is one of the fixed words that stand where no
// published work does. They are shown as they are.
func Word(key string) bool {
	switch key {
	case "own derivation", "common practice, no source", "from memory", "judgement", "invented":
		return true
	}
	return false
}

// Guess reports whether nothing one could look up stands behind the reference: a fact
// of the trade without a source, a value from memory, or a judgement.
func (r Ref) Guess() bool {
	switch r.Key {
	case "common practice, no source", "from memory", "judgement":
		return true
	}
	return false
}

var load = sync.OnceValues(func() (map[string]Entry, error) {
	all := map[string]Entry{}
	names, err := fs.Glob(files, "bib/*.bib")
	if err != nil {
		return nil, fmt.Errorf("bibliography: %w", err)
	}
	for _, name := range names {
		text, err := files.ReadFile(name)
		if err != nil {
			return nil, fmt.Errorf("bibliography: %w", err)
		}
		entries, err := parse(name, string(text))
		if err != nil {
			return nil, err
		}
		for _, e := range entries {
			if _, twice := all[e.Key]; twice {
				return nil, fmt.Errorf("%s: key %s stands twice in the bibliography", name, e.Key)
			}
			all[e.Key] = e
		}
	}
	return all, nil
})

// Check reports what is wrong with the embedded bibliography, or nil.
func Check() error { _, err := load(); return err }

// Lookup returns the entry of a key.
func Lookup(key string) (Entry, bool) {
	all, _ := load()
	e, ok := all[key]
	return e, ok
}

// Keys returns every key, sorted.
func Keys() []string {
	all, _ := load()
	keys := make([]string, 0, len(all))
	for k := range all {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}
