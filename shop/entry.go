package shop

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

// newest is the first of a list of entries.
func newest[B Body](list []Entry[B]) (Entry[B], bool) {
	if len(list) == 0 {
		return Entry[B]{}, false
	}
	return list[0], true
}
