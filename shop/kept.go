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

// packHistory writes of each record its kind, and which correct which.
func (p *packer) packHistory(l Log) {
	var fixes []fix
	kinds := make([]byte, l.Len())
	if l.n > 0 {
		copy(kinds, l.old.kinds[:l.n])
		for _, f := range l.old.fixes {
			if f.id <= RecordID(l.n) {
				fixes = append(fixes, f)
			}
		}
	}
	for i, r := range l.more {
		kinds[l.n+i] = kindAt[r.Body.Kind()]
		if r.Corrects != 0 {
			fixes = append(fixes, fix{r.ID, r.Corrects})
		}
	}
	p.uint(uint64(len(kinds)))
	p.b = append(p.b, kinds...)
	p.fixes(fixes)
}

func (p *packer) fixes(list []fix) {
	p.uint(uint64(len(list)))
	for _, f := range list {
		p.uint(uint64(f.id))
		p.uint(uint64(f.of))
		p.spill()
	}
}

// packStanding writes the numbers of the records that stand, and by which they were
// corrected.
func (p *packer) packStanding(l Log) {
	p.uint(uint64(l.Len()))
	last := RecordID(0)
	var fixed []fix
	number := func(id, by RecordID) {
		p.int(int64(id - last - 1))
		p.spill()
		if last = id; by != 0 {
			fixed = append(fixed, fix{id, by})
		}
	}
	for i := range l.n {
		id := l.old.id(i)
		number(id, l.old.fixed[id])
	}
	for _, r := range l.more {
		number(r.ID, r.CorrectedBy)
	}
	p.fixes(fixed)
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

// packPlaces writes where the lots begin, and which of them are on hand.
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
	standing := next(3)
	s.Records = standing.standing(from)
	s.Lots = Lots{old: next(5).cellar(parts[4]), new: map[LotID]*Lot{}, n: len(s.Order)}
	s.Losses = Losses{old: next(7).lost(parts[6], s.Lots.old.at)}
	s.carried = next(9).carried(parts[8])
	for _, u := range read {
		if u.err != nil {
			return nil, u.err
		}
	}
	if s.Records.n > 0 && standing.kinds(s) {
		return nil, standing.err
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

func (u *unpacker) history(from Source) Log {
	o := &bygone{kinds: u.bytes(u.many()), from: from}
	o.fixes = make([]fix, u.many())
	for i := range o.fixes {
		o.fixes[i] = fix{RecordID(u.uint()), RecordID(u.uint())}
	}
	return Log{old: o, n: len(o.kinds)}
}

func (u *unpacker) standing(from Source) Log {
	o := &bygone{ids: make([]uint32, u.many()), fixed: map[RecordID]RecordID{}, from: from}
	last := int64(0)
	for i := range o.ids {
		more := 1 + u.int()
		last += more
		o.ids[i], o.mixed = uint32(last), o.mixed || more < 1
	}
	for range u.many() {
		id := RecordID(u.uint())
		o.fixed[id] = RecordID(u.uint())
	}
	return Log{old: o, n: len(o.ids)}
}

// kinds gives the records that stand their kinds, and says whether that failed.
func (u *unpacker) kinds(s *State) (failed bool) {
	o, all := s.Records.old, s.History.old.kinds
	o.kinds = make([]byte, len(o.ids))
	for i, id := range o.ids {
		if id == 0 || int(id) > len(all) {
			u.fail("a record's number")
			return true
		}
		o.kinds[i] = all[id-1]
	}
	return false
}

func (u *unpacker) cellar(packed stretch) *cellar {
	c := &cellar{ids: u.lots, at: make(map[LotID]uint32, len(u.lots)), packed: packed}
	for i, id := range u.lots {
		c.at[id] = uint32(i)
	}
	all := make([]uint32, 0, len(u.b)/4)
	for b := u.b; len(b) >= 4; b = b[4:] {
		all = append(all, binary.LittleEndian.Uint32(b))
	}
	n := len(u.lots)
	if len(all) <= n || !slices.IsSorted(all[:n+1]) || int(all[n]) != packed.len() {
		u.fail("a lot")
		return c
	}
	if c.begins, c.onHand = all[:n+1], all[n+1:]; slices.ContainsFunc(c.onHand, func(i uint32) bool { return int(i) >= n }) {
		u.fail("a lot")
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
