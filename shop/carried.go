package shop

import (
	"reflect"
	"slices"
	"strings"
	"sync"
)

// What a room learns from all records of a kind it carries on from state to state, so
// that a shop of many years is not read anew for each answer. What is carried is kept
// with the state, and goes on with the records after it.

// Carrier sums up the records that stand, in their order, in a T whose zero value is
// the sum of none. Of each record it may use what the record says, and of the shop only
// what is fixed once a record is written: what was asked about it, and what a
// description of a mill changed. The sum of the first records, continued with the
// rest, is then the sum of all.
type Carrier[T any] struct {
	name  string
	kinds []Body
	take  func(*T, *State, Record)
	copy  func(*T) T
}

// Carry makes a carrier of records of these kinds, once when the program starts. A
// sum may be continued only as a copy: others still read the one it was made from.
func Carry[T any](name string, take func(*T, *State, Record), copied func(*T) T, kinds ...Body) *Carrier[T] {
	c := &Carrier[T]{name, kinds, take, copied}
	carriers = append(carriers, c)
	slices.SortFunc(carriers, func(a, b carrying) int { return strings.Compare(a.named(), b.named()) })
	return c
}

// carriers are all there are, by name.
var carriers []carrying

type carrying interface {
	named() string
	shape() reflect.Type
	pack(q *packer, s *State)
}

func (c *Carrier[T]) named() string { return c.name }

func (c *Carrier[T]) shape() reflect.Type { return reflect.TypeFor[T]() }

func (c *Carrier[T]) pack(q *packer, s *State) { q.value(reflect.ValueOf(c.Of(s)).Elem()) }

// carried are the sums that a state has been asked for, by the names of their carriers.
type carried struct {
	lock   sync.Mutex
	sums   map[string]any
	packed map[string]stretch // those of a kept state that nobody asked for yet
}

// Of is the sum of a state's records. It may not be changed.
func (c *Carrier[T]) Of(s *State) *T {
	all := s.carried
	if all == nil { // a state that was not folded
		all = &carried{}
	}
	all.lock.Lock()
	defer all.lock.Unlock()
	if sum, ok := all.sums[c.name]; ok {
		return sum.(*T)
	}
	sum := new(T)
	packed, kept := all.packed[c.name]
	switch b := s.base; {
	case b != nil && b != s:
		*sum = c.copy(c.Of(b))
		set := setOf(c.kinds)
		for _, r := range s.Records.more {
			if set.has(kindAt[r.Body.Kind()]) {
				c.take(sum, s, r)
			}
		}
	case kept && c.unpack(packed, s, sum):
	default:
		*sum = *new(T)
		for _, r := range s.Records.Of(c.kinds...) {
			c.take(sum, s, r)
		}
	}
	if all.sums == nil {
		all.sums = map[string]any{}
	}
	all.sums[c.name] = sum
	delete(all.packed, c.name)
	return sum
}

func (c *Carrier[T]) unpack(packed stretch, s *State, sum *T) bool {
	u := &unpacker{b: packed.part(0, packed.len()), lots: s.Order}
	u.value(reflect.ValueOf(sum).Elem())
	return u.err == nil
}

// packCarried writes all sums, and says how long each is.
func (p *packer) packCarried(s *State) []int {
	var sizes []int
	for _, c := range carriers {
		from := p.at()
		c.pack(p, s)
		sizes = append(sizes, p.at()-from)
		p.spill()
	}
	return sizes
}

// packNames writes the names of the sums, and how long each is.
func (p *packer) packNames(sizes []int) {
	p.uint(uint64(len(sizes)))
	for i, c := range carriers {
		p.text(c.named())
		p.uint(uint64(sizes[i]))
	}
}

func (u *unpacker) carried(sums stretch) *carried {
	c := &carried{packed: map[string]stretch{}}
	at := 0
	for range u.many() {
		name, size := u.text(), u.uint()
		if size > uint64(sums.len()-at) {
			u.fail("a sum")
			return c
		}
		c.packed[name] = stretch{sums.of, sums.from + at, sums.from + at + int(size)}
		at += int(size)
	}
	return c
}
