package shop

import "hopperful/fact"

// Prints were recorded before they had labels. What follows gives such prints
// labels when the log is folded, always the same ones, and keeps those labels
// from ever meaning anything else.

// printedHere says whether a lot was made by a print.
func (s *State) printedHere(l *Lot) bool {
	i := s.written(l.Born)
	if i < 0 {
		return false
	}
	_, ok := s.History.At(i).Body.(*Printed)
	return ok
}

// keptForPrints refuses to bring other material under a label that a print of
// this shop ever had: which labels the prints of an old shop have, [Fold] finds
// by the labels other records gave.
func (s *State) keptForPrints(id LotID, field string) error {
	if id.Class() != Print {
		return nil
	}
	for _, r := range s.History.Of((*Printed)(nil)) {
		if b, ok := r.Body.(*Printed); ok && b.Into == id {
			return conflict(field, fact.Say("shop.lot_is_closed", fact.Name("id", string(id)), fact.Count("n", int(r.ID)), fact.Word("kind", "kind."+r.Body.Kind()), fact.Name("at", minute(r.At))), fact.Say("shop.do_empty_for_new_lot"))
		}
	}
	return nil
}

// labelOldPrint gives a print written down before prints had labels its own:
// the next one that no other record uses.
func (s *State) labelOldPrint(r Record, used map[LotID]bool) Record {
	b, ok := r.Body.(*Printed)
	if !ok || b == nil || b.Into != "" || r.Corrects != 0 {
		return r
	}
	c := *b
	for c.Into == "" || used[c.Into] {
		c.Into = s.given.next(Print)
	}
	r.Body = &c
	return r
}

// otherPrintLabels are the labels of print lots that did not come from a print.
func otherPrintLabels(records []Record) map[LotID]bool {
	used := map[LotID]bool{}
	for _, r := range records {
		var ids []LotID
		switch b := r.Body.(type) {
		case *TakenIn:
			if b != nil {
				ids = b.labels()
			}
		case *Sorted:
			if b != nil {
				ids = b.labels()
			}
		}
		for _, id := range ids {
			used[id] = used[id] || id.Class() == Print
		}
	}
	return used
}
