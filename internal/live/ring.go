package live

import (
	"encoding/binary"
	"errors"
	"hash/crc32"
	"io"
	"math"
	"os"
	"slices"
)

// Ring keeps the latest readings in a file that never grows beyond its size: the oldest
// are written over. Every reading has a place of its own with a sum over it, so that a
// place half written when the program died is left out and no other is lost.
type Ring struct {
	file   *os.File
	places uint64
	next   uint64 // number of the next reading, from 1 on
}

// place is number, time, value, sensor, sum.
const place = 8 + 8 + 8 + 4 + 4

// RingSize is the usual size of the file [bytes]: some days of a mill at work.
const RingSize = 16 << 20

// Kept is a reading as the ring holds it.
type Kept struct {
	Number uint64
	Sensor uint32
	At     float64 // seconds since 1970
	Value  float64 // SI
}

// SensorKey names a sensor in the ring.
func SensorKey(name string) uint32 { return crc32.ChecksumIEEE([]byte(name)) }

// OpenRing opens the ring in a file, makes it where it is not, and returns what it holds,
// oldest first.
func OpenRing(name string, size int64) (*Ring, []Kept, error) {
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, nil, err
	}
	r := &Ring{file: f, places: uint64(max(size/place, 16)), next: 1}
	all, err := r.read()
	if err != nil {
		return nil, nil, errors.Join(err, f.Close())
	}
	if n := len(all); n > 0 {
		r.next = all[n-1].Number + 1
	}
	return r, all, nil
}

// read finds every whole place.
func (r *Ring) read() ([]Kept, error) {
	text, err := io.ReadAll(io.LimitReader(r.file, int64(r.places)*place))
	if err != nil {
		return nil, err
	}
	var all []Kept
	for ; len(text) >= place; text = text[place:] {
		if k, ok := unpack(text[:place]); ok {
			all = append(all, k)
		}
	}
	slices.SortFunc(all, func(a, b Kept) int {
		if a.Number < b.Number {
			return -1
		}
		return 1
	})
	return all, nil
}

func unpack(b []byte) (Kept, bool) {
	k := Kept{Number: binary.LittleEndian.Uint64(b), At: math.Float64frombits(binary.LittleEndian.Uint64(b[8:])),
		Value: math.Float64frombits(binary.LittleEndian.Uint64(b[16:])), Sensor: binary.LittleEndian.Uint32(b[24:])}
	whole := binary.LittleEndian.Uint32(b[28:]) == crc32.ChecksumIEEE(b[:28])
	return k, whole && k.Number > 0 && k.Number < 1<<62 && !math.IsNaN(k.At) && !math.IsInf(k.At, 0) && !math.IsNaN(k.Value) && !math.IsInf(k.Value, 0)
}

// Add keeps a reading. It is safe against the death of the program at once, and against that
// of the computer when the system has written it, some seconds later.
func (r *Ring) Add(sensor uint32, at, value float64) error {
	var b [place]byte
	binary.LittleEndian.PutUint64(b[:], r.next)
	binary.LittleEndian.PutUint64(b[8:], math.Float64bits(at))
	binary.LittleEndian.PutUint64(b[16:], math.Float64bits(value))
	binary.LittleEndian.PutUint32(b[24:], sensor)
	binary.LittleEndian.PutUint32(b[28:], crc32.ChecksumIEEE(b[:28]))
	if _, err := r.file.WriteAt(b[:], int64(r.next%r.places)*place); err != nil {
		return err
	}
	r.next++
	return nil
}

// Close lets go of the file.
func (r *Ring) Close() error { return r.file.Close() }
