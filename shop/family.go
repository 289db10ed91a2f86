package shop

// descends says whether the lot came, by any way, out of the other, or will
// once what waits to be weighed is.
func (s *State) descends(id, from LotID) bool {
	if l, ok := s.Lot(from); !ok || len(s.down(l)) == 0 {
		return false
	}
	return s.walk(id, s.up)[from]
}

// Ancestors are the lots a lot's material came through, in the order they came.
func (s *State) Ancestors(id LotID) []LotID { return s.inOrder(s.walk(id, s.up)) }

// Descendants are the lots a lot's material went to, in the order they came.
func (s *State) Descendants(id LotID) []LotID { return s.inOrder(s.walk(id, s.down)) }

// up lists the lots a lot came from.
func (s *State) up(l *Lot) []LotID {
	ids := make([]LotID, 0, len(l.Parents))
	for _, e := range l.Parents {
		ids = append(ids, e.Lot)
	}
	for _, p := range s.waitingFor(l.ID) {
		ids = append(ids, p.lot)
	}
	return ids
}

// down lists the lots a lot went to.
func (s *State) down(l *Lot) []LotID {
	ids := make([]LotID, 0, len(l.Children))
	for _, e := range l.Children {
		ids = append(ids, e.Lot)
	}
	for _, m := range s.Mills {
		for _, w := range m.waiting {
			for _, p := range w.mix {
				if p.lot == l.ID {
					ids = append(ids, w.into)
				}
			}
		}
	}
	return ids
}

// walk gathers every lot that can be reached, without the first.
func (s *State) walk(id LotID, next func(*Lot) []LotID) map[LotID]bool {
	seen, open := map[LotID]bool{}, []LotID{id}
	for len(open) > 0 {
		l := s.Lots.At(open[len(open)-1])
		open = open[:len(open)-1]
		if l == nil {
			continue
		}
		for _, to := range next(l) {
			if !seen[to] {
				seen[to] = true
				open = append(open, to)
			}
		}
	}
	return seen
}

// InOrder are lots in the order they came.
func (s *State) InOrder(ids []LotID) []LotID {
	set := map[LotID]bool{}
	for _, id := range ids {
		set[id] = true
	}
	return s.inOrder(set)
}

func (s *State) inOrder(set map[LotID]bool) []LotID {
	var ids []LotID
	for _, id := range s.Order {
		if set[id] {
			ids = append(ids, id)
		}
	}
	return ids
}

// Composition says of which lots taken in from outside a lot consists: shares
// by mass that add up to 1, in the order the lots came. A lot is taken to be
// well mixed over all that ever came into it; mass found at a recount is taken
// to be of the lot's own kind.
func (s *State) Composition(id LotID) []Edge {
	l, ok := s.Lot(id)
	if !ok || l.In == 0 {
		return nil
	}
	shares, part := map[LotID]float64{}, map[LotID]float64{id: 1}
	older := s.elders(l)
	for i := len(older) - 1; i >= 0; i-- { // the lot itself first, each before what it came from
		a := older[i]
		outside, whole := a.mixed()
		x := part[a.ID]
		if outside > 0 {
			shares[a.ID] = x * outside / whole
		}
		for _, e := range a.Parents {
			part[e.Lot] += x * e.Mass / whole
		}
	}
	var list []Edge
	for _, o := range s.Order {
		if x := shares[o]; x > 0 {
			list = append(list, Edge{Lot: o, Mass: x, Record: s.Lots.At(o).Born})
		}
	}
	return list
}

// mixed is the mass of a lot that came from outside, and all it was mixed of.
func (l *Lot) mixed() (outside, whole float64) {
	outside = l.In
	for _, e := range l.Parents {
		outside -= e.Mass
	}
	if outside < l.In*1e-9 { // all but rounding came from other lots
		outside = 0
	}
	whole = outside
	for _, e := range l.Parents {
		whole += e.Mass
	}
	if whole == 0 { // a scale's digit was taken out of an empty lot
		return 1, 1
	}
	return outside, whole
}

// elders are a lot and all it came from, each after those it came from itself.
func (s *State) elders(l *Lot) []*Lot {
	var list []*Lot
	seen := map[LotID]bool{l.ID: true}
	type step struct {
		lot  *Lot
		next int // which of its parents is looked at next
	}
	open := []step{{lot: l}}
	for len(open) > 0 {
		top := &open[len(open)-1]
		if top.next == len(top.lot.Parents) {
			list, open = append(list, top.lot), open[:len(open)-1]
			continue
		}
		p := top.lot.Parents[top.next].Lot
		top.next++
		if !seen[p] {
			seen[p] = true
			open = append(open, step{lot: s.Lots.At(p)})
		}
	}
	return list
}
