package store

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"runtime"
	"sync"

	"hopperful/fact"
	"hopperful/shop"
)

// keptFile is a kept state as it lies in its file, which was whole when it was opened. What is
// needed of it is read block by block, each held against its sum again, and the latest are kept in memory.
// The file is closed when no state rests on it any more.
type keptFile struct {
	path string // of the shop
	from io.ReaderAt
	head int // bytes before the packed state
	size int // with the head
	sums []uint32

	lock     sync.Mutex
	hot, old map[int][]byte // blocks, by their number
}

// mostHot is how many blocks are kept before the older half is let go: 2 MB in all.
const mostHot = 128

// lying is a packed state in a file that was looked at. Windows lets nobody put another file in the
// place of one that is open: there it is read whole.
func lying(f *os.File, path string, head, size int, sums []uint32) (shop.Packed, error) {
	k := &keptFile{path: path, from: f, head: head, size: size, sums: sums}
	if runtime.GOOS != "windows" {
		return k, nil
	}
	all := make([]byte, size)
	if _, err := f.ReadAt(all, 0); err != nil {
		return nil, err
	}
	k.from = bytes.NewReader(all)
	return k, f.Close()
}

// Len is how long the packed state is.
func (k *keptFile) Len() int { return k.size - k.head }

// At is a part of it. Where the file no longer has it, whatever asked is stopped with an [*Error]: the
// records have it all, and it is made anew from them when the shop is opened again.
func (k *keptFile) At(from, to int) []byte {
	if to <= from {
		return nil
	}
	from, to = from+k.head, to+k.head
	first, last := from/keptBlock, (to-1)/keptBlock
	if first == last {
		return k.block(first)[from-first*keptBlock : to-first*keptBlock : to-first*keptBlock]
	}
	out := make([]byte, 0, to-from)
	for n := first; n <= last; n++ {
		at := n * keptBlock
		out = append(out, k.block(n)[max(from-at, 0):min(to-at, keptBlock)]...)
	}
	return out
}

// block reads one block, if it is not there yet.
func (k *keptFile) block(n int) []byte {
	k.lock.Lock()
	defer k.lock.Unlock()
	if b, ok := k.hot[n]; ok {
		return b
	}
	b, ok := k.old[n]
	if !ok {
		b = make([]byte, min(keptBlock, k.size-n*keptBlock))
		_, err := k.from.ReadAt(b, int64(n)*keptBlock)
		if err == nil && sumOf(b) != k.sums[n] {
			err = fmt.Errorf("block %d: %w", n, errKeptDamaged)
		}
		if err != nil {
			panic(&Error{Failed, fact.Say("store.kept_gone", fact.Name("path", keptPath(k.path))), fact.Say("store.do_start_anew"), err})
		}
	}
	if len(k.hot) >= mostHot || k.hot == nil {
		k.hot, k.old = map[int][]byte{}, k.hot
	}
	k.hot[n] = b
	return b
}
