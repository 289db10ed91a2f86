package shop

import (
	"cmp"
	"errors"
	"hopperful/fact"
	"reflect"
	"time"
)

// With returns the state with one more record, or why it cannot be so. The
// record is kept as a copy, with its number and the labels of the lots it
// makes; [State.Newest] returns it.
func (s *State) With(r Record) (*State, error) { return s.with(time.Time{}, r) }

// Check says why the record cannot be written at the moment now, or nil.
func (s *State) Check(r Record, now time.Time) error {
	_, err := s.Admit(now, r)
	return err
}

// Admit returns the state with records written at the moment now, all or none:
// a record without a time happened now, one from the future is refused.
func (s *State) Admit(now time.Time, rs ...Record) (*State, error) {
	for _, r := range rs {
		if err := notFuture(r.At, now); err != nil {
			return nil, err
		}
	}
	return s.with(now, rs...)
}

// Newest is the record written last; the zero Record when there is none.
func (s *State) Newest() Record {
	if s.History.Len() == 0 {
		return Record{}
	}
	return s.History.At(s.History.Len() - 1)
}

func (s *State) with(now time.Time, rs ...Record) (out *State, err error) {
	next, first := s.goOn()
	defer func() {
		if first && err != nil { // next is thrown away
			s.goneOn.Store(false)
		}
	}()
	again := false
	for _, r := range rs {
		if want := next.History.newest() + 1; r.ID > want {
			return nil, conflict("id", fact.Say("shop.record_out_of_turn", fact.Count("id", int(r.ID)), fact.Count("want", int(want-1))), fact.Say("shop.do_leave_number"))
		}
		r, err := next.complete(r, now)
		if err != nil {
			return nil, err
		}
		if r.Body, err = copied(r.Body); err != nil {
			return nil, err
		}
		if err := unseen(r); err != nil {
			return nil, err
		}
		next.spell(r.Body)
		if b, ok := r.Body.(keyed); ok && r.Corrects == 0 {
			if was, sent := next.Keyed(b.key()); sent {
				return nil, repeated(was.ID)
			}
		}
		answer, answers := r.Body.(*Confirmed)
		if answers && len(answer.Codes) == 0 {
			if r.Body, err = next.answering(answer); err != nil {
				return nil, err
			}
		}
		next.History = next.History.plus(r)
		if again = again || answers || r.Corrects != 0 || r.At.Before(next.Last); again {
			continue
		}
		next.turn(r)
		if err := next.step(r); err != nil {
			return nil, err
		}
		next.Records, next.Last = next.Records.plus(r), r.At
	}
	if !again {
		return next, nil
	}
	out, err = next.refold(nobody)
	return out, s.blame(err)
}

// blame turns the refusal of an earlier record into one of the new records
// that brought it about.
func (s *State) blame(err error) error {
	var re *recordError
	if !errors.As(err, &re) {
		return err
	}
	mine := s.History.newest()
	if re.r.ID > mine || re.r.CorrectedBy > mine {
		return re.err
	}
	return conflict("", fact.Say("shop.contradicts", fact.Count("n", int(re.r.ID)), fact.Word("kind", "kind."+re.r.Body.Kind()), fact.Name("at", minute(re.r.At)), fact.Parts("why", whatOf(re.err))),
		fact.Say("shop.do_correct_that_first"))
}

// complete gives a record its number, its moment and its lots their labels,
// and checks what it corrects.
func (s *State) complete(r Record, now time.Time) (Record, error) {
	next := s.History.newest() + 1
	if r.ID == 0 {
		r.ID = next
	}
	if r.ID < next {
		return r, conflict("id", fact.Say("shop.record_number_taken", fact.Count("id", int(r.ID))), fact.Say("shop.do_leave_number"))
	}
	if r.Body == nil || reflect.ValueOf(r.Body).IsNil() {
		return r, invalid("", fact.Say("shop.record_empty"), fact.Saying{})
	}
	old, err := s.corrected(r)
	if err != nil {
		return r, err
	}
	r.Corrects, r.CorrectedBy = old.ID, 0
	if _, void := r.Body.(*Void); void {
		if r.Corrects == 0 {
			return r, r.Body.check(s, r)
		}
		r.At = old.At
	}
	if r.At.IsZero() {
		r.At = cmp.Or(old.At, now)
	}
	if r.NotedAt.IsZero() {
		r.NotedAt = now
	}
	if l, ok := r.Body.(labelling); ok {
		if r.Body, err = l.relabelled(old.Body, s.given.next), labelsFit(l); err != nil {
			return r, err
		}
		s.given.see(r.Body)
	}
	return r, soundRecord(r)
}

// OtherKind refuses the correction of a record by one of another kind.
func OtherKind(old *Record, kind string) *Error {
	return invalid("kind", fact.Say("shop.record_of_other_kind", fact.Count("id", int(old.ID)), fact.Word("kind", "kind."+old.Body.Kind()), fact.Word("kind2", "kind."+kind)), fact.Say("shop.do_strike_and_rewrite"))
}

// corrected returns what a record corrects: the first record of the chain with
// the moment and the body it has by its latest correction; the zero Record
// when it corrects none.
func (s *State) corrected(r Record) (Record, error) {
	if r.Corrects == 0 {
		return Record{}, nil
	}
	root := s.written(r.Corrects)
	if root >= 0 && s.History.At(root).Corrects != 0 {
		root = s.written(s.History.At(root).Corrects)
	}
	if root < 0 {
		return r, &Error{Code: NotFound, Field: "corrects", What: fact.Say("shop.no_record_to_correct", fact.Count("corrects", int(r.Corrects)))}
	}
	old := s.History.At(root)
	if _, void := r.Body.(*Void); !void && r.Body.Kind() != old.Body.Kind() {
		return r, OtherKind(&old, r.Body.Kind())
	}
	for x := range s.History.corrections(old.ID) {
		if x.Body.Kind() == old.Body.Kind() {
			old.At, old.Body = x.At, x.Body
			break
		}
	}
	return old, nil
}

// written finds a record in the history, -1 when it is not there.
func (s *State) written(id RecordID) int { return s.History.place(id) }
