package shop

import (
	"cmp"
	"maps"
	"slices"
	"sync"
)

// Lots are the lots of a shop by their labels. Those of a kept state are unpacked when
// somebody looks at them.
type Lots struct {
	old  *cellar
	base map[LotID]*Lot // made or changed since; shared by states, and never changed itself
	new  map[LotID]*Lot // made or changed after those
	n    int            // of all together
}

// cellar are the lots of a kept state, packed.
type cellar struct {
	ids    []LotID
	at     *places
	begins []uint32 // of each lot in packed, and the end
	packed stretch
	onHand []onHand // those with mass

	lock sync.Mutex
	seen map[uint32]*Lot // unpacked lately
	size int             // of them, in bytes packed
}

// onHand is a lot of a kept state that has mass.
type onHand struct {
	place uint32
	mass  float64 // kg
}

// mostSeen bounds what is kept unpacked [bytes of packed lots].
const mostSeen = 2 << 20

// Shelved are these lots.
func Shelved(list ...*Lot) Lots {
	l := Lots{new: make(map[LotID]*Lot, len(list)), n: len(list)}
	for _, x := range list {
		l.new[x.ID] = x
	}
	return l
}

// Len is how many lots there are.
func (l Lots) Len() int { return l.n }

// At is the lot of that label, nil when there is none. It may not be changed.
func (l Lots) At(id LotID) *Lot {
	if x, ok := l.changed(id); ok || l.old == nil {
		return x
	}
	i, ok := l.old.at.of(id)
	if !ok {
		return nil
	}
	return l.old.lot(i)
}

// set puts a lot in.
func (l *Lots) set(id LotID, x *Lot) {
	if l.At(id) == nil {
		l.n++
	}
	l.new[id] = x
}

// changed is a lot that was made or changed since the kept state.
func (l Lots) changed(id LotID) (*Lot, bool) {
	x, ok := l.new[id]
	if !ok {
		x, ok = l.base[id]
	}
	return x, ok
}

// clone can be changed without l noticing. Each write makes one, so that what is copied is kept as
// short as the root of what there is: the rest is shared, and made anew as seldom.
func (l Lots) clone() Lots {
	if n := len(l.new); n < fewNew || n*n < len(l.base) {
		l.new = maps.Clone(l.new)
		return l
	}
	base := make(map[LotID]*Lot, len(l.base)+len(l.new))
	maps.Copy(base, l.base)
	maps.Copy(base, l.new)
	l.base, l.new = base, map[LotID]*Lot{}
	return l
}

// fewNew lots are copied without a thought. Judgement.
const fewNew = 16

func (c *cellar) lot(i uint32) *Lot {
	c.lock.Lock()
	defer c.lock.Unlock()
	if x, ok := c.seen[i]; ok {
		return x
	}
	from, to := c.begins[i], c.begins[i+1]
	u := &unpacker{b: c.packed.part(int(from), int(to)), lots: c.ids}
	x := u.lot()
	if c.size > mostSeen || c.seen == nil {
		c.seen, c.size = map[uint32]*Lot{}, 0
	}
	c.seen[i], c.size = x, c.size+int(to-from)
	return x
}

// there is a lot with mass on hand; one that lies packed is not unpacked yet.
type there struct {
	lot  *Lot // nil: packed, at
	at   uint32
	mass float64 // kg
}

// there are the lots with mass on hand whose labels are wanted, in the order they came.
func (s *State) there(want func(LotID) bool) []there {
	var list []there
	from := 0
	if c := s.Lots.old; c != nil {
		from = len(c.ids)
		changed := map[uint32]bool{}
		for _, layer := range []map[LotID]*Lot{s.Lots.new, s.Lots.base} {
			for id, l := range layer {
				i, ok := c.at.of(id)
				if !ok || changed[i] {
					continue
				}
				changed[i] = true
				if l.Mass > 0 && want(id) {
					list = append(list, there{l, i, l.Mass})
				}
			}
		}
		for _, k := range c.onHand {
			if !changed[k.place] && want(c.ids[k.place]) {
				list = append(list, there{nil, k.place, k.mass})
			}
		}
		slices.SortFunc(list, func(a, b there) int { return cmp.Compare(a.at, b.at) })
	}
	for _, id := range s.Order[from:] {
		if l := s.Lots.At(id); l.Mass > 0 && want(id) {
			list = append(list, there{lot: l, mass: l.Mass})
		}
	}
	return list
}

// stocked are the same lots unpacked. Only those are: a shop keeps the prints of all its years.
func (s *State) stocked(want func(LotID) bool) []*Lot { return s.unpacked(s.there(want)) }

func (s *State) unpacked(some []there) []*Lot {
	var list []*Lot
	for _, x := range some {
		if x.lot == nil {
			x.lot = s.Lots.old.lot(x.at)
		}
		list = append(list, x.lot)
	}
	return list
}

// massOf is the mass of some lots together [kg], added in their order, so that the last digit is
// always alike too.
func massOf(some []there) float64 {
	sum := 0.0
	for _, x := range some {
		sum += x.mass
	}
	return sum
}
