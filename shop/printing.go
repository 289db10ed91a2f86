package shop

// Printed takes material out of a lot into a print.
type Printed struct {
	From   LotID    `json:"from"`
	Need   string   `json:"need,omitempty"`
	Print  string   `json:"print"` // name of the part
	Mass   float64  `json:"mass_kg"`
	Purged *float64 `json:"purged_kg,omitempty"` // of it: purge, skirts and spill
	Good   YesNo    `json:"good,omitempty"`
	Why    string   `json:"why,omitempty" text:"2000"` // it failed because …
}

// Kind is "printed".
func (*Printed) Kind() string { return "printed" }

func (b *Printed) check(s *State, _ Record) error {
	from, err := s.lotNamed(b.From, "from")
	if err != nil {
		return err
	}
	if b.Need != "" {
		if _, ok := s.Need(b.Need); !ok {
			known := make([]string, len(s.Needs))
			for i, n := range s.Needs {
				known[i] = n.Name
			}
			return &Error{Code: NotFound, Field: "need", Say: "There is no need " + clip(b.Need) + ".", Hint: nearest(b.Need, known)}
		}
	}
	if value(b.Purged) > b.Mass {
		return invalid("purged_kg", "The purge "+grams(*b.Purged)+" is more than the "+grams(b.Mass)+" taken for the print.",
			"The mass includes the purge.")
	}
	return s.enough(from, b.Mass, "mass_kg", "The mass printed")
}

func (b *Printed) apply(s *State, r Record) {
	s.take(r, b.From, b.Mass)
	s.lose(r, Purged, b.From, value(b.Purged))
	s.printed += b.Mass - value(b.Purged)
}
