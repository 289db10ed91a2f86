package polymer

import (
	"embed"
	"fmt"
	"strings"
	"sync"

	"hopperful/fact"
	"hopperful/source/rows"
)

//go:embed polymers.csv names.csv cautions.csv pairs.csv
var files embed.FS

// Unknown is the material of a lot nobody could name. Its ranges span the
// printing plastics and its limits are those of the most easily spoiled one.
const Unknown = "unknown"

// Table is a set of materials with everything known about them. It never
// changes once built and may be used by many at a time.
type Table struct {
	names    []string           // in the order of names.csv, then as added
	words    map[string]string  // name → code of its full name
	called   map[string]string  // squeezed name or alias → name
	values   map[string][]Value // name → lines, own ones first
	cautions map[string][]Caution
	pairs    []Pair
}

// Books returns the table as it comes with the program.
func Books() *Table { return books() }

// books reads the embedded files once. They are part of the program and held by
// tests, so a fault in them is a fault of the program.
var books = sync.OnceValue(func() *Table {
	t, err := load()
	if err != nil {
		panic("polymer: the embedded tables do not load: " + err.Error())
	}
	return t
})

// load reads and cross-checks the four embedded files.
func load() (*Table, error) {
	t := &Table{
		words: map[string]string{}, called: map[string]string{},
		values: map[string][]Value{}, cautions: map[string][]Caution{},
	}
	for _, part := range []struct {
		file, header string
		each         func([]string) error
	}{
		{"names.csv", "polymer,words,aliases", t.addName},
		{"polymers.csv", header, t.addLine},
		{"cautions.csv", "polymer,kind,caution,source,place,mark", t.addCaution},
		{"pairs.csv", "host,stray,structural,visual,refuse,what,source,place,mark", t.addPair},
	} {
		file, err := files.Open(part.file)
		if err != nil {
			return nil, err
		}
		err = rows.Each(part.file, part.header, file, part.each)
		_ = file.Close() // embedded: nothing to lose
		if err != nil {
			return nil, err
		}
	}
	return t, nil
}

// addName takes a line of names.csv.
func (t *Table) addName(f []string) error {
	t.names = append(t.names, f[0])
	t.words[f[0]] = fact.TermCode("material", f[0])
	for _, alias := range append(strings.Split(f[2], ";"), f[0], f[1]) {
		key := squeeze(alias)
		if other, taken := t.called[key]; taken && other != f[0] {
			return fmt.Errorf("%q already names %s", alias, other)
		}
		if key != "" {
			t.called[key] = f[0]
		}
	}
	return nil
}

// addLine takes a line of polymers.csv.
func (t *Table) addLine(f []string) error {
	v, err := parse(f)
	if err != nil {
		return err
	}
	if _, ok := t.words[v.Polymer]; !ok {
		return fmt.Errorf("%q is not listed in names.csv", v.Polymer)
	}
	t.values[v.Polymer] = append(t.values[v.Polymer], v)
	return nil
}

// With returns a new table with a shop's own values on top: they come first
// wherever they speak of the same property, in the order given. A material the
// table does not have is added. The first faulty value is an error.
func (t *Table) With(own []Value) (*Table, error) {
	if len(own) == 0 {
		return t, nil
	}
	n := &Table{
		names: append([]string(nil), t.names...), words: copyOf(t.words), called: copyOf(t.called),
		values: copyOf(t.values), cautions: t.cautions, pairs: t.pairs,
	}
	top := map[string][]Value{}
	for _, v := range own {
		if err := v.Check(); err != nil {
			return nil, err
		}
		if !v.Mark.own() {
			return nil, fmt.Errorf("%s of %s: an own value is marked %q or %q, not %q", v.Property, v.Polymer, MeasuredHere, Entered, v.Mark)
		}
		name, ok := n.called[squeeze(v.Polymer)]
		if !ok {
			name = strings.TrimSpace(v.Polymer)
			n.names = append(n.names, name)
			n.words[name] = ""
			n.called[squeeze(name)] = name
		}
		v.Polymer = name
		top[name] = append(top[name], v)
	}
	for name, lines := range top {
		n.values[name] = append(lines, n.values[name]...)
	}
	return n, nil
}

// copyOf is a shallow copy: values in it are never changed in place.
func copyOf[V any](m map[string]V) map[string]V {
	n := make(map[string]V, len(m))
	for k, v := range m {
		n[k] = v
	}
	return n
}
