package store

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"
)

// lease is the right to write to a shop: a lock of the operating system on a
// small file beside it. The system drops the lock when the program ends, in
// whatever way; the file stays, and says who holds it.
type lease struct{ file *os.File }

// errHeld is what lock returns when another holds the lock.
var errHeld = errors.New("held by another")

// mostHolder bounds what is read of the note in the lease's file.
const mostHolder = 200

func takeLease(path string, now time.Time) (*lease, error) {
	name := path + ".lock"
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, explain(err, "Opening", path)
	}
	if err := lock(f); err != nil {
		holder, _ := io.ReadAll(io.LimitReader(f, mostHolder)) // the note only helps the reader
		f.Close()
		if !errors.Is(err, errHeld) {
			return nil, explain(err, "Locking", name)
		}
		return nil, held(path, strings.TrimSpace(string(holder)))
	}
	l := &lease{f}
	note := fmt.Sprintf("process %d since %s\n", os.Getpid(), now.Format("2006-01-02 15:04:05"))
	err = f.Truncate(0)
	if err == nil {
		_, err = f.WriteAt([]byte(note), 0)
	}
	if err != nil {
		l.release()
		return nil, explain(err, "Locking", name)
	}
	return l, nil
}

func held(path, holder string) error {
	if holder == "" {
		holder = "a process that has not said its number"
	}
	return &Error{InUse, fmt.Sprintf("The shop %s is open in another hopperful (%s).", path, holder),
		"Stop it, or use its address in a browser.", nil}
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
}
