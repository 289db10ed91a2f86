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
		old := s.labelOldPrint(r, used)
		s.relabelled = s.relabelled || old.Body != r.Body
		r, err := s.complete(old, noMoment)
		if err != nil {
			return nil, &recordError{r, err}
		}
		s.History = s.History.plus(r)
	}
	return s.refold(nobody)
}

// noMoment is the moment of a record that brings its own.
var noMoment time.Time

// recordError says which record a refusal is about.
type recordError struct {
	r   Record
	err error
}

func (e *recordError) Error() string { return e.r.title() + ": " + e.err.Error() }
func (e *recordError) Unwrap() error { return e.err }

// title names a record in a log: "14 ground 2026-05-03 14:05".
func (r Record) title() string {
	kind := "nothing"
	if r.Body != nil {
		kind = r.Body.Kind()
	}
	return fmt.Sprintf("%d %s %s", r.ID, kind, r.At.Format("2006-01-02 15:04"))
}

// nobody agrees to leave a record out.
func nobody(Record, error) bool { return false }

// refold derives the state of a history whose records are complete, without those
// that cannot be and that pass agrees to leave out. It continues from the kept state
// where no record since reaches back before it.
func (s *State) refold(pass func(Record, error) bool) (*State, error) {
	if b := s.base; b != nil {
		if tail := s.History.After(b.History.Len()); b.before(tail) {
			return b.foldOn(s.History, tail, s.given, pass)
		}
	}
	next := empty()
	next.given, next.History, next.relabelled = s.given, s.History.clipped(), s.relabelled
	stands := standing(s.History.List())
	next.confirmed = confirmations(stands)
	if err := next.steps(stands, firstDescriptions(stands), pass); err != nil {
		return nil, err
	}
	return next, nil
}

// steps folds records in that stand, in their order; those that first describe a
// thing before all others.
func (s *State) steps(stands []Record, first map[RecordID]bool, pass func(Record, error) bool) error {
	out := map[RecordID]bool{}
	for _, early := range []bool{true, false} {
		for _, r := range stands {
			if first[r.ID] != early {
				continue
			}
			months, moved := s.months, s.moved
			s.turn(r)
			err := s.step(r)
			if err != nil && !pass(r, err) {
				return &recordError{r, err}
			}
			if err != nil {
				s.months, s.moved = months, moved
				out[r.ID] = true
			}
		}
	}
	left := func(r Record) bool { return out[r.ID] }
	stands = slices.DeleteFunc(stands, left)
	if len(out) > 0 {
		from := 0
		if s.base != nil {
			from = s.base.History.Len()
		}
		s.History = s.History.First(from).clipped().plus(slices.DeleteFunc(slices.Clone(s.History.After(from)), left)...)
	}
	s.Records = s.Records.clipped().plus(stands...)
	if n := len(stands); n > 0 {
		s.Last = stands[n-1].At
	}
	return nil
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
