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
