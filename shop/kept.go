package shop

import (
	"encoding/binary"
	"errors"
	"io"
	"maps"
	"reflect"
	"slices"
	"strings"
	"sync"
	"time"
)

// ErrNotKept says that a state cannot be kept: prints of before prints had labels got
// theirs when it was folded, and the records in the file do not have them.
var ErrNotKept = errors.New("a shop with prints of before prints had labels is folded anew each time")

// apart are the fields of a state that are packed each in its own way, or not at all.
var apart = map[string]bool{"Lots": true, "Order": true, "Records": true, "History": true, "Losses": true, "own": true, "base": true, "carried": true, "goneOn": true}

// Fingerprint says what a packed state is made of: another one cannot be unpacked.
var Fingerprint = sync.OnceValue(func() string {
	var b strings.Builder
	seen := map[reflect.Type]bool{}
	shapeOf(reflect.TypeFor[State](), &b, seen)
	for _, c := range carriers {
		b.WriteString(c.named() + " ")
		shapeOf(c.shape(), &b, seen)
	}
	return b.String()
})

// Packed is a packed state where it lies.
type Packed interface {
	Len() int
	// At gives the bytes from one place to another, which may not be changed. Where they can no
	// longer be read it stops whatever asked, as a [Source] does.
	At(from, to int) []byte
}

// InMemory is a packed state in memory.
type InMemory []byte

// Len is how many bytes it has.
func (m InMemory) Len() int { return len(m) }

// At is a part of it.
func (m InMemory) At(from, to int) []byte { return m[from:to:to] }

// stretch is a part of a packed state that is read when somebody asks for it.
type stretch struct {
	of       Packed
	from, to int
}

func (s stretch) len() int { return s.to - s.from }

// part is what lies between two places, as far as it reaches.
func (s stretch) part(from, to int) []byte {
	from, to = min(max(from, 0), s.len()), min(to, s.len())
	if to <= from {
		return nil
	}
	return s.of.At(s.from+from, s.from+to)
}

// sections is how many stretches a packed state is made of. Where each ends stands at the end of all.
const sections = 10

// Pack writes a state down, piece by piece. It holds no record, only what followed from them.
func (s *State) Pack(to io.Writer) error {
	if s.relabelled {
		return ErrNotKept
	}
	p := &packer{to: to, lots: make(map[LotID]uint32, len(s.Order))}
	for i, id := range s.Order {
		p.lots[id] = uint32(i)
	}
	var ends []byte
	end := func() {
		p.spill()
		ends = binary.LittleEndian.AppendUint64(ends, uint64(p.at()))
	}
	p.packOrder(s)
	end()
	p.packRest(s)
	end()
	p.packHistory(s.History)
	end()
	p.packStanding(s.Records)
	end()
	begins := p.packLots(s)
	end()
	p.packPlaces(s, begins)
	end()
	blocks := p.packLosses(s.Losses)
	end()
	p.packBlocks(s.Losses, blocks)
	end()
	sums := p.packCarried(s)
	end()
	p.packNames(sums)
	end()
	p.b = append(p.b, ends...)
	p.flush()
	return p.err
}

func (p *packer) packOrder(s *State) {
	p.uint(uint64(len(s.Order)))
	for _, id := range s.Order {
		p.text(string(id))
		p.spill()
	}
}

func (p *packer) packRest(s *State) {
	v := reflect.ValueOf(s).Elem()
	for i := range v.NumField() {
		if !apart[v.Type().Field(i).Name] {
			p.value(inside(v, i))
		}
	}
}

// packLots writes each lot, one that did not change since it was unpacked as it lies, and says
// where each begins, and the last ends.
func (p *packer) packLots(s *State) []uint32 {
	from := p.at()
	begins := make([]uint32, 0, len(s.Order)+1)
	for i, id := range s.Order {
		begins = append(begins, uint32(p.at()-from))
		l, changed := s.Lots.changed(id)
		if c := s.Lots.old; !changed && c != nil {
			p.b = append(p.b, c.packed.part(int(c.begins[i]), int(c.begins[i+1]))...)
		} else {
			p.value(reflect.ValueOf(l).Elem())
		}
		p.spill()
	}
	return append(begins, uint32(p.at()-from))
}

// packPlaces writes where the lots begin, and which of them are on hand, and with what mass.
func (p *packer) packPlaces(s *State, begins []uint32) {
	number := func(n uint32) {
		p.b = binary.LittleEndian.AppendUint32(p.b, n)
		p.spill()
	}
	for _, at := range begins {
		number(at)
	}
	for _, l := range s.Stock("") {
		number(p.lots[l.ID])
		p.float(l.Mass)
	}
}

// Unpack reads a state that this program packed; from gives the records it came from. Lots, losses
// and sums are read when somebody asks for them.
func Unpack(packed Packed, from Source) (*State, error) {
	parts, err := stretches(packed)
	if err != nil {
		return nil, err
	}
	s := empty()
	var read []*unpacker
	next := func(i int) *unpacker {
		u := &unpacker{b: parts[i].part(0, parts[i].len()), lots: s.Order}
		read = append(read, u)
		return u
	}
	s.Order = next(0).order()
	rest, v := next(1), reflect.ValueOf(s).Elem()
	for i := range v.NumField() {
		if !apart[v.Type().Field(i).Name] {
			rest.value(inside(v, i))
		}
	}
	s.History = next(2).history(from)
	s.Records = next(3).standing(s.History)
	s.Lots = Lots{old: next(5).cellar(parts[4]), new: map[LotID]*Lot{}, n: len(s.Order)}
	s.Losses = Losses{old: next(7).lost(parts[6], s.Lots.old.at)}
	s.carried = next(9).carried(parts[8])
	for _, u := range read {
		if u.err != nil {
			return nil, u.err
		}
	}
	s.base = s
	return s, nil
}

// stretches are the sections of what is packed.
func stretches(packed Packed) ([]stretch, error) {
	u := &unpacker{}
	ends := packed.Len() - 8*sections
	if ends < 0 {
		u.fail("its end")
		return nil, u.err
	}
	list := make([]stretch, sections)
	at := 0
	for i, b := 0, packed.At(ends, packed.Len()); i < sections; i, b = i+1, b[8:] {
		to := binary.LittleEndian.Uint64(b)
		if to < uint64(at) || to > uint64(ends) {
			u.fail("a section")
			return nil, u.err
		}
		list[i] = stretch{packed, at, int(to)}
		at = int(to)
	}
	return list, nil
}

// order reads the labels, which share one text.
func (u *unpacker) order() []LotID {
	list := make([]LotID, u.many())
	all := string(u.b)
	for i := range list {
		n := u.many()
		at := len(all) - len(u.b)
		u.bytes(n)
		if u.err == nil {
			list[i] = LotID(all[at : at+n])
		}
	}
	return list
}

func (u *unpacker) cellar(packed stretch) *cellar {
	n := len(u.lots)
	c := &cellar{ids: u.lots, at: placesOf(u.lots), packed: packed, begins: make([]uint32, n+1)}
	begins := u.bytes(4 * len(c.begins))
	for i := range begins[:len(begins)/4] {
		c.begins[i] = binary.LittleEndian.Uint32(begins[4*i:])
	}
	if !slices.IsSorted(c.begins) || int(c.begins[n]) != packed.len() {
		u.fail("a lot")
		return c
	}
	c.onHand = make([]onHand, 0, len(u.b)/12)
	for len(u.b) > 0 && u.err == nil {
		place := u.bytes(4)
		one := onHand{mass: u.float()}
		if u.err != nil || int(binary.LittleEndian.Uint32(place)) >= n {
			u.fail("a lot")
			break
		}
		one.place = binary.LittleEndian.Uint32(place)
		c.onHand = append(c.onHand, one)
	}
	return c
}

// Continue folds records on that were written after those of s. It is false when one
// of them reaches back to before where s ends, and all must be folded anew.
func (s *State) Continue(more []Record) (*State, bool, error) {
	base := s.base
	if base == nil {
		return nil, false, nil
	}
	next, first := s.goOn()
	if next.History = next.History.clipped(); first {
		s.goneOn.Store(false) // only its history is looked at; what is folded on below goes on from s
	}
	for _, r := range more {
		if b, ok := r.Body.(*Printed); ok && b.Into == "" && r.Corrects == 0 {
			return nil, false, nil // of before prints had labels
		}
		r, err := next.complete(r, noMoment)
		if err != nil {
			return nil, true, &recordError{r, err}
		}
		next.History = next.History.plus(r)
	}
	tail := next.History.After(base.History.Len())
	if !base.before(tail) {
		return nil, false, nil
	}
	out, err := base.foldOn(next.History, tail, next.given, nobody)
	return out, true, err
}

// Tail are the records since the kept state that s continues, or all.
func (s *State) Tail() []Record {
	if s.base == nil {
		return s.History.List()
	}
	return s.History.After(s.base.History.Len())
}

// Upto is the state after the first n of its tail.
func (s *State) Upto(n int) (*State, error) {
	first := s.Tail()[:n]
	if s.base == nil {
		return Fold(first)
	}
	out, ok, err := s.base.Continue(first)
	if err == nil && !ok {
		err = errors.New("the tail reaches back") // it was folded on when it was added
	}
	return out, err
}

// before says whether all of these records, written after those of s, count after
// them too: what was folded so far then stays as it is.
func (s *State) before(tail []Record) bool {
	newest := s.History.newest()
	for _, r := range tail {
		if r.At.Before(s.Last) || r.Corrects != 0 && r.Corrects <= newest {
			return false
		}
		if b, ok := r.Body.(*Confirmed); ok && b.Record <= newest {
			return false
		}
	}
	return true
}

// foldOn continues s with records that count after its own.
func (s *State) foldOn(history Log, tail []Record, given counters, pass func(Record, error) bool) (*State, error) {
	next := s.clone()
	next.History, next.given = history.clipped(), given
	stands := standing(tail)
	next.confirmed = maps.Clone(s.confirmed)
	for id, list := range confirmations(stands) {
		next.confirmed[id] = list
	}
	first := firstDescriptions(stands)
	for id := range first {
		i := slices.IndexFunc(stands, func(r Record) bool { return r.ID == id })
		if kind, name := stands[i].Body.(describing).names(); s.describes(kind, name) {
			delete(first, id)
		}
	}
	if err := next.steps(stands, first, pass); err != nil {
		return nil, err
	}
	return next, nil
}

// describes says whether a named thing was described.
func (s *State) describes(kind, name string) bool {
	var known bool
	switch kind {
	case (*MillSet)(nil).Kind():
		known = s.millIndex(name) >= 0
	case (*PrinterSet)(nil).Kind():
		known = slices.ContainsFunc(s.Printers, func(p Printer) bool { return p.Name == name })
	case (*DryerSet)(nil).Kind():
		known = slices.ContainsFunc(s.Dryers, func(d Dryer) bool { return d.Name == name })
	case (*NeedSet)(nil).Kind():
		known = slices.ContainsFunc(s.Needs, func(n Need) bool { return n.Name == name })
	}
	return known
}

// Cut is how many of the latest records of a shop, in the order of their numbers, a state to
// be kept is best folded from: as many as leave lag of them out and are not reached
// back to by any later one; 0 when there is no such number.
func Cut(history []Record, lag int) int {
	n := len(history) - lag
	for n > 0 {
		reach, last := n, latestAt(history[:n])
		back := func(to RecordID) { // the record before it is the last that stays
			if to != 0 && to <= history[n-1].ID {
				reach = min(reach, max(0, int(to-history[0].ID)))
			}
		}
		for _, r := range history[n:] {
			back(r.Corrects)
			if b, ok := r.Body.(*Confirmed); ok {
				back(b.Record)
			}
			if r.At.Before(last) {
				reach = min(reach, n-1)
			}
		}
		if reach == n {
			return n
		}
		if reach == n-1 { // far back: by halves, or each of a million would be tried
			reach = n - max(1, (len(history)-n)/4)
		}
		n = reach
	}
	return 0
}

// latestAt is the latest moment of any of the records.
func latestAt(list []Record) time.Time {
	var last time.Time
	for _, r := range list {
		if r.At.After(last) {
			last = r.At
		}
	}
	return last
}
