package shop

import "slices"

// Entry is a record that stands, with its body by its own type.
type Entry[B Body] struct {
	Record
	Body B
}

// entries are the records that stand whose body is a B that keep wants, the
// newest first. Only a finished state has them.
func entries[B Body](s *State, keep func(B) bool) []Entry[B] {
	var list []Entry[B]
	var kind B
	for _, r := range s.Records.LatestOf(kind) {
		if b, ok := r.Body.(B); ok && keep(b) {
			list = append(list, Entry[B]{r, b})
		}
	}
	return list
}

// ofLot are the records of a lot that stand whose body is a B that keep wants, the
// newest first. Whatever is about a lot is noted there, so that no other record is read.
func ofLot[B Body](s *State, id LotID, keep func(B) bool) []Entry[B] {
	var kind B
	var list []Entry[B]
	for _, r := range slices.Backward(s.RecordsOf([]LotID{id}, kind)) {
		if b := r.Body.(B); keep(b) {
			list = append(list, Entry[B]{r, b})
		}
	}
	return list
}

// RecordsOf are the records of these kinds that are about any of the lots, in their
// order.
func (s *State) RecordsOf(lots []LotID, kinds ...Body) []Record {
	set := setOf(kinds)
	var places []int
	for _, id := range lots {
		l, ok := s.Lot(id)
		if !ok {
			continue
		}
		for _, r := range l.Records {
			if i := s.Records.place(r); i >= 0 && s.Records.has(set, i) {
				places = append(places, i)
			}
		}
	}
	slices.Sort(places)
	var list []Record
	for _, i := range slices.Compact(places) {
		list = append(list, s.Records.At(i))
	}
	return list
}

// Versions are a record as it was first written and what corrected it, in their order.
func (s *State) Versions(id RecordID) []Record {
	list := slices.Collect(s.History.corrections(id))
	if r, ok := s.Written(id); ok {
		list = append(list, r)
	}
	slices.Reverse(list)
	return list
}

// newest is the first of a list of entries.
func newest[B Body](list []Entry[B]) (Entry[B], bool) {
	if len(list) == 0 {
		return Entry[B]{}, false
	}
	return list[0], true
}
