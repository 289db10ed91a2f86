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

// farOut is where the lock on a shop's file lies: beyond every byte SQLite locks
// and beyond all content.
const farOut = 1 << 8 // in units of 4 GiB

// lockShop takes the shop's file for this program alone, without waiting.
func lockShop(f *os.File) error {
	at := windows.Overlapped{OffsetHigh: farOut}
	err := windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, &at)
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return errHeld
	}
	return err
}

// unlockShop gives the lock back; what fails now, closing the file mends.
func unlockShop(f *os.File) {
	at := windows.Overlapped{OffsetHigh: farOut}
	_ = windows.UnlockFileEx(windows.Handle(f.Fd()), 0, 1, 0, &at)
}

// names is how many names a file has.
func names(f *os.File) int {
	var facts windows.ByHandleFileInformation
	if err := windows.GetFileInformationByHandle(windows.Handle(f.Fd()), &facts); err != nil {
		return 1
	}
	return int(facts.NumberOfLinks)
}
