// Gives vertices numbers: the same place, the same number.

package mesh

import (
	"hash/maphash"
	"math"
	"math/bits"
)

// shelfBits is the size of the pieces points are kept in: nothing has to be moved
// when more come, which would take twice the memory for a while.
const shelfBits = 15

// welder numbers places that are equal to the last bit. A map of the language takes
// three times the memory for the same.
type welder struct {
	seed   [3]uint64 // of chance, so that no file can be made to collide
	points [][]point
	n      int
	slots  []uint32 // number + 1 of the point that lies there, 0 for none; a power of two long
}

func newWelder() *welder {
	w := &welder{slots: make([]uint32, 1<<10)}
	seed := maphash.MakeSeed()
	for i := range w.seed {
		w.seed[i] = maphash.Comparable(seed, i)
	}
	return w
}

// hash folds a place by two multiplications with what is of chance; see
// bits.Mul64: both halves of the product depend on all bits of both factors.
func (w *welder) hash(p *point) int {
	high, low := bits.Mul64(math.Float64bits(p[0])^w.seed[0], math.Float64bits(p[1])^w.seed[1])
	high, low = bits.Mul64(high^low^math.Float64bits(p[2]), w.seed[2]|1)
	return int(high ^ low)
}

func (w *welder) at(i uint32) *point { return &w.points[i>>shelfBits][i&(1<<shelfBits-1)] }

// slot is where a point lies, or would.
func (w *welder) slot(p *point) int {
	mask := len(w.slots) - 1
	at := w.hash(p) & mask
	for w.slots[at] != 0 && *w.at(w.slots[at] - 1) != *p {
		at = (at + 1) & mask
	}
	return at
}

// number is that of a point, and whether it is new.
func (w *welder) number(p point) (i uint32, isNew bool) {
	for i := range p {
		p[i] += 0 // turns −0 into 0, which must weld with it
	}
	if 5*w.n >= 3*len(w.slots) {
		w.grow()
	}
	at := w.slot(&p)
	if w.slots[at] != 0 {
		return w.slots[at] - 1, false
	}
	i = uint32(w.n)
	if int(i>>shelfBits) == len(w.points) {
		w.points = append(w.points, make([]point, 1<<shelfBits))
	}
	*w.at(i) = p
	w.n++
	w.slots[at] = i + 1
	return i, true
}

func (w *welder) grow() {
	w.slots = make([]uint32, 2*len(w.slots))
	for i := range uint32(w.n) {
		w.slots[w.slot(w.at(i))] = i + 1
	}
}
