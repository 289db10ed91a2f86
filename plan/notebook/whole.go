package notebook

import (
	"bytes"
	"errors"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/shop"
)

// Whole judges the records of a whole shop: they continue what is there, record by
// record, or none of them is written.
func Whole(s *shop.State, now time.Time, records []shop.Record) Result {
	known := 0
	for known < len(records) && known < s.History.Len() && same(records[known], s.History.At(known)) {
		known++
	}
	fresh := records[known:]
	out := fact.Parts("known")
	if known > 0 {
		out = fact.Parts("known", fact.Say("notebook.records_known", fact.Count("n", known)))
	}
	refused := func(id shop.RecordID, w Wrong) Result {
		doc := answer.Document{Head: answer.Found(fact.Say("notebook.whole_refused", fact.Count("n", len(records))), fact.Say("notebook.do_new_shop"))}
		f := answer.Found(fact.Say("notebook.record_refused", fact.Count("n", int(id)), fact.Parts("what", w.What)))
		if !w.Advice.Empty() {
			f.Remedies = []fact.Saying{w.Advice}
		}
		doc.Spoilers = []answer.Finding{f}
		return Result{Document: doc}
	}
	switch {
	case len(records) == 0:
		return Result{Document: answer.Document{Head: answer.Found(fact.Say("notebook.whole_empty"))}}
	case len(fresh) == 0:
		return Result{Document: answer.Document{Head: answer.Found(fact.Say("notebook.whole_known", fact.Count("n", len(records))))}}
	case known < s.History.Len():
		return refused(fresh[0].ID, Wrong{What: fact.Say("notebook.differs")})
	}
	if _, err := s.Admit(now, fresh...); err != nil {
		return refused(culprit(s, now, fresh), (&Judged{}).wrongs(err)[0])
	}
	return Result{Document: answer.Document{Head: answer.Found(fact.Say("notebook.whole_ready", fact.Count("n", len(fresh)), out))}, Records: fresh}
}

// same reports whether two records are one.
func same(a, b shop.Record) bool {
	if a.ID != b.ID || !a.At.Equal(b.At) || !a.NotedAt.Equal(b.NotedAt) || a.By != b.By || a.Note != b.Note || a.Corrects != b.Corrects || a.Body.Kind() != b.Body.Kind() {
		return false
	}
	x, err := shop.Encode(a.Body)
	y, err2 := shop.Encode(b.Body)
	return errors.Join(err, err2) == nil && bytes.Equal(x, y)
}

// culprit is the first record without which those before it can be: found by
// halves, so that a long history takes a few looks.
func culprit(s *shop.State, now time.Time, records []shop.Record) shop.RecordID {
	low, high := 0, len(records) // the first low can be; the first high cannot
	for high-low > 1 {
		mid := (low + high) / 2
		if _, err := s.Admit(now, records[:mid]...); err == nil {
			low = mid
		} else {
			high = mid
		}
	}
	return records[high-1].ID
}
