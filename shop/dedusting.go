package shop

// Dedusted takes the dust off a lot.
type Dedusted struct {
	Lot     LotID    `json:"lot"`
	Dust    float64  `json:"dust_kg"`             // taken off
	Opening *float64 `json:"opening_m,omitempty"` // of the sieve it fell through; nil: by air, or not known
}

// Kind is "dedusted".
func (*Dedusted) Kind() string { return "dedusted" }

func (b *Dedusted) check(s *State, _ Record) error {
	_, err := s.lotNamed(b.Lot, "lot")
	return err
}

// Dusting is dust taken off a lot, and what it weighed before.
type Dusting struct {
	Entry[*Dedusted]
	Before float64 // kg
}

func (b *Dedusted) apply(s *State, r Record) {
	l := s.change(b.Lot)
	l.Dustings = append(l.Dustings, Dusting{Entry[*Dedusted]{r, b}, l.Mass})
	s.take(r, b.Lot, b.Dust)
	s.lose(r, DustTaken, b.Lot, b.Dust)
}
