//go:build unix

package store

import (
	"errors"
	"os"
	"syscall"
)

// lock takes the file for this program alone, without waiting.
func lock(f *os.File) error {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return errHeld
	}
	return err
}

// unlock gives the lock back; what fails now, closing the file mends.
func unlock(f *os.File) { _ = syscall.Flock(int(f.Fd()), syscall.LOCK_UN) }

// names is how many names a file has.
func names(f *os.File) int {
	facts, err := f.Stat()
	if err != nil {
		return 1
	}
	if s, ok := facts.Sys().(*syscall.Stat_t); ok {
		return int(s.Nlink)
	}
	return 1
}
