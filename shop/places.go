package shop

import "hash/maphash"

// places finds the place of each label in a list. A map would do the same, but takes longer to
// make than all else that is read of a kept state.
type places struct {
	ids   []LotID
	slots []uint32 // place and one, 0 for none; twice as many as ids or more, a power of two
	seed  maphash.Seed
}

// placesOf are the places of labels, none of which is there twice.
func placesOf(ids []LotID) *places {
	n := 1
	for n < 2*len(ids) {
		n *= 2
	}
	p := &places{ids, make([]uint32, n), maphash.MakeSeed()}
	for i, id := range ids {
		p.slots[p.slot(id)] = uint32(i) + 1
	}
	return p
}

// slot is where a label is, or the empty slot where it would be.
func (p *places) slot(id LotID) uint64 {
	last := uint64(len(p.slots) - 1)
	at := maphash.String(p.seed, string(id)) & last
	for ; p.slots[at] != 0 && p.ids[p.slots[at]-1] != id; at = (at + 1) & last {
	}
	return at
}

// of is the place of a label, false when it is not in the list.
func (p *places) of(id LotID) (uint32, bool) {
	n := p.slots[p.slot(id)]
	return n - 1, n != 0
}
