package shop

import "hopperful/fact"

// Confirmed is the answer to a question about a record ([Ask]): it is so. It
// holds for the record as it stood then; a correction is asked about anew.
type Confirmed struct {
	Record RecordID  `json:"record"`
	Codes  []AskCode `json:"codes,omitempty"` // what was asked; empty: all that is open when it is written
}

// Kind is "confirmed".
func (*Confirmed) Kind() string { return "confirmed" }

// check takes anything: what was asked may no longer be, once an earlier record was
// corrected. That something is asked is seen to when it is written, see [State.answering].
func (b *Confirmed) check(*State, Record) error { return nil }

func (*Confirmed) apply(*State, Record) {}

// answering completes an answer that is about to be written: it names the
// record as first written, and what is asked of it.
func (s *State) answering(b *Confirmed) (*Confirmed, error) {
	c := *b
	i := s.written(c.Record)
	if i < 0 {
		return nil, &Error{Code: NotFound, Field: "record", What: fact.Say("shop.no_record", fact.Count("record", int(b.Record)))}
	}
	if root := s.History.At(i).Corrects; root != 0 {
		c.Record = root
	}
	if len(c.Codes) > 0 {
		return &c, nil
	}
	for _, a := range s.AsksOf(c.Record) {
		c.Codes = append(c.Codes, a.Code)
	}
	if len(c.Codes) == 0 {
		return nil, conflict("record", fact.Say("shop.record_not_asked", fact.Count("record", int(c.Record))), fact.Saying{})
	}
	return &c, nil
}

// confirmations gathers the answers that stand, by the record they are about.
func confirmations(stands []Record) map[RecordID][]Entry[*Confirmed] {
	all := map[RecordID][]Entry[*Confirmed]{}
	for _, r := range stands {
		if b, ok := r.Body.(*Confirmed); ok {
			all[b.Record] = append(all[b.Record], Entry[*Confirmed]{r, b})
		}
	}
	return all
}
