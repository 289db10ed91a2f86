package store

import (
	"hopperful/fact"

	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// lease is the right to write to a shop: locks of the operating system on the
// shop's file itself, whatever name it is reached by, where the system has locks
// that leave SQLite's alone, and on a small file beside it, which says who holds
// it. The system drops the locks when the program ends, in whatever way; the
// small file stays.
type lease struct {
	file *os.File // the small file
	shop *os.File // nil before there is one
}

// errHeld is what lock returns when another holds the lock.
var errHeld = errors.New("held by another")

// mostHolder bounds what is read of the note in the lease's file.
const mostHolder = 200

func takeLease(path string, now time.Time) (*lease, error) {
	path = followed(path)
	name := path + ".lock"
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, explain(err, "doing.opening", path)
	}
	if err := lock(f); err != nil {
		holder, _ := io.ReadAll(io.LimitReader(f, mostHolder)) // the note only helps the reader
		f.Close()
		if !errors.Is(err, errHeld) {
			return nil, explain(err, "doing.locking", name)
		}
		return nil, held(path, strings.TrimSpace(string(holder)))
	}
	l := &lease{file: f}
	if err := l.hold(path); err != nil {
		l.release()
		return nil, err
	}
	note := fmt.Sprintf("process %d, %s\n", os.Getpid(), now.Format("2006-01-02 15:04:05"))
	err = f.Truncate(0)
	if err == nil {
		_, err = f.WriteAt([]byte(note), 0)
	}
	if err != nil {
		l.release()
		return nil, explain(err, "doing.locking", name)
	}
	return l, nil
}

// followed is the file a name leads to, so that a link to a shop is the shop.
func followed(path string) string {
	if to, err := filepath.EvalSymlinks(path); err == nil {
		return to
	}
	return path
}

// Beside is the name of a file that belongs to the shop at path and lies beside it,
// by whatever name the shop was reached.
func Beside(path, ending string) string { return followed(path) + ending }

// hold locks the shop's file itself, when it is there. A file of several names
// is refused: SQLite looks for its log beside the name it was given, and under
// the other name what stands in the log would be missed.
func (l *lease) hold(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return explain(err, "doing.opening", path)
	}
	l.shop = f
	if err := lockShop(f); err != nil {
		if errors.Is(err, errHeld) {
			return held(path, "")
		}
		return explain(err, "doing.locking", path)
	}
	if n := names(f); n > 1 {
		return &Error{Failed, fact.Say("store.hard_links", fact.Name("path", path), fact.Count("n", n)),
			fact.Say("store.do_copy"), nil}
	}
	return nil
}

func held(path, holder string) error {
	return &Error{InUse, fact.Say("store.in_use", fact.Name("path", path), fact.Name("holder", holder)),
		fact.Say("store.do_stop_or_browse"), nil}
}

// release gives the lease back; a second time does nothing.
func (l *lease) release() {
	if l == nil || l.file == nil {
		return
	}
	l.file.Truncate(0) // the note is no longer true
	unlock(l.file)     // closing is not enough: a child just being started may still hold the file
	l.file.Close()
	l.file = nil
	if l.shop != nil {
		unlockShop(l.shop)
		l.shop.Close()
		l.shop = nil
	}
}
