package shop

import (
	"cmp"
	"iter"
	"math"
	"slices"
	"sort"
	"sync"
	"time"
)

// Log is a list of records in their order. What a shop was opened with from its kept
// state ([Unpack]) stays in the file until somebody looks at it; of each such record
// only its kind is known, so that those of a few kinds are found without the others.
type Log struct {
	old  *bygone
	n    int      // how many of old
	more []Record // after them
}

// Source gives the records of a shop by their numbers, as they were written.
type Source interface {
	Record(id RecordID) Record
}

// bygone are records that lie in the file.
type bygone struct {
	streaks []streak              // the numbers of the records at all places
	mixed   bool                  // which are not in their order
	fixed   map[RecordID]RecordID // of those corrected: the correction that holds
	kinds   []byte                // at each place, see kindAt
	fixes   []fix                 // in a history: the corrections, by number
	from    Source

	counting sync.Once
	counted  []int // of each kind, see counts
	sorting  sync.Once
	sorts    []uint64 // of each stretch of records, see kindsIn
}

// streak is a place from which on each record has the number after that of the one before it. A
// shop of a million records has few more than were corrected or written late.
type streak struct {
	at int
	id RecordID // at that place
}

// fix is a correction and what it corrects.
type fix struct{ id, of RecordID }

// kindAt numbers the kinds.
var kindAt = func() map[string]byte {
	m := map[string]byte{}
	for i, b := range Bodies() {
		m[b.Kind()] = byte(i)
	}
	return m
}()

// Listed is a list of records that are all there.
func Listed(list ...Record) Log { return Log{more: list} }

// Len is how many records there are.
func (l Log) Len() int { return l.n + len(l.more) }

// At is the record at a place, counted from 0.
func (l Log) At(i int) Record {
	if i >= l.n {
		return l.more[i-l.n]
	}
	return l.old.at(i)
}

func (o *bygone) id(i int) RecordID {
	later := sort.Search(len(o.streaks), func(k int) bool { return o.streaks[k].at > i })
	k := o.streaks[later-1]
	return k.id + RecordID(i-k.at)
}

func (o *bygone) at(i int) Record {
	id := o.id(i)
	by, ok := o.fixed[id]
	if !ok {
		return o.from.Record(id)
	}
	r := o.from.Record(by)
	r.ID, r.Corrects, r.CorrectedBy = id, 0, by
	return r
}

// newest is the number of the last record, 0 when there is none.
func (l Log) newest() RecordID {
	switch {
	case len(l.more) > 0:
		return l.more[len(l.more)-1].ID
	case l.n > 0:
		return l.old.id(l.n - 1)
	}
	return 0
}

// All are the records in order.
func (l Log) All() iter.Seq2[int, Record] {
	return func(yield func(int, Record) bool) {
		for i := range l.Len() {
			if !yield(i, l.At(i)) {
				return
			}
		}
	}
}

// Backward are the records from the last to the first.
func (l Log) Backward() iter.Seq2[int, Record] {
	return func(yield func(int, Record) bool) {
		for i := l.Len() - 1; i >= 0; i-- {
			if !yield(i, l.At(i)) {
				return
			}
		}
	}
}

// kindSet is a set of kinds, a bit each: there are fewer than 64.
type kindSet uint64

func setOf(kinds []Body) kindSet {
	var set kindSet
	for _, b := range kinds {
		set |= 1 << kindAt[b.Kind()]
	}
	return set
}

func (k kindSet) has(kind byte) bool { return k>>kind&1 != 0 }

// has says whether the record at a place is of one of the kinds.
func (l Log) has(set kindSet, i int) bool {
	if i < l.n {
		return set.has(l.old.kinds[i])
	}
	return set.has(kindAt[l.more[i-l.n].Body.Kind()])
}

// inSort records are looked at together for the kinds that are among them. Judgement.
const inSort = 1024

// kindsIn are the kinds that are in each stretch of records, so that whoever looks for a seldom
// one passes over all others.
func (o *bygone) kindsIn() []uint64 {
	o.sorting.Do(func() {
		for some := range slices.Chunk(o.kinds, inSort) {
			var in uint64
			for _, kind := range some {
				in |= 1 << kind
			}
			o.sorts = append(o.sorts, in)
		}
	})
	return o.sorts
}

// onward is the first place from i on with a record of one of the kinds; the end where there is none.
func (l Log) onward(set kindSet, i int) int {
	for i < l.n {
		end := min((i/inSort+1)*inSort, l.n)
		if uint64(set)&l.old.kindsIn()[i/inSort] != 0 {
			for k, kind := range l.old.kinds[i:end] {
				if set.has(kind) {
					return i + k
				}
			}
		}
		i = end
	}
	for i < l.Len() && !l.has(set, i) {
		i++
	}
	return i
}

// backward is the last place before i with a record of one of the kinds; −1 where there is none.
func (l Log) backward(set kindSet, i int) int {
	for i--; i >= l.n; i-- {
		if l.has(set, i) {
			return i
		}
	}
	for i >= 0 {
		from := i / inSort * inSort
		if uint64(set)&l.old.kindsIn()[i/inSort] != 0 {
			for some := l.old.kinds[from : i+1]; len(some) > 0; some = some[:len(some)-1] {
				if set.has(some[len(some)-1]) {
					return from + len(some) - 1
				}
			}
		}
		i = from - 1
	}
	return -1
}

// Of are the records of these kinds in order.
func (l Log) Of(kinds ...Body) iter.Seq2[int, Record] { return l.OfFrom(0, kinds...) }

// Lately is how many of the newest runs tell what is usual now, where nothing is carried
// on: several years of a workshop's. Judgement.
const Lately = 1024

// NewestOf are the newest n records of these kinds, in order.
func (l Log) NewestOf(n int, kinds ...Body) iter.Seq2[int, Record] {
	set, from := setOf(kinds), l.Len()
	for ; n > 0 && from > 0; n-- {
		from = max(0, l.backward(set, from))
	}
	return l.OfFrom(from, kinds...)
}

// OfFrom are the records of these kinds from a place on, in order.
func (l Log) OfFrom(from int, kinds ...Body) iter.Seq2[int, Record] {
	set := setOf(kinds)
	return func(yield func(int, Record) bool) {
		for i := l.onward(set, from); i < l.Len(); i = l.onward(set, i+1) {
			if !yield(i, l.At(i)) {
				return
			}
		}
	}
}

// LatestOf are the records of these kinds from the last to the first.
func (l Log) LatestOf(kinds ...Body) iter.Seq2[int, Record] {
	set := setOf(kinds)
	return func(yield func(int, Record) bool) {
		for i := l.backward(set, l.Len()); i >= 0; i = l.backward(set, i) {
			if !yield(i, l.At(i)) {
				return
			}
		}
	}
}

// Count is how many records are of these kinds.
func (l Log) Count(kinds ...Body) int {
	set, n, from := setOf(kinds), 0, 0
	if l.old != nil && l.n == len(l.old.kinds) {
		from = l.n
		for kind, many := range l.old.counts() {
			if set.has(byte(kind)) {
				n += many
			}
		}
	}
	for i := from; i < l.Len(); i++ {
		if l.has(set, i) {
			n++
		}
	}
	return n
}

// counts is how many are of each kind.
func (o *bygone) counts() []int {
	o.counting.Do(func() {
		o.counted = make([]int, math.MaxUint8+1)
		for _, kind := range o.kinds {
			o.counted[kind]++
		}
	})
	return o.counted
}

// Page are the records of these kinds from the last to the first; skipping says that
// the first skip of them are passed over unread.
func (l Log) Page(skip int, skipping bool, kinds ...Body) iter.Seq[Record] {
	set := setOf(kinds)
	return func(yield func(Record) bool) {
		for i := l.backward(set, l.Len()); i >= 0; i = l.backward(set, i) {
			if skip--; skipping && skip >= 0 {
				continue
			}
			if !yield(l.At(i)) {
				return
			}
		}
	}
}

// Began is the place of the first of the records that stand at or after a moment.
func (l Log) Began(at time.Time) int {
	return sort.Search(l.Len(), func(i int) bool { return !l.At(i).At.Before(at) })
}

// Since are the records that stand from a moment on, in order.
func (l Log) Since(at time.Time) iter.Seq2[int, Record] {
	return func(yield func(int, Record) bool) {
		for i := l.Began(at); i < l.Len(); i++ {
			if !yield(i, l.At(i)) {
				return
			}
		}
	}
}

// Numbers are the least and the greatest number of the records at the places [first, end).
func (l Log) Numbers(first, end int) (least, most RecordID) {
	least = math.MaxInt64
	for i := first; i < end; i++ {
		id := l.id(i)
		least, most = min(least, id), max(most, id)
	}
	return least, most
}

// Between says of a record whether its place is one of [first, end).
func (l Log) Between(first, end int) func(RecordID) bool {
	least, most := l.Numbers(first, end)
	return func(id RecordID) bool {
		if id < least || id > most {
			return false
		}
		i := l.place(id)
		return i >= first && i < end
	}
}

// id is the number of the record at a place.
func (l Log) id(i int) RecordID {
	if i < l.n {
		return l.old.id(i)
	}
	return l.more[i-l.n].ID
}

// First are the first n records.
func (l Log) First(n int) Log {
	if n <= l.n {
		return Log{old: l.old, n: n}
	}
	l.more = l.more[: n-l.n : n-l.n]
	return l
}

// After are the records from the n-th on, all read.
func (l Log) After(n int) []Record {
	if n >= l.n {
		return l.more[n-l.n:]
	}
	list := make([]Record, 0, l.Len()-n)
	for i := n; i < l.Len(); i++ {
		list = append(list, l.At(i))
	}
	return list
}

// List are all records, read.
func (l Log) List() []Record { return l.After(0) }

// plus is the list with one more record.
func (l Log) plus(r ...Record) Log {
	l.more = append(l.more, r...)
	return l
}

// clipped is the list such that adding to it leaves other copies as they are.
func (l Log) clipped() Log {
	l.more = slices.Clip(l.more)
	return l
}

// Place is where the record of that number is, false when it is not there.
func (l Log) Place(id RecordID) (int, bool) {
	i := l.place(id)
	return i, i >= 0
}

// IsOf says whether the record of that number is there and of one of these kinds, without
// reading it.
func (l Log) IsOf(id RecordID, kinds ...Body) bool {
	i := l.place(id)
	return i >= 0 && l.has(setOf(kinds), i)
}

// place is where the record of that number is, −1 when it is not there. Records
// stand by their time, which is nearly always the order of their numbers too.
func (l Log) place(id RecordID) int {
	byID := func(r Record, id RecordID) int { return cmp.Compare(r.ID, id) }
	if i, ok := slices.BinarySearchFunc(l.more, id, byID); ok {
		return l.n + i
	}
	if l.n > 0 {
		if i := l.old.place(l.n, id); i >= 0 {
			return i
		}
	}
	if i := slices.IndexFunc(l.more, func(r Record) bool { return r.ID == id }); i >= 0 {
		return l.n + i
	}
	return -1
}

// place is where the record of that number is among the first n, −1 when it is not there.
func (o *bygone) place(n int, id RecordID) int {
	later := sort.Search(len(o.streaks), func(k int) bool { return o.streaks[k].id > id })
	if later > 0 {
		if i := o.within(later-1, n, id); i >= 0 || !o.mixed {
			return i
		}
	}
	for k := 0; o.mixed && k < len(o.streaks); k++ {
		if i := o.within(k, n, id); i >= 0 {
			return i
		}
	}
	return -1
}

// within is the same in one streak.
func (o *bygone) within(k, n int, id RecordID) int {
	if k+1 < len(o.streaks) {
		n = min(n, o.streaks[k+1].at)
	}
	s := o.streaks[k]
	if id < s.id || id-s.id >= RecordID(n-s.at) {
		return -1
	}
	return s.at + int(id-s.id)
}

// corrections are the records of a history that correct the record of that number,
// the last first. They are looked for after it: none is older than what it corrects.
func (l Log) corrections(of RecordID) iter.Seq[Record] {
	return func(yield func(Record) bool) {
		for _, r := range slices.Backward(l.more) {
			if r.ID <= of || r.Corrects == of && !yield(r) {
				return
			}
		}
		if l.n == 0 {
			return
		}
		for _, f := range slices.Backward(l.old.fixes) {
			if f.id <= of || f.of == of && f.id <= RecordID(l.n) && !yield(l.old.from.Record(f.id)) {
				return
			}
		}
	}
}
