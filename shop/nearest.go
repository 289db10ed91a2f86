package shop

import (
	"hopperful/fact"
	"slices"
	"strings"
)

// Nearest are up to three of the known names close to a misspelt one.
func Nearest(name string, known []string) []string {
	type near struct {
		name string
		d    int
	}
	var list []near
	for _, k := range known {
		if d := distance(strings.ToLower(name), strings.ToLower(k)); d <= max(1, len(k)/2) {
			list = append(list, near{k, d})
		}
	}
	slices.SortStableFunc(list, func(a, b near) int { return a.d - b.d })
	var names []string
	for _, n := range list[:min(3, len(list))] {
		names = append(names, n.name)
	}
	return names
}

// nearest offers up to three names close to a misspelt one, for a hint.
func nearest(name string, known []string) fact.Saying {
	names := Nearest(name, known)
	if len(names) == 0 {
		names = known[:min(3, len(known))]
		if len(names) == 0 {
			return fact.Saying{}
		}
		return fact.Say("shop.there_is", fact.Names("join", names))
	}
	return fact.Say("shop.did_you_mean", fact.Either("join", names))
}

// distance counts the letters to insert, delete or change to get from a to b.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

// lotNamed looks up a lot for a record, or says which labels are near.
func (s *State) lotNamed(id LotID, field string) (*Lot, error) {
	if l, ok := s.Lot(id); ok {
		return l, nil
	}
	known := make([]string, len(s.Order))
	for i, o := range s.Order {
		known[i] = string(o)
	}
	if id == "" {
		return nil, &Error{Code: NotFound, Field: field, What: fact.Say("shop.record_without_lot"), Advice: nearest("", known)}
	}
	return nil, &Error{Code: NotFound, Field: field, What: fact.Say("shop.no_lot_then", fact.Name("id", clip(string(id)))),
		Advice: fact.Say("shop.lot_by_then", fact.Either("near", Nearest(string(id), known)))}
}

// printerNamed looks up a printer for a record, or says which names are near.
func (s *State) printerNamed(name, field string) error {
	known := make([]string, len(s.Printers))
	for i, p := range s.Printers {
		if p.Name == name {
			return nil
		}
		known[i] = p.Name
	}
	hint := nearest(name, known)
	if len(known) == 0 {
		hint = fact.Say("shop.do_describe_printer")
	}
	return &Error{Code: NotFound, Field: field, What: fact.Say("shop.no_printer", fact.Name("name", clip(name))), Advice: hint}
}

// millNamed looks up a mill for a record, or says which names are near.
func (s *State) millNamed(name string) (int, error) {
	if i := s.millIndex(name); i >= 0 {
		return i, nil
	}
	known := make([]string, len(s.Mills))
	for i, m := range s.Mills {
		known[i] = m.Name
	}
	hint := nearest(name, known)
	if len(known) == 0 {
		hint = fact.Say("shop.do_describe_mill")
	}
	say := fact.Say("shop.no_mill", fact.Name("name", clip(name)))
	if name == "" {
		say = fact.Say("shop.record_without_mill")
	}
	return 0, &Error{Code: NotFound, Field: "mill", What: say, Advice: hint}
}
