package shop

// descends says whether the lot came, by any way, out of the other.
func (s *State) descends(id, from LotID) bool {
	if l, ok := s.Lots[from]; !ok || len(l.Children) == 0 {
		return false
	}
	return s.walk(id, (*Lot).up)[from]
}

// Ancestors are the lots a lot's material came through, in the order they came.
func (s *State) Ancestors(id LotID) []LotID { return s.inOrder(s.walk(id, (*Lot).up)) }

// Descendants are the lots a lot's material went to, in the order they came.
func (s *State) Descendants(id LotID) []LotID { return s.inOrder(s.walk(id, (*Lot).down)) }

func (l *Lot) up() []Edge   { return l.Parents }
func (l *Lot) down() []Edge { return l.Children }

// walk gathers every lot that can be reached, without the first.
func (s *State) walk(id LotID, next func(*Lot) []Edge) map[LotID]bool {
	seen, open := map[LotID]bool{}, []LotID{id}
	for len(open) > 0 {
		l := s.Lots[open[len(open)-1]]
		open = open[:len(open)-1]
		if l == nil {
			continue
		}
		for _, e := range next(l) {
			if !seen[e.Lot] {
				seen[e.Lot] = true
				open = append(open, e.Lot)
			}
		}
	}
	return seen
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
	l, ok := s.Lots[id]
	if !ok {
		return nil
	}
	shares := s.shares(l, map[LotID]map[LotID]float64{})
	var list []Edge
	for _, o := range s.Order {
		if x := shares[o]; x > 0 {
			list = append(list, Edge{Lot: o, Mass: x, Record: s.Lots[o].Born})
		}
	}
	return list
}

// shares is Composition as a map; known remembers lots already reckoned.
func (s *State) shares(l *Lot, known map[LotID]map[LotID]float64) map[LotID]float64 {
	if done, ok := known[l.ID]; ok {
		return done
	}
	shares := map[LotID]float64{}
	outside := l.In
	for _, e := range l.Parents {
		outside -= e.Mass
	}
	if outside < l.In*1e-9 { // all but rounding came from other lots
		outside = 0
	}
	whole := outside
	for _, e := range l.Parents {
		whole += e.Mass
	}
	if len(l.Parents) == 0 {
		outside, whole = 1, 1
	}
	if outside > 0 {
		shares[l.ID] = outside / whole
	}
	for _, e := range l.Parents {
		for o, x := range s.shares(s.Lots[e.Lot], known) {
			shares[o] += x * e.Mass / whole
		}
	}
	known[l.ID] = shares
	return shares
}
