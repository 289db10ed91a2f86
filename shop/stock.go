package shop

import "hopperful/fact"

// sharpest [kg] is the resolution of a kitchen scale, for a shop that has not
// described its own. Common practice, no source.
const sharpest = 1e-3

// slack is the share of a mass that may go astray between two weighings
// without anybody having misread: crumbs on the pan, a breath of air. Judgement.
const slack = 0.005

// Resolution is one digit [kg] of the finest scale in use that carries the
// mass; a kitchen scale's gram when the shop has none that does.
func (s *State) Resolution(mass float64) float64 {
	best := 0.0
	for _, x := range s.Scales {
		if x.Retired || x.Capacity != nil && *x.Capacity < mass {
			continue
		}
		if best == 0 || x.Resolution < best {
			best = x.Resolution
		}
	}
	if best == 0 {
		return sharpest
	}
	return best
}

// Enough asks about more out of a lot than the books have in it, so that a page can say so
// while the material is still on the scale.
func (s *State) Enough(id LotID, mass float64) []Ask { return s.moreThanLot(id, mass, "mass_kg") }

// weighed is how much two weighings of a mass may differ without anybody having
// misread [kg]: two digits each, and what goes astray.
func (s *State) weighed(mass float64) float64 { return 2*2*s.Resolution(mass) + slack*mass }

// take removes mass from a lot. What the lot did not have comes out of what
// waits to be weighed for it; the rest is a named gain.
func (s *State) take(r Record, id LotID, mass float64) {
	if short := mass - s.Lots.At(id).Mass; short > 0 {
		s.draw(r, id, short)
	}
	l := s.change(id)
	l.note(r.ID)
	l.Mass -= mass
	if l.Mass < 0 {
		s.lose(r, Difference, id, l.Mass)
		l.Mass = 0
	}
}

// put adds mass to a lot, making it when it is new.
func (s *State) put(r Record, id LotID, mass float64, like Lot) {
	if _, ok := s.Lot(id); !ok {
		like.ID, like.Class, like.Born = id, id.Class(), r.ID
		like.Mass, like.In, like.Records, like.Parents, like.Children = 0, 0, nil, nil, nil
		like.Taken, like.TakenBy = nil, 0 // of the material it came from; package plan goes there
		s.own[id] = true
		s.Lots.set(id, &like)
		s.Order = append(s.Order, id)
	}
	if mass > 0 {
		s.tint(id, like)
	}
	l := s.change(id)
	l.note(r.ID)
	l.Mass += mass
	l.In += mass
	l.mixWith(like)
}

// link writes down that mass went from one lot to another.
func (s *State) link(r Record, from, to LotID, mass float64) {
	parent, child := s.change(from), s.change(to)
	parent.Children = append(parent.Children, Edge{to, mass, r.ID})
	child.Parents = append(child.Parents, Edge{from, mass, r.ID})
}

// lose names mass that left other than into a lot.
func (s *State) lose(r Record, name string, id LotID, mass float64) {
	if mass != 0 {
		s.Losses.more = append(s.Losses.more, Loss{name, id, mass, r.ID})
	}
}

// note adds a record to those about the lot, once.
func (l *Lot) note(id RecordID) {
	if n := len(l.Records); n == 0 || l.Records[n-1] != id {
		l.Records = append(l.Records, id)
	}
}

// joins says whether material of that polymer out of those lots may go into
// the lot: a lot is one thing, and never its own ancestor.
func (s *State) joins(into LotID, class Class, polymer, field string, from ...LotID) *Error {
	if into.Class() != class {
		return invalid(field, fact.Say("shop.label_of_other_class", fact.Name("into", clip(string(into))), fact.Name("class", string(class))),
			fact.Say("shop.do_labels_of_class", fact.Name("letters", string(letters[class]))))
	}
	l, ok := s.Lot(into)
	if !ok {
		return nil
	}
	if polymer != "" && l.Polymer != "" && polymer != l.Polymer {
		return conflict(field, fact.Say("shop.lot_of_other_polymer", fact.Name("into", string(into)), fact.Name("polymer", l.Polymer), fact.Name("polymer2", polymer)),
			fact.Say("shop.do_one_thing_a_lot"))
	}
	for _, f := range from {
		if f == into {
			return conflict(field, fact.Say("shop.lot_out_of_itself", fact.Name("into", string(into))), fact.Say("shop.do_empty_for_new_lot"))
		}
		if s.descends(f, into) {
			return conflict(field, fact.Say("shop.lot_would_go_back", fact.Name("f", string(f)), fact.Name("into", string(into))),
				fact.Say("shop.do_empty_for_new_lot"))
		}
	}
	return nil
}
