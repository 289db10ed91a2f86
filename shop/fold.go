package shop

import (
	"cmp"
	"fmt"
	"slices"
	"time"
)

// Fold derives the state from all records of a shop.
//
// Records count in the order in which things happened ([Record.At]), those of
// the same moment in the order they were written. A correction takes the place
// of the record it names; the latest correction holds, and a [Void] takes the
// record out. The first description of a mill or a need holds from the
// beginning. Folding what a State's History holds gives that State again.
func Fold(records []Record) (*State, error) {
	s := empty()
	ordered := slices.Clone(records)
	slices.SortStableFunc(ordered, func(a, b Record) int { return cmp.Compare(a.ID, b.ID) })
	used := otherPrintLabels(ordered)
	for _, r := range ordered {
		r, err := s.complete(s.labelOldPrint(r, used), time.Time{})
		if err != nil {
			return nil, &recordError{r, err}
		}
		s.History = append(s.History, r)
	}
	return refold(s.History, s.given)
}

// recordError says which record a refusal is about.
type recordError struct {
	r   Record
	err error
}

func (e *recordError) Error() string { return e.r.title() + ": " + e.err.Error() }
func (e *recordError) Unwrap() error { return e.err }

// title names a record for a person: "record 14 (ground, 2026-05-03 14:05)".
func (r Record) title() string {
	kind := "nothing"
	if r.Body != nil {
		kind = r.Body.Kind()
	}
	return fmt.Sprintf("record %d (%s, %s)", r.ID, kind, r.At.Format("2006-01-02 15:04"))
}

// refold derives the state from complete records.
func refold(history []Record, given counters) (*State, error) {
	return refoldBut(history, given, func(Record, error) bool { return false })
}

// refoldBut does so without the records that cannot be and that pass agrees to
// leave out.
func refoldBut(history []Record, given counters, pass func(Record, error) bool) (*State, error) {
	s, out := empty(), map[RecordID]bool{}
	s.given, s.History = given, history
	stands := standing(history)
	s.confirmed = confirmations(stands)
	first := firstDescriptions(stands)
	for _, early := range []bool{true, false} {
		for _, r := range stands {
			if first[r.ID] != early {
				continue
			}
			err := s.step(r)
			if err != nil && !pass(r, err) {
				return nil, &recordError{r, err}
			}
			out[r.ID] = err != nil
		}
	}
	left := func(r Record) bool { return out[r.ID] }
	s.Records = slices.DeleteFunc(stands, left)
	if slices.ContainsFunc(history, left) {
		s.History = slices.DeleteFunc(slices.Clone(history), left)
	}
	if n := len(s.Records); n > 0 {
		s.Last = s.Records[n-1].At
	}
	return s, nil
}

// standing puts corrections in place, leaves out what was struck out, and
// orders by time.
func standing(history []Record) []Record {
	at := make(map[RecordID]int, len(history)) // any record of a chain → index in list of its first
	list := make([]Record, 0, len(history))
	for _, r := range history {
		if r.Corrects == 0 {
			at[r.ID] = len(list)
			list = append(list, r)
			continue
		}
		i := at[r.Corrects]
		at[r.ID] = i
		was := list[i]
		list[i], list[i].ID, list[i].Corrects, list[i].CorrectedBy = r, was.ID, 0, r.ID
	}
	list = slices.DeleteFunc(list, func(r Record) bool { _, void := r.Body.(*Void); return void })
	slices.SortStableFunc(list, func(a, b Record) int {
		return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.ID, b.ID))
	})
	return list
}

// firstDescriptions finds the record that first describes each named thing.
func firstDescriptions(stands []Record) map[RecordID]bool {
	seen, first := map[[2]string]bool{}, map[RecordID]bool{}
	for _, r := range stands {
		d, ok := r.Body.(describing)
		if !ok {
			continue
		}
		kind, name := d.names()
		if key := [2]string{kind, name}; !seen[key] {
			seen[key], first[r.ID] = true, true
		}
	}
	return first
}

// step checks a record against the state so far and folds it in.
func (s *State) step(r Record) error {
	if err := sound(r.Body); err != nil {
		return err
	}
	if err := r.Body.check(s, r); err != nil {
		return err
	}
	if b, ok := r.Body.(asking); ok {
		s.raise(r, b.asks(s, r))
	}
	r.Body.apply(s, r)
	return nil
}
