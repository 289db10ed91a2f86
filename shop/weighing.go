package shop

import (
	"fmt"
	"slices"
)

// Weighed is a recount: what the scale says a lot has now. For a lot whose
// product of a run was not weighed, it tells that product.
type Weighed struct {
	Lot  LotID   `json:"lot"`
	Mass float64 `json:"mass_kg"`
}

// Kind is "weighed".
func (*Weighed) Kind() string { return "weighed" }

func (b *Weighed) check(s *State, _ Record) error {
	l, err := s.lotNamed(b.Lot, "lot")
	if err != nil {
		return err
	}
	waits := s.waitingFor(b.Lot)
	if waits == nil {
		return nil
	}
	most := l.Mass + waits.mass()
	if b.Mass <= most+2*2*s.Resolution(most)+slack*most {
		return nil
	}
	return conflict("mass_kg", fmt.Sprintf("Lot %s weighs %s, but it had %s and only %s was ground into it.",
		b.Lot, grams(b.Mass), grams(l.Mass), grams(waits.mass())), "Check the tare, or whether other material was added.")
}

func (b *Weighed) apply(s *State, r Record) {
	if waits := s.waitingFor(b.Lot); waits != nil {
		product := max(0, b.Mass-s.Lots[b.Lot].Mass)
		s.put(r, b.Lot, product, *s.Lots[b.Lot])
		for _, p := range waits.scaled(product) {
			s.tint(b.Lot, *s.Lots[p.lot])
			s.link(r, p.lot, b.Lot, p.mass)
		}
		rest := waits.mass() - product
		s.lose(r, restName(rest), b.Lot, rest)
		for i := range s.Mills {
			s.Mills[i].forget(b.Lot)
			s.Mills[i].tally()
		}
	}
	s.recount(r, b.Lot, b.Mass)
}

// recount sets a lot to what was weighed and names the difference.
func (s *State) recount(r Record, id LotID, mass float64) {
	l := s.change(id)
	l.note(r.ID)
	s.lose(r, Recount, id, l.Mass-mass)
	l.Mass = mass
}

// waitingFor is all product of a lot that waits to be weighed, in any mill.
func (s *State) waitingFor(id LotID) mix {
	var all mix
	for i := range s.Mills {
		if w := s.Mills[i].waitingFor(id); w >= 0 {
			all = all.plus(s.Mills[i].waiting[w].mix)
		}
	}
	return all
}

// waitsIn finds the mill in which product of a lot waits to be weighed, -1 for none.
func (s *State) waitsIn(id LotID) int {
	return slices.IndexFunc(s.Mills, func(m MillState) bool { return m.waitingFor(id) >= 0 })
}

func (m *MillState) waitingFor(id LotID) int {
	return slices.IndexFunc(m.waiting, func(l lot) bool { return l.into == id })
}

// wait books unweighed product of a lot in the mill.
func (m *MillState) wait(id LotID, more mix) {
	if i := m.waitingFor(id); i >= 0 {
		m.waiting[i].mix = m.waiting[i].mix.plus(more)
		return
	}
	m.waiting = append(m.waiting, lot{id, more})
}

func (m *MillState) forget(id LotID) {
	m.waiting = slices.DeleteFunc(m.waiting, func(l lot) bool { return l.into == id })
}

// tally adds up what the mill holds.
func (m *MillState) tally() {
	m.Held = m.residue.mass()
	for _, l := range m.waiting {
		m.Held += l.mix.mass()
	}
}
