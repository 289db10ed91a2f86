package shop

import "strings"

// handed begins the note of a value that was handed on from another shop, so that a
// later one from there may take its place, and an own one never is.
const handed = "← "

// HandOn are the records by which a shop takes over another's own values of materials:
// those it has none of its own for, or has an older one of that was handed on before.
// What a shop measured itself stands. from is how the other shop is called.
func (s *State) HandOn(other *State, from string) []Record {
	var list []Record
	for _, m := range other.Materials {
		if own, ok := s.ownMaterial(m); !ok || own != m && s.wasHandedOn(own) {
			list = append(list, Record{Note: handed + from, Body: &m})
		}
	}
	return list
}

// ownMaterial is the shop's own value of the same property of the same polymer.
func (s *State) ownMaterial(like MaterialSet) (MaterialSet, bool) {
	for _, m := range s.Materials {
		if m.Polymer == like.Polymer && m.Property == like.Property {
			return m, true
		}
	}
	return MaterialSet{}, false
}

// wasHandedOn says whether the newest record of a value came from another shop.
func (s *State) wasHandedOn(m MaterialSet) bool {
	for _, r := range s.Records.LatestOf(&MaterialSet{}) {
		if b, ok := r.Body.(*MaterialSet); ok && *b == m {
			return strings.HasPrefix(r.Note, handed)
		}
	}
	return false
}
