package polymer

import (
	"fmt"
	"sort"
	"strings"
	"unicode"
)

// Polymer is one material of a table.
type Polymer struct {
	Name  string // "PLA"
	Words string // the code of its full name; "" of one the shop added
	table *Table
}

// UnknownError says that no material of the table is called so.
type UnknownError struct {
	Name string   // what was asked for
	Near []string // the names that look most like it
}

// Error names what was asked for, for logs.
func (e *UnknownError) Error() string { return fmt.Sprintf("unknown material %q", e.Name) }

// MissingError says that the table has no such value.
type MissingError struct {
	Polymer  string
	Property Property
}

// Error names the gap, for logs.
func (e *MissingError) Error() string { return fmt.Sprintf("%s: no %s", e.Polymer, e.Property) }

// Names returns the materials of the books, most printed first.
func Names() []string { return Books().Names() }

// Find looks a material up in the books; see [Table.Find].
func Find(name string) (Polymer, error) { return Books().Find(name) }

// Names returns the names of the table's materials, the books' order first,
// added ones last.
func (t *Table) Names() []string { return append([]string(nil), t.names...) }

// Find returns the material of that name or alias. Case, spaces, hyphens and
// other signs do not matter: "pe hd", "HDPE" and "PE-HD" are one. Otherwise the
// error is an [UnknownError] with the nearest names.
func (t *Table) Find(name string) (Polymer, error) {
	if found, ok := t.called[squeeze(name)]; ok {
		return Polymer{Name: found, Words: t.words[found], table: t}, nil
	}
	shown := name
	if len(shown) > maxName {
		shown = strings.ToValidUTF8(shown[:maxName], "") + "…"
	}
	return Polymer{}, &UnknownError{Name: shown, Near: t.near(squeeze(name))}
}

// Value returns the default value of a property: the first line, which is the
// shop's own where it has one. A material the shop added without this property
// gets the wide range of an unknown material, and the note says so. Otherwise
// the error is a [MissingError].
func (p Polymer) Value(property Property) (Value, error) {
	if all := p.All(property); len(all) > 0 {
		return all[0], nil
	}
	if p.table != nil && p.added() {
		if all := (Polymer{Name: Unknown, table: p.table}).All(property); len(all) > 0 {
			v := all[0]
			v.Polymer, v.Note = p.Name, StandIn
			return v, nil
		}
	}
	return Value{}, &MissingError{Polymer: p.Name, Property: property}
}

// standIn reports whether the value was borrowed from the unknown material.
func (v Value) standIn() bool { return v.Note == StandIn }

// added reports whether the material is the shop's own and not in the books.
func (p Polymer) added() bool { _, ok := Books().words[p.Name]; return !ok }

// All returns every line of a property, the default first, the ones that
// disagree after it.
func (p Polymer) All(property Property) []Value {
	if p.table == nil {
		return nil
	}
	var lines []Value
	for _, v := range p.table.values[p.Name] {
		if v.Property == property {
			lines = append(lines, v)
		}
	}
	return lines
}

// Values returns the default value of every property the table has for the
// material, in the order of [Properties].
func (p Polymer) Values() []Value {
	var values []Value
	for _, d := range descriptions {
		if all := p.All(d.Property); len(all) > 0 {
			values = append(values, all[0])
		}
	}
	return values
}

// maxName bounds the names that are compared and repeated in messages.
const maxName = 60

// squeeze keeps letters and digits, in lower case, so that spelling habits do
// not matter.
func squeeze(name string) string {
	var b strings.Builder
	for _, r := range name {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			b.WriteRune(unicode.ToLower(r))
		}
		if b.Len() >= maxName {
			break
		}
	}
	return b.String()
}

// near returns the three names whose name or alias is fewest edits away.
func (t *Table) near(key string) []string {
	best := map[string]int{}
	for alias, name := range t.called {
		d := edits(key, alias)
		if old, ok := best[name]; !ok || d < old {
			best[name] = d
		}
	}
	names := t.Names()
	sort.SliceStable(names, func(i, j int) bool { return best[names[i]] < best[names[j]] })
	return names[:min(3, len(names))]
}

// edits counts the single-letter changes between two words (Levenshtein).
func edits(a, b string) int {
	x, y := []rune(a), []rune(b)
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i, r := range x {
		diagonal := row[0]
		row[0] = i + 1
		for j, s := range y {
			cost := 1
			if r == s {
				cost = 0
			}
			diagonal, row[j+1] = row[j+1], min(row[j]+1, row[j+1]+1, diagonal+cost)
		}
	}
	return row[len(y)]
}
