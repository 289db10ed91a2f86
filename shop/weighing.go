package shop

import (
	"cmp"
	"slices"

	"hopperful/quantity"
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
	_, err := s.lotNamed(b.Lot, "lot")
	return err
}

// asks about a product of runs that is heavier than what can have come out of
// the mills it waited in.
func (b *Weighed) asks(s *State, _ Record) []Ask {
	waits := s.waitingFor(b.Lot)
	if waits == nil {
		return nil
	}
	l := s.Lots.At(b.Lot)
	most, drift := l.Mass+waits.mass(), s.unsure(l)
	for i := range s.Mills {
		if s.Mills[i].waitingFor(b.Lot) >= 0 {
			most += s.Mills[i].hidden(b.Lot).mass()
			drift += s.Mills[i].drift
		}
	}
	if b.Mass <= most+s.tolerance(most, 2)+drift {
		return nil
	}
	return []Ask{{Code: MoreThanGround, Field: "mass_kg", Kind: quantity.Mass, Value: b.Mass, Bound: most, Lot: b.Lot, because: s.lotAsked(l)}}
}

func (b *Weighed) apply(s *State, r Record) {
	if waits := s.waitingFor(b.Lot); waits != nil {
		product := max(0, b.Mass-s.Lots.At(b.Lot).Mass)
		for i := range s.Mills {
			waits = waits.plus(s.Mills[i].yield(s, r, b.Lot, product-waits.mass()))
		}
		s.put(r, b.Lot, product, *s.Lots.At(b.Lot))
		for _, p := range waits.scaled(product) {
			s.tint(b.Lot, *s.Lots.At(p.lot))
			s.link(r, p.lot, b.Lot, p.mass)
		}
		rest := waits.mass() - product
		s.lose(r, restName(rest), b.Lot, rest)
		for i := range s.Mills {
			if s.Mills[i].waitingFor(b.Lot) >= 0 {
				s.Mills[i].lost = cmp.Or(s.lotAsked(s.Lots.At(b.Lot)), s.Mills[i].lost)
			}
			s.Mills[i].weighed(b.Lot, max(0, rest)/max(waits.mass(), trace))
		}
	}
	s.recount(r, b.Lot, b.Mass)
}

// draw puts product that waits to be weighed into its lot, as much as was taken
// out of it meanwhile: at least that came out of the mill.
func (s *State) draw(r Record, id LotID, short float64) {
	for i := range s.Mills {
		m := &s.Mills[i]
		w := m.waitingFor(id)
		if w < 0 || short <= 0 {
			continue
		}
		part := m.waiting[w].mix.scaled(min(short, m.waiting[w].mix.mass()))
		m.waiting[w].mix = m.waiting[w].mix.scaled(m.waiting[w].mix.mass() - part.mass())
		m.waiting[w].fresh = min(m.waiting[w].fresh, m.waiting[w].mix.mass())
		s.put(r, id, part.mass(), *s.Lots.At(id))
		for _, p := range part {
			s.tint(id, *s.Lots.At(p.lot))
			s.link(r, p.lot, id, p.mass)
		}
		short -= part.mass()
		m.tally()
	}
}

// hidden is what may lie in the mill beside what waits to be weighed of a lot.
func (m *MillState) hidden(id LotID) mix {
	all := m.residue.plus(m.maybe)
	for _, w := range m.waiting {
		if w.into == id {
			all = all.plus(w.maybe)
		} else if w.fresh > 0 {
			all = all.plus(w.mix.scaled(min(w.fresh, w.mix.mass())))
		}
	}
	return all
}

// yield takes what a weighed product is short of from what may have lain in the
// mill that it came out of, and returns it.
func (m *MillState) yield(s *State, r Record, id LotID, short float64) mix {
	if short <= 0 || m.waitingFor(id) < 0 {
		return nil
	}
	found := m.waiting[m.waitingFor(id)].maybe
	found = found.plus(m.maybe)
	found = found.scaled(min(short, found.mass()))
	for _, p := range found {
		s.lose(r, LostGrinding, p.lot, -p.mass)
	}
	w := &m.waiting[m.waitingFor(id)]
	own := min(found.mass(), w.maybe.mass())
	w.maybe = w.maybe.scaled(w.maybe.mass() - own)
	m.maybe = m.maybe.scaled(m.maybe.mass() - (found.mass() - own))
	short -= found.mass()
	kept := m.residue.scaled(min(short, m.residue.mass()))
	m.residue = m.residue.scaled(m.residue.mass() - kept.mass())
	out := found.plus(kept)
	short -= kept.mass()
	for i := range m.waiting {
		w := &m.waiting[i]
		if w.into == id || w.fresh <= 0 || short <= 0 {
			continue
		}
		part := w.mix.scaled(min(short, w.fresh, w.mix.mass()))
		w.give(part.mass())
		out, short = out.plus(part), short-part.mass()
	}
	return out
}

// weighed ends the waiting of a lot: of what waited, a share did not come out,
// and as much of it as nobody weighed since may still lie in the mill.
func (m *MillState) weighed(id LotID, share float64) {
	if i := m.waitingFor(id); i >= 0 {
		w := m.waiting[i]
		m.forget(id)
		left := share*w.mix.mass() + w.maybe.mass()
		m.mayHold(w.mix.plus(w.maybe).scaled(min(left, w.fresh)))
	}
	m.tally()
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

func (m *MillState) waitingFor(id LotID) int {
	return slices.IndexFunc(m.waiting, func(l lot) bool { return l.into == id })
}

// wait books unweighed product of a lot in the mill; some of it may have stayed
// there.
func (m *MillState) wait(id LotID, more mix, stays bool) {
	i := m.waitingFor(id)
	if i < 0 {
		i, m.waiting = len(m.waiting), append(m.waiting, lot{into: id})
	}
	w := &m.waiting[i]
	w.mix = w.mix.plus(more)
	if stays {
		w.fresh += more.mass()
	}
}

// give takes mass off what waits, that of the mill first.
func (l *lot) give(mass float64) {
	l.mix = l.mix.scaled(l.mix.mass() - mass)
	l.fresh = max(0, l.fresh-mass)
}

func (m *MillState) forget(id LotID) {
	m.waiting = slices.DeleteFunc(m.waiting, func(l lot) bool { return l.into == id })
}

// tally adds up what the mill holds, and what it may hold at most.
func (m *MillState) tally() {
	m.Held = m.residue.mass()
	for _, l := range m.waiting {
		m.Held += l.mix.mass()
	}
	m.HeldMost = m.Held + m.maybe.mass()
}
