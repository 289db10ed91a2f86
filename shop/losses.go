package shop

import (
	"iter"
	"maps"
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
	at     map[LotID]uint32 // their places

	blocking sync.Once
	blocked  []lostBlock        // see blocks
	sums     map[string]float64 // of all, by their names [kg]
}

// lostBlock is a stretch of packed losses and which lots and records it is of. Those of one lot
// lie close together, for it is used up in its time: most stretches are passed over unread.
type lostBlock struct {
	at, n       int      // where it begins, and how many
	last        RecordID // of the loss before it
	low, high   uint64   // places of its lots
	first, upto RecordID // its records
}

// onBlock losses are in a stretch. Judgement.
const onBlock = 256

// blocks are all stretches, found when some of the losses are first asked for.
func (o *lostOf) blocks() []lostBlock {
	o.blocking.Do(func() {
		u := &unpacker{b: o.packed, lots: o.lots}
		last := RecordID(0)
		o.sums = map[string]float64{}
		for done := 0; done < o.n; done += onBlock {
			b := lostBlock{at: len(o.packed) - len(u.b), n: min(onBlock, o.n-done), last: last, low: math.MaxUint64, first: math.MaxInt64}
			for range b.n {
				peek := unpacker{b: u.b[min(1, len(u.b)):]}
				place := peek.uint()
				b.low, b.high = min(b.low, place), max(b.high, place)
				x := u.loss(last)
				last = x.Record
				o.sums[x.Name] += x.Mass
				b.first, b.upto = min(b.first, last), max(b.upto, last)
			}
			o.blocked = append(o.blocked, b)
		}
	})
	return o.blocked
}

// some are the losses of the stretches that may hold what is asked for.
func (o *lostOf) some(may func(*lostBlock) bool, yield func(Loss) bool) bool {
	for i := range o.blocks() {
		b := &o.blocked[i]
		if !may(b) {
			continue
		}
		u := &unpacker{b: o.packed[b.at:], lots: o.lots}
		last := b.last
		for range b.n {
			x := u.loss(last)
			if last = x.Record; !yield(x) {
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

// some are the losses that are wanted, in order, of the stretches that may hold them.
func (l Losses) some(may func(*lostBlock) bool, want func(Loss) bool) iter.Seq[Loss] {
	return func(yield func(Loss) bool) {
		wanted := func(x Loss) bool { return !want(x) || yield(x) }
		if l.old != nil && !l.old.some(may, wanted) {
			return
		}
		for _, x := range l.more {
			if !wanted(x) {
				return
			}
		}
	}
}

// Of are the losses of some lots in order.
func (l Losses) Of(lots ...LotID) iter.Seq[Loss] {
	var places []uint64
	if l.old != nil {
		for _, id := range lots {
			if i, ok := l.old.at[id]; ok {
				places = append(places, uint64(i))
			}
		}
		slices.Sort(places)
	}
	may := func(b *lostBlock) bool {
		i, _ := slices.BinarySearch(places, b.low)
		return i < len(places) && places[i] <= b.high
	}
	return l.some(may, func(x Loss) bool { return slices.Contains(lots, x.Lot) })
}

// Between are the losses booked by records of these numbers, the last among them, in order.
func (l Losses) Between(first, last RecordID) iter.Seq[Loss] {
	return l.some(func(b *lostBlock) bool { return b.first <= last && b.upto >= first },
		func(x Loss) bool { return first <= x.Record && x.Record <= last })
}

// Sums are all losses by their names [kg].
func (l Losses) Sums() map[string]float64 {
	sums := map[string]float64{}
	if l.old != nil {
		l.old.blocks()
		maps.Copy(sums, l.old.sums)
	}
	for _, x := range l.more {
		sums[x.Name] += x.Mass
	}
	return sums
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
