package shop

import (
	"iter"
	"slices"
)

// Losses is every gram that left other than into a lot, in the order it was booked.
type Losses struct {
	old  *lostOf
	more []Loss
}

// lostOf are the losses of a kept state, packed.
type lostOf struct {
	n      int
	packed []byte
	lots   []LotID
}

// Len is how many there are.
func (l Losses) Len() int {
	if l.old == nil {
		return len(l.more)
	}
	return l.old.n + len(l.more)
}

// All are the losses in order.
func (l Losses) All() iter.Seq2[int, Loss] {
	return func(yield func(int, Loss) bool) {
		n := 0
		if l.old != nil {
			u := &unpacker{b: l.old.packed, lots: l.old.lots}
			last := RecordID(0)
			for ; n < l.old.n; n++ {
				x := u.loss(last)
				if last = x.Record; !yield(n, x) {
					return
				}
			}
		}
		for i, x := range l.more {
			if !yield(n+i, x) {
				return
			}
		}
	}
}

// Of are the losses of a lot in order.
func (l Losses) Of(id LotID) iter.Seq[Loss] {
	return func(yield func(Loss) bool) {
		for _, x := range l.All() {
			if x.Lot == id && !yield(x) {
				return
			}
		}
	}
}

// clipped is the list such that adding to it leaves other copies as they are.
func (l Losses) clipped() Losses {
	l.more = slices.Clip(l.more)
	return l
}

// lossNames numbers the names of losses.
var lossNames = []string{LostGrinding, SweptUp, MetalCut, ThrownAway, Purged, MetalCaught, DustTaken, DriedOff, TestExtruded, Recount, Difference}
