package shop

import (
	"iter"
	"math"
	"slices"
	"sync"
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

	blocking sync.Once
	blocked  []lostBlock // see blocks
}

// lostBlock is a stretch of packed losses and which lots it is of. Those of one lot lie close
// together, for it is used up in its time: most stretches are passed over unread.
type lostBlock struct {
	at, n     int      // where it begins, and how many
	last      RecordID // of the loss before it
	low, high uint64   // places of its lots
}

// onBlock losses are in a stretch. Judgement.
const onBlock = 256

// blocks are all stretches, found when the losses of one lot are first asked for.
func (o *lostOf) blocks() []lostBlock {
	o.blocking.Do(func() {
		u := &unpacker{b: o.packed, lots: o.lots}
		last := RecordID(0)
		for done := 0; done < o.n; done += onBlock {
			b := lostBlock{at: len(o.packed) - len(u.b), n: min(onBlock, o.n-done), last: last, low: math.MaxUint64}
			for range b.n {
				peek := unpacker{b: u.b[min(1, len(u.b)):]}
				place := peek.uint()
				b.low, b.high = min(b.low, place), max(b.high, place)
				last = u.loss(last).Record
			}
			o.blocked = append(o.blocked, b)
		}
	})
	return o.blocked
}

// of are the losses of a lot.
func (o *lostOf) of(id LotID, yield func(Loss) bool) bool {
	place := slices.Index(o.lots, id)
	if place < 0 {
		return true
	}
	for _, b := range o.blocks() {
		if uint64(place) < b.low || uint64(place) > b.high {
			continue
		}
		u := &unpacker{b: o.packed[b.at:], lots: o.lots}
		last := b.last
		for range b.n {
			x := u.loss(last)
			if last = x.Record; x.Lot == id && !yield(x) {
				return false
			}
		}
	}
	return true
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
		if l.old != nil && !l.old.of(id, yield) {
			return
		}
		for _, x := range l.more {
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

// ByName are the losses of a lot, those of one name together, in the order each name
// came first.
func (l Losses) ByName(id LotID) []Loss {
	var all []Loss
	for x := range l.Of(id) {
		if i := slices.IndexFunc(all, func(y Loss) bool { return y.Name == x.Name }); i >= 0 {
			all[i].Mass += x.Mass
			continue
		}
		all = append(all, x)
	}
	return all
}
