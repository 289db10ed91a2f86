package shop

import (
	"fmt"

	"hopperful/polymer"
)

// Table returns the books' table of materials with the shop's own values on
// top.
func (s *State) Table() (*polymer.Table, error) {
	own := make([]polymer.Value, 0, len(s.Materials))
	for _, m := range s.Materials {
		v, err := polymer.Own(m.Polymer, polymer.Property(m.Property), m.Value, m.Low, m.High, polymer.Entered, m.Why)
		if err != nil {
			return nil, fmt.Errorf("the shop's own value for %s: %w", m.Polymer, err)
		}
		own = append(own, v)
	}
	return polymer.Books().With(own)
}

// spell gives the plastics that a record names the table's spelling: "pla" is PLA.
// A name that no table knows stays as it was typed.
func (s *State) spell(b Body) {
	var names []*string
	switch b := b.(type) {
	case *TakenIn:
		names = append(names, &b.Polymer)
	case *Blended:
		names = append(names, &b.Polymer)
	case *NeedSet:
		names = append(names, &b.Need.Polymer)
	case *Sorted:
		for i := range b.Into {
			names = append(names, &b.Into[i].Polymer)
		}
	}
	for _, name := range names {
		if *name == "" {
			continue
		}
		table, err := s.Table()
		if err != nil {
			return // the shop's own values are at fault, and every plan says so
		}
		if p, err := table.Find(*name); err == nil {
			*name = p.Name
		}
	}
}
