package shop

import (
	"encoding/binary"
	"iter"
	"maps"
	"math"
	"reflect"
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
	packed stretch
	lots   []LotID
	at     *places
	blocks []lostBlock
	sums   map[string]float64 // of all, by their names [kg]
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

// mostBlock is how long a stretch can be: a name's place, and three numbers for each.
const mostBlock = onBlock * (1 + 8 + 2*binary.MaxVarintLen64)

// packLosses writes all losses, and says what stretches they make.
func (p *packer) packLosses(l Losses) []lostBlock {
	var blocks []lostBlock
	from, last := p.at(), RecordID(0)
	for i, x := range l.All() {
		if i%onBlock == 0 {
			p.spill()
			blocks = append(blocks, lostBlock{at: p.at() - from, last: last, low: math.MaxUint64, first: math.MaxInt64})
		}
		b, place := &blocks[len(blocks)-1], uint64(p.lots[x.Lot])
		b.n++
		b.low, b.high = min(b.low, place), max(b.high, place)
		b.first, b.upto = min(b.first, x.Record), max(b.upto, x.Record)
		p.loss(x, last)
		last = x.Record
	}
	return blocks
}

// packBlocks writes the stretches, and what all losses come to.
func (p *packer) packBlocks(l Losses, blocks []lostBlock) {
	p.value(reflect.ValueOf(&blocks).Elem())
	sums := l.Sums()
	p.value(reflect.ValueOf(&sums).Elem())
}

// lost reads where the losses are.
func (u *unpacker) lost(packed stretch, at *places) *lostOf {
	o := &lostOf{packed: packed, lots: u.lots, at: at}
	u.value(reflect.ValueOf(&o.blocks).Elem())
	u.value(reflect.ValueOf(&o.sums).Elem())
	for _, b := range o.blocks {
		if b.n < 1 || b.n > onBlock {
			u.fail("a loss")
			break
		}
		o.n += b.n
	}
	return o
}

// some are the losses of the stretches that may hold what is asked for.
func (o *lostOf) some(may func(*lostBlock) bool, yield func(Loss) bool) bool {
	for i := range o.blocks {
		b := &o.blocks[i]
		if !may(b) {
			continue
		}
		u := &unpacker{b: o.packed.part(b.at, b.at+mostBlock), lots: o.lots}
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
		i := 0
		all := func(*lostBlock) bool { return true }
		for x := range l.some(all, func(Loss) bool { return true }) {
			if !yield(i, x) {
				return
			}
			i++
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
			if i, ok := l.old.at.of(id); ok {
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
