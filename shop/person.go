package shop

import "hopperful/fact"

// PersonSet adds or retires a person; a later one of the same name replaces it.
type PersonSet struct {
	Name    string `json:"name"`
	Retired bool   `json:"retired,omitempty"`
}

// Kind is "person_set".
func (*PersonSet) Kind() string { return "person_set" }

func (b *PersonSet) check(*State, Record) error {
	return named(b.Name, "name", fact.Say("shop.person_no_name"))
}

func (b *PersonSet) apply(s *State, _ Record) {
	s.People = inPlace(s.People, *b, func(p PersonSet) string { return p.Name })
}
