package shop

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"reflect"
	"slices"
	"strings"
	"time"
)

// A state is packed as its own types say, field after field, those that are not
// exported too: a field that is added is kept without a line here, and changes the
// [Fingerprint], so that what an earlier program packed is not taken for this one's.

// packer writes values one after the other.
type packer struct {
	b    []byte           // not passed on yet
	lots map[LotID]uint32 // labels, by their place

	to   io.Writer // nil: all stays in b
	sent int       // passed on
	err  error
}

// passOn is how many bytes are gathered before they are passed on.
const passOn = 64 << 10

// at is how many bytes were written so far.
func (p *packer) at() int { return p.sent + len(p.b) }

// spill passes on what was written, once it is much: a state of many years is never packed in
// memory whole.
func (p *packer) spill() {
	if p.to != nil && len(p.b) >= passOn {
		p.flush()
	}
}

func (p *packer) flush() {
	if p.err == nil {
		_, p.err = p.to.Write(p.b)
	}
	p.sent, p.b = p.at(), p.b[:0]
}

// unpacker reads them back. What does not fit makes it fail once and for all.
type unpacker struct {
	b    []byte
	lots []LotID
	err  error
}

func (p *packer) int(n int64)   { p.b = binary.AppendVarint(p.b, n) }
func (p *packer) uint(n uint64) { p.b = binary.AppendUvarint(p.b, n) }
func (p *packer) float(x float64) {
	p.b = binary.LittleEndian.AppendUint64(p.b, math.Float64bits(x))
}
func (p *packer) text(s string) {
	p.uint(uint64(len(s)))
	p.b = append(p.b, s...)
}

func (u *unpacker) fail(what string) {
	if u.err == nil {
		u.err = fmt.Errorf("kept state: %s cannot be read", what)
	}
	u.b = nil
}

func (u *unpacker) int() int64 {
	n, k := binary.Varint(u.b)
	if k <= 0 {
		u.fail("a number")
		return 0
	}
	u.b = u.b[k:]
	return n
}

func (u *unpacker) uint() uint64 {
	n, k := binary.Uvarint(u.b)
	if k <= 0 {
		u.fail("a number")
		return 0
	}
	u.b = u.b[k:]
	return n
}

// many is a count of things that take a byte each at least.
func (u *unpacker) many() int {
	n := u.uint()
	if n > uint64(len(u.b)) {
		u.fail("a list")
		return 0
	}
	return int(n)
}

func (u *unpacker) bytes(n int) []byte {
	if n > len(u.b) {
		u.fail("a text")
		return nil
	}
	out := u.b[:n:n]
	u.b = u.b[n:]
	return out
}

func (u *unpacker) float() float64 {
	b := u.bytes(8)
	if b == nil {
		return 0
	}
	return math.Float64frombits(binary.LittleEndian.Uint64(b))
}

func (u *unpacker) text() string { return string(u.bytes(u.many())) }

var (
	typeTime  = reflect.TypeFor[time.Time]()
	typeIDs   = reflect.TypeFor[[]RecordID]()
	typeEdges = reflect.TypeFor[[]Edge]()
	typeBody  = reflect.TypeFor[Body]()
)

// inside is a field that can be read and set, exported or not.
func inside(v reflect.Value, i int) reflect.Value {
	f := v.Field(i)
	return reflect.NewAt(f.Type(), f.Addr().UnsafePointer()).Elem()
}

// value writes what v holds; v can be addressed.
func (p *packer) value(v reflect.Value) {
	switch t := v.Type(); t {
	case typeTime:
		b, err := v.Interface().(time.Time).MarshalBinary()
		if err != nil { // an offset of more than a day: no text of a moment has one
			panic(err)
		}
		p.text(string(b))
		return
	case typeIDs:
		p.ids(v.Interface().([]RecordID))
		return
	case typeEdges:
		p.edges(v.Interface().([]Edge))
		return
	}
	switch v.Kind() {
	case reflect.Bool:
		p.b = append(p.b, map[bool]byte{true: 1}[v.Bool()])
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		p.int(v.Int())
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		p.uint(v.Uint())
	case reflect.Float64:
		p.float(v.Float())
	case reflect.String:
		p.text(v.String())
	case reflect.Struct:
		for i := range v.NumField() {
			p.value(inside(v, i))
		}
	case reflect.Array:
		for i := range v.Len() {
			p.value(v.Index(i))
		}
	case reflect.Pointer:
		if p.there(v.IsNil(), 1); !v.IsNil() {
			p.value(v.Elem())
		}
	case reflect.Slice:
		p.there(v.IsNil(), v.Len())
		for i := range v.Len() {
			p.value(v.Index(i))
			p.spill()
		}
	case reflect.Map:
		p.mapping(v)
	case reflect.Interface:
		if p.there(v.IsNil(), 1); !v.IsNil() {
			p.text(v.Interface().(Body).Kind())
			p.value(v.Elem().Elem())
		}
	default:
		panic("a " + v.Type().String() + " cannot be kept") // a test packs every type there is
	}
}

// there says of a list, or of what may be nil, how much follows.
func (p *packer) there(isNil bool, n int) {
	if isNil {
		p.uint(0)
		return
	}
	p.uint(uint64(n) + 1)
}

// mapping writes a map in the order of its packed keys.
func (p *packer) mapping(v reflect.Value) {
	p.there(v.IsNil(), v.Len())
	var all [][]byte
	for k, x := range v.Seq2() {
		one := &packer{lots: p.lots}
		for _, y := range []reflect.Value{k, x} {
			at := reflect.New(y.Type()).Elem()
			at.Set(y)
			one.value(at)
		}
		all = append(all, one.b)
	}
	slices.SortFunc(all, bytes.Compare)
	p.b = append(p.b, bytes.Join(all, nil)...)
}

// ids writes record numbers, which mostly rise by little.
func (p *packer) ids(list []RecordID) {
	p.there(list == nil, len(list))
	last := RecordID(0)
	for _, id := range list {
		p.int(int64(id - last))
		last = id
	}
}

// edges writes where mass came from or went.
func (p *packer) edges(list []Edge) {
	p.there(list == nil, len(list))
	last := RecordID(0)
	for _, e := range list {
		p.uint(uint64(p.lots[e.Lot]))
		p.float(e.Mass)
		p.int(int64(e.Record - last))
		last = e.Record
	}
}

// value fills v with what was written.
func (u *unpacker) value(v reflect.Value) {
	if u.err != nil {
		return
	}
	switch t := v.Type(); t {
	case typeTime:
		var at time.Time
		if at.UnmarshalBinary([]byte(u.text())) != nil {
			u.fail("a moment")
		}
		v.Set(reflect.ValueOf(at))
		return
	case typeIDs:
		v.Set(reflect.ValueOf(u.ids()))
		return
	case typeEdges:
		v.Set(reflect.ValueOf(u.edges()))
		return
	}
	switch v.Kind() {
	case reflect.Bool:
		b := u.bytes(1)
		v.SetBool(len(b) == 1 && b[0] == 1)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		v.SetInt(u.int())
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		v.SetUint(u.uint())
	case reflect.Float64:
		v.SetFloat(u.float())
	case reflect.String:
		v.SetString(u.text())
	case reflect.Struct:
		for i := range v.NumField() {
			u.value(inside(v, i))
		}
	case reflect.Array:
		for i := range v.Len() {
			u.value(v.Index(i))
		}
	case reflect.Pointer:
		if _, ok := u.there(); ok {
			v.Set(reflect.New(v.Type().Elem()))
			u.value(v.Elem())
		}
	case reflect.Slice:
		if n, ok := u.there(); ok {
			v.Set(reflect.MakeSlice(v.Type(), n, roomFor(n)))
			for i := range n {
				u.value(v.Index(i))
			}
		}
	case reflect.Map:
		u.mapping(v)
	case reflect.Interface:
		u.body(v)
	}
}

// there is the counterpart of the packer's.
func (u *unpacker) there() (n int, ok bool) {
	k := u.uint()
	if k == 0 {
		return 0, false
	}
	if k-1 > uint64(len(u.b))+1 {
		u.fail("a list")
		return 0, false
	}
	return int(k - 1), true
}

func (u *unpacker) mapping(v reflect.Value) {
	n, ok := u.there()
	if !ok {
		return
	}
	m := reflect.MakeMapWithSize(v.Type(), n)
	for range n {
		k, x := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		u.value(k)
		u.value(x)
		m.SetMapIndex(k, x)
	}
	v.Set(m)
}

func (u *unpacker) body(v reflect.Value) {
	if _, ok := u.there(); !ok {
		return
	}
	t, ok := kinds[u.text()]
	if !ok {
		u.fail("a record's kind")
		return
	}
	b := reflect.New(t)
	u.value(b.Elem())
	v.Set(b)
}

// roomFor is the room of a list of n: what goes on from a long one is put behind its end
// without copying it.
func roomFor(n int) int {
	const long = 4096
	if n < long {
		return n
	}
	return n + n/64 + long
}

func (u *unpacker) ids() []RecordID {
	n, ok := u.there()
	if !ok {
		return nil
	}
	list, last := make([]RecordID, n, roomFor(n)), RecordID(0)
	for i := range list {
		if b := u.b; len(b) > 0 && b[0]&0x81 == 0 { // a byte, and no less than the one before: of a million nearly all
			last, u.b = last+RecordID(b[0]>>1), b[1:]
		} else {
			last += RecordID(u.int())
		}
		list[i] = last
	}
	return list
}

func (u *unpacker) edges() []Edge {
	n, ok := u.there()
	if !ok {
		return nil
	}
	list, last := make([]Edge, n), RecordID(0)
	for i := range list {
		list[i].Lot, list[i].Mass = u.label(), u.float()
		last += RecordID(u.int())
		list[i].Record = last
	}
	return list
}

// label is a lot's label written by its place.
func (u *unpacker) label() LotID {
	i := u.uint()
	if i >= uint64(len(u.lots)) {
		u.fail("a lot's label")
		return ""
	}
	return u.lots[i]
}

func (u *unpacker) lot() *Lot {
	var l Lot
	u.value(reflect.ValueOf(&l).Elem())
	return &l
}

// loss writes one loss; last is the record of the one before.
func (p *packer) loss(x Loss, last RecordID) {
	p.b = append(p.b, byte(slices.Index(lossNames, x.Name)))
	p.uint(uint64(p.lots[x.Lot]))
	p.float(x.Mass)
	p.int(int64(x.Record - last))
}

func (u *unpacker) loss(last RecordID) Loss {
	var x Loss
	if b := u.bytes(1); len(b) == 1 && int(b[0]) < len(lossNames) {
		x.Name = lossNames[b[0]]
	} else {
		u.fail("a loss")
	}
	x.Lot, x.Mass = u.label(), u.float()
	x.Record = last + RecordID(u.int())
	return x
}

// shapeOf writes down what a type is made of, each named type once.
func shapeOf(t reflect.Type, to *strings.Builder, seen map[reflect.Type]bool) {
	to.WriteString(t.String() + ":" + t.Kind().String() + ";")
	if seen[t] || t == typeTime {
		return
	}
	seen[t] = true
	switch t.Kind() {
	case reflect.Struct:
		for i := range t.NumField() {
			to.WriteString(t.Field(i).Name + " ")
			shapeOf(t.Field(i).Type, to, seen)
		}
	case reflect.Pointer, reflect.Slice, reflect.Array:
		shapeOf(t.Elem(), to, seen)
	case reflect.Map:
		shapeOf(t.Key(), to, seen)
		shapeOf(t.Elem(), to, seen)
	case reflect.Interface:
		if t == typeBody {
			for _, b := range Bodies() {
				to.WriteString(b.Kind() + " ")
				shapeOf(reflect.TypeOf(b).Elem(), to, seen)
			}
		}
	}
}
