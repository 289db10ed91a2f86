package shop

import "hopperful/fact"

// Printed takes material out of a lot into a print: a lot of what it weighs
// without the purge, until it leaves the house or, failed, is sorted into scrap.
type Printed struct {
	From     LotID    `json:"from"`
	Into     LotID    `json:"into,omitempty"` // empty: a new print lot
	Need     string   `json:"need,omitempty"`
	Print    string   `json:"print"` // name of the part
	Mass     float64  `json:"mass_kg"`
	Purged   *float64 `json:"purged_kg,omitempty"` // of it: purge, skirts and spill
	Moisture *float64 `json:"moisture,omitempty"`  // water in the granulate as it went into the hopper, by mass
	Energy   *float64 `json:"energy_j,omitempty"`  // by the plug-in meter
	Good     YesNo    `json:"good,omitempty"`
	Why      string   `json:"why,omitempty" text:"2000"` // it failed because …
}

// Kind is "printed".
func (*Printed) Kind() string { return "printed" }

func (b *Printed) labels() []LotID { return []LotID{b.Into} }

func (b *Printed) relabelled(old Body, next func(Class) LotID) Body {
	c := *b
	if o, ok := old.(*Printed); ok && c.Into == "" {
		c.Into = o.Into
	}
	if c.Into == "" {
		c.Into = next(Print)
	}
	return &c
}

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
			return &Error{Code: NotFound, Field: "need", What: fact.Say("shop.no_need", fact.Name("need", clip(b.Need))), Advice: nearest(b.Need, known)}
		}
	}
	if value(b.Purged) > b.Mass {
		return invalid("purged_kg", fact.Say("shop.purge_over_mass", fact.Weighed("purged", *b.Purged), fact.Weighed("mass", b.Mass)),
			fact.Say("shop.do_mass_with_purge"))
	}
	if err := s.joins(b.Into, Print, from.Polymer, "into", b.From); err != nil {
		return err
	}
	if l, ok := s.Lot(b.Into); ok && !s.printedHere(l) {
		return conflict("into", fact.Say("shop.lot_from_outside", fact.Name("into", string(b.Into))), fact.Say("shop.do_empty_for_new_lot"))
	}
	return nil
}

func (b *Printed) apply(s *State, r Record) {
	from := *s.Lots.At(b.From)
	net := b.Mass - value(b.Purged)
	s.take(r, b.From, b.Mass)
	s.lose(r, Purged, b.From, value(b.Purged))
	s.put(r, b.Into, net, Lot{Name: b.Print, Polymer: from.Polymer, Sure: from.Sure, Colour: from.Colour, RGB: from.RGB, Halogen: from.Halogen})
	if net > 0 {
		s.link(r, b.From, b.Into, net)
	}
	if b.Good != No { // a failed print leaves its need open
		s.meet(b.Need, b.Print, r)
	}
}

// meet closes the need that a print was recorded for: by its name, or by the
// print's where a need of that name was saved before.
func (s *State) meet(need, print string, r Record) {
	for i := range s.Needs {
		n := &s.Needs[i]
		if n.Name == need || need == "" && n.Name == print && !s.needed[n.Name].After(r.At) {
			n.Done = true
		}
	}
}

// mostPrints is how many prints tell what is usual. Judgement: a hundredth adds next to
// nothing to what those before it say.
const mostPrints = 128

// Prints are the latest prints, the newest first.
func (s *State) Prints() []Entry[*Printed] {
	var list []Entry[*Printed]
	for _, r := range s.Records.LatestOf((*Printed)(nil)) {
		if len(list) == mostPrints {
			break
		}
		list = append(list, Entry[*Printed]{r, r.Body.(*Printed)})
	}
	return list
}

// PrintsFrom are the prints made from a lot, the newest first.
func (s *State) PrintsFrom(id LotID) []Entry[*Printed] {
	return ofLot(s, id, func(b *Printed) bool { return b.From == id })
}

// PrintsIn are the prints a print lot is made of, the newest first.
func (s *State) PrintsIn(id LotID) []Entry[*Printed] {
	return ofLot(s, id, func(b *Printed) bool { return b.Into == id })
}

// Outcome is how prints came out.
type Outcome struct {
	Good YesNo  // yes when all are, no when any is not
	Why  string // the newest one that failed did so because …
}

// OutcomeOf says how what a print lot holds came out.
func (s *State) OutcomeOf(id LotID) Outcome {
	var o Outcome
	for i, p := range s.PrintsIn(id) {
		switch {
		case p.Body.Good == No:
			if o.Good != No || o.Why == "" {
				o.Why = p.Body.Why
			}
			o.Good = No
		case i == 0:
			o.Good = p.Body.Good
		case o.Good != p.Body.Good && o.Good != No:
			o.Good = Unknown
		}
	}
	return o
}
