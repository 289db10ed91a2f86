package store

import (
	"errors"
	"io"
	"os"

	"golang.org/x/sys/unix"
)

// farOut is where the lock on a shop's file lies: beyond every byte SQLite locks
// (1 GiB and the 512 after it; its file format, section 1.4) and beyond all content.
const farOut = 1 << 40

// lockShop takes the shop's file for this program alone, without waiting. The
// lock belongs to the open file, not to the process, so that SQLite's own locks
// on the file, and its closing of it, do not touch it.
func lockShop(f *os.File) error {
	l := unix.Flock_t{Type: unix.F_WRLCK, Whence: io.SeekStart, Start: farOut, Len: 1}
	err := unix.FcntlFlock(f.Fd(), unix.F_OFD_SETLK, &l)
	if errors.Is(err, unix.EAGAIN) || errors.Is(err, unix.EACCES) {
		return errHeld
	}
	return err
}

// unlockShop gives the lock back; what fails now, closing the file mends.
func unlockShop(f *os.File) {
	l := unix.Flock_t{Type: unix.F_UNLCK, Whence: io.SeekStart, Start: farOut, Len: 1}
	_ = unix.FcntlFlock(f.Fd(), unix.F_OFD_SETLK, &l)
}
