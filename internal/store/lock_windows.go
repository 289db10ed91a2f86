package store

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// beyond is where the lock lies: past the note, which others must be able to
// read, since a lock on Windows keeps readers out too.
const beyond = 1 << 20

// lock takes the file for this program alone, without waiting.
func lock(f *os.File) error {
	at := windows.Overlapped{Offset: beyond}
	err := windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, &at)
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return errHeld
	}
	return err
}

// unlock gives the lock back; what fails now, closing the file mends.
func unlock(f *os.File) {
	at := windows.Overlapped{Offset: beyond}
	_ = windows.UnlockFileEx(windows.Handle(f.Fd()), 0, 1, 0, &at)
}
