package shop

import (
	"bytes"
	"time"
)

// Try says of each record what [State.Admit] would make of it together with the
// others: nil where it can be so, else why not. The state holds those that can.
// An error says that what stands already cannot stand beside them.
func (s *State) Try(now time.Time, rs ...Record) (*State, []Record, []error, error) {
	next := s.clone()
	tried, refused := make([]Record, len(rs)), make([]error, len(rs))
	at := map[RecordID]int{}
	for i, r := range rs {
		tried[i] = r
		if refused[i] = notFuture(r.At, now); refused[i] != nil {
			continue
		}
		r, err := next.complete(r, now)
		if err == nil {
			r.Body, err = copied(r.Body)
		}
		if refused[i] = err; err != nil {
			continue
		}
		next.spell(r.Body)
		tried[i], at[r.ID] = r, i
		next.History = next.History.plus(r)
	}
	out, err := next.refold(func(r Record, err error) bool {
		i, mine := at[r.ID]
		if mine {
			refused[i] = err
		}
		return mine
	})
	return out, tried, refused, s.blame(err)
}

// Same are the records that were written down before and say what r says of the
// same moment, in the order of their numbers, whatever became of them since. A
// label that r leaves open may be any.
func (s *State) Same(r Record) []RecordID {
	body, err := copied(r.Body)
	if err != nil {
		return nil // what cannot be kept was not
	}
	s.spell(body)
	var same []RecordID
	for _, h := range s.History.Of(body) {
		if h.Corrects != 0 || !h.At.Equal(r.At) || h.Body.Kind() != body.Kind() {
			continue
		}
		filled := body
		if l, ok := body.(labelling); ok {
			filled = l.relabelled(h.Body, func(Class) LotID { return "" })
		}
		mine, err := Encode(filled)
		theirs, err2 := Encode(h.Body)
		if err == nil && err2 == nil && bytes.Equal(mine, theirs) {
			same = append(same, h.ID)
		}
	}
	return same
}

// Labels gives labels to lots of records that are not written yet, as the shop
// will.
type Labels struct{ given counters }

// Labels begins after the labels given so far.
func (s *State) Labels() *Labels { return &Labels{s.clone().given} }

// Fill returns the body with a label for each lot it makes.
func (l *Labels) Fill(b Body) Body {
	if m, ok := b.(labelling); ok {
		b = m.relabelled(nil, l.given.next)
	}
	l.given.see(b)
	return b
}

// Written is the record of that number as it was written down, whatever became of
// it since.
func (s *State) Written(id RecordID) (Record, bool) {
	i := s.written(id)
	if i < 0 {
		return Record{}, false
	}
	return s.History.At(i), true
}

// Holds reports whether a correction is the one that holds.
func (s *State) Holds(r Record) bool {
	now, ok := s.Record(r.Corrects)
	return ok && now.CorrectedBy == r.ID
}
