package store

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
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
	keptMark  = "hopperful kept state 3\n"
	keptBlock = 8 << 10 // bytes under one check sum, and read at a time: a lot has some hundred
	manyKept  = 16      // blocks are looked at together, and written
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

// writeKept writes a packed state that ends with a record, and gives it back as it lies in the file.
func writeKept(path string, end tail, pack func(io.Writer) error) (shop.Packed, error) {
	f, err := os.CreateTemp(filepath.Dir(path), filepath.Base(path)+".state.*.part")
	if err != nil {
		return nil, err
	}
	out := bufio.NewWriterSize(f, manyKept*keptBlock)
	w := &summing{to: out}
	head := headOf(end)
	if _, err = w.Write(head); err == nil {
		err = pack(w)
	}
	size := w.size()
	if err == nil {
		err = errors.Join(w.close(), out.Flush())
	}
	var packed shop.Packed
	if err == nil {
		packed, err = lying(f, path, len(head), size, w.sums)
	}
	if err == nil {
		err = os.Rename(f.Name(), keptPath(path))
	}
	if err != nil {
		f.Close()
		os.Remove(f.Name())
		return nil, err
	}
	return packed, nil
}

// headOf is what stands before a packed state.
func headOf(end tail) []byte {
	b := append([]byte(keptMark), byte(len(program())))
	b = append(b, program()...)
	b = binary.LittleEndian.AppendUint64(b, uint64(end.id))
	return append(b, end.seal[:]...)
}

// summing writes block by block, and sums each up.
type summing struct {
	to    io.Writer
	block []byte
	sums  []uint32
}

func (w *summing) size() int { return len(w.sums)*keptBlock + len(w.block) }

func (w *summing) Write(b []byte) (int, error) {
	for n := len(b); ; {
		room := min(keptBlock-len(w.block), len(b))
		w.block, b = append(w.block, b[:room]...), b[room:]
		if len(w.block) < keptBlock {
			return n, nil
		}
		if err := w.pass(); err != nil {
			return 0, err
		}
	}
}

func (w *summing) pass() error {
	w.sums = append(w.sums, sumOf(w.block))
	_, err := w.to.Write(w.block)
	w.block = w.block[:0]
	return err
}

// close writes the last block, which may be short, and the sums after it.
func (w *summing) close() error {
	if len(w.block) > 0 {
		if err := w.pass(); err != nil {
			return err
		}
	}
	var b []byte
	for _, sum := range w.sums {
		b = binary.LittleEndian.AppendUint32(b, sum)
	}
	_, err := w.to.Write(binary.LittleEndian.AppendUint32(b, uint32(len(w.sums))))
	return err
}

// Why a kept state does not count.
var (
	errNoneKept     = errors.New("none is kept")
	errKeptDamaged  = errors.New("it is damaged")
	errOtherProgram = errors.New("another version of the program wrote it")
	errOtherRecords = errors.New("it is of other records")
)

// openKept opens what is beside a shop, looks at all of it, and says which record it ends with.
func openKept(path string) (tail, shop.Packed, error) {
	var end tail
	f, err := os.Open(keptPath(path))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return end, nil, errNoneKept
	case err != nil:
		return end, nil, err
	}
	whole, sums, err := sumsOf(f)
	head := make([]byte, min(whole, len(headOf(end))))
	if err == nil {
		_, err = f.ReadAt(head, 0)
	}
	rest, ours := bytes.CutPrefix(head, headOf(end)[:len(headOf(end))-8-len(end.seal)])
	var packed shop.Packed
	switch {
	case err != nil:
	case !ours || program() == "":
		err = errOtherProgram
	case len(rest) < 8+len(end.seal):
		err = errKeptDamaged
	default:
		end.id = shop.RecordID(binary.LittleEndian.Uint64(rest))
		copy(end.seal[:], rest[8:])
		packed, err = lying(f, path, len(head), whole, sums)
	}
	if err != nil {
		f.Close()
	}
	return end, packed, err
}

// sumsOf are the sums of the blocks of a kept state that is whole, and how long it is without them.
func sumsOf(f *os.File) (whole int, sums []uint32, err error) {
	about, err := f.Stat()
	if err != nil {
		return 0, nil, err
	}
	var last [4]byte
	if about.Size() < 4 {
		return 0, nil, errKeptDamaged
	}
	if _, err := f.ReadAt(last[:], about.Size()-4); err != nil {
		return 0, nil, err
	}
	n := int64(binary.LittleEndian.Uint32(last[:]))
	left := about.Size() - 4 - 4*n
	if left < 0 || (left+keptBlock-1)/keptBlock != n {
		return 0, nil, errKeptDamaged
	}
	b := make([]byte, 4*n)
	if _, err := f.ReadAt(b, left); err != nil {
		return 0, nil, err
	}
	many := make([]byte, manyKept*keptBlock)
	for at := int64(0); at < left; at += int64(len(many)) {
		part := many[:min(int64(len(many)), left-at)]
		if _, err := f.ReadAt(part, at); err != nil {
			return 0, nil, err
		}
		for ; len(part) > 0; part = part[min(keptBlock, len(part)):] {
			sum := binary.LittleEndian.Uint32(b[4*len(sums):])
			if sumOf(part[:min(keptBlock, len(part))]) != sum {
				return 0, nil, errKeptDamaged
			}
			sums = append(sums, sum)
		}
	}
	return int(left), sums, nil
}

// kept is the state kept beside the shop, with the record it ends with; why not, when
// it does not count.
func kept(ctx context.Context, db asker, r reader, path string, from shop.Source) (*shop.State, tail, error) {
	end, packed, err := openKept(path)
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
