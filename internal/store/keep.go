package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"
	"path/filepath"
	"sync"

	"hopperful/shop"
)

// What followed from the records is kept in a file beside them, so that a long history
// need not be folded at each opening. It may go at any time and is made anew: it counts
// only while the program that reads it is the one that wrote it, every block of it is
// whole, and the record it ends with is in the shop under the same seal.

const (
	keptMark  = "hopperful kept state 1\n"
	keptBlock = 64 << 10 // bytes under one check sum
)

// How much lies between the records and the kept state, in records. Judgement: a
// thousand records fold in some 30 ms, and what was written lately is what is
// corrected, which then continues from the kept state.
var (
	keptFrom   = 4096 // a shorter history is folded anew
	keptLag    = 1024 // of the newest are left out of it
	keptUntil  = 4096 // beyond it so many more, and it is made anew
	readAtOnce = 32768
)

// keptPath is the file beside the shop's.
func keptPath(path string) string { return path + ".state" }

// sumOf is CRC-32C, which finds any burst of up to 32 bits in a block.
func sumOf(block []byte) uint32 { return crc32.Checksum(block, crc32.MakeTable(crc32.Castagnoli)) }

// program tells this program from any other, also from itself built anew: rules that
// were mended give another state. Empty where the system does not say; nothing is
// kept then.
var program = sync.OnceValue(func() string {
	name, err := os.Executable()
	if err != nil {
		return ""
	}
	f, err := os.Stat(name)
	if err != nil {
		return ""
	}
	shape := sha256.Sum256([]byte(shop.Fingerprint()))
	return fmt.Sprintf("%d %d %x", f.Size(), f.ModTime().UnixNano(), shape)
})

// writeKept writes a packed state that ends with a record.
func writeKept(path string, end tail, packed []byte) error {
	b := append([]byte(keptMark), byte(len(program())))
	b = append(b, program()...)
	b = binary.LittleEndian.AppendUint64(b, uint64(end.id))
	b = append(b, end.seal[:]...)
	b = append(b, packed...)
	var sums []byte
	for block := range blocks(b) {
		sums = binary.LittleEndian.AppendUint32(sums, sumOf(block))
	}
	sums = binary.LittleEndian.AppendUint32(sums, uint32(len(sums)/4))
	f, err := os.CreateTemp(filepath.Dir(path), filepath.Base(path)+".state.*.part")
	if err != nil {
		return err
	}
	_, err = f.Write(append(b, sums...))
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), keptPath(path))
	}
	if err != nil {
		os.Remove(f.Name())
	}
	return err
}

// blocks are the stretches under one check sum.
func blocks(b []byte) func(func([]byte) bool) {
	return func(yield func([]byte) bool) {
		for len(b) > 0 {
			n := min(len(b), keptBlock)
			if !yield(b[:n]) {
				return
			}
			b = b[n:]
		}
	}
}

// Why a kept state does not count.
var (
	errNoneKept     = errors.New("none is kept")
	errKeptDamaged  = errors.New("it is damaged")
	errOtherProgram = errors.New("another version of the program wrote it")
	errOtherRecords = errors.New("it is of other records")
)

// readKept reads what is beside a shop: the packed state and the record it ends with.
func readKept(path string) (tail, []byte, error) {
	var end tail
	b, err := os.ReadFile(keptPath(path))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return end, nil, errNoneKept
	case err != nil:
		return end, nil, err
	case len(b) < 4:
		return end, nil, errKeptDamaged
	}
	n := int(binary.LittleEndian.Uint32(b[len(b)-4:]))
	whole := len(b) - 4 - 4*n
	if n < 0 || whole < 0 || (whole+keptBlock-1)/keptBlock != n {
		return end, nil, errKeptDamaged
	}
	sums := b[whole:]
	b = b[:whole]
	for block := range blocks(b) {
		if sumOf(block) != binary.LittleEndian.Uint32(sums) {
			return end, nil, errKeptDamaged
		}
		sums = sums[4:]
	}
	own := program()
	b, ok := bytes.CutPrefix(b, append(append([]byte(keptMark), byte(len(own))), own...))
	if !ok || own == "" {
		return end, nil, errOtherProgram
	}
	if len(b) < 8+len(end.seal) {
		return end, nil, errKeptDamaged
	}
	end.id = shop.RecordID(binary.LittleEndian.Uint64(b))
	copy(end.seal[:], b[8:])
	return end, b[8+len(end.seal):], nil
}

// kept is the state kept beside the shop, with the record it ends with; why not, when
// it does not count.
func kept(ctx context.Context, db asker, r reader, path string, from shop.Source) (*shop.State, tail, error) {
	end, packed, err := readKept(path)
	if err != nil {
		return nil, tail{}, err
	}
	if own, err := r.sealOf(ctx, db, end.id); err != nil || own != end.seal {
		return nil, tail{}, errOtherRecords
	}
	state, err := shop.Unpack(packed, from)
	if err != nil || state.History.Len() != int(end.id) {
		return nil, tail{}, errKeptDamaged
	}
	return state, end, nil
}

// sealOf is the seal of a record as it stands in its medium, by a statement of that.
func sealOf(ctx context.Context, db asker, statement string, args ...any) (seal, error) {
	var own seal
	rows, err := db.QueryContext(ctx, statement, args...)
	if err != nil {
		return own, err
	}
	defer rows.Close()
	var b []byte
	if !rows.Next() {
		return own, errors.Join(errGap, rows.Err())
	}
	if err := rows.Scan(&b); err != nil {
		return own, err
	}
	if len(b) != len(own) {
		return own, errChanged
	}
	copy(own[:], b)
	return own, nil
}

// Kept says of the state kept beside a shop how many records it spares folding, and
// why it does not count when it does not.
func Kept(ctx context.Context, path string) (records int, err error) {
	if OnServer(path) {
		return 0, nil // what is kept here of a server's shop is no part of it
	}
	db, form, err := lookAt(ctx, path, Options{})
	if err != nil || form < 2 {
		return 0, err
	}
	defer db.Close()
	_, end, err := kept(ctx, db, ofFile{path, form}, followed(path), nil)
	if errors.Is(err, errNoneKept) {
		return 0, nil
	}
	return int(end.id), err
}
