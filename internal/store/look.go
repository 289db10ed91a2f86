package store

import (
	"errors"
	"io"
	"os"
	"strings"
)

// Holder says who has the shop at path open for writing, "" when nobody has. It
// asks the system, not only the note: a program that was killed holds nothing.
func Holder(path string) (string, error) {
	f, err := os.OpenFile(followed(path)+".lock", os.O_RDWR, 0)
	if errors.Is(err, os.ErrNotExist) {
		return "", nil
	}
	if err != nil {
		return "", explain(err, "doing.looking_at", path)
	}
	defer f.Close()
	err = lock(f)
	if err == nil {
		unlock(f)
		return "", nil
	}
	if !errors.Is(err, errHeld) {
		return "", explain(err, "doing.looking_at", path)
	}
	note, err := io.ReadAll(io.LimitReader(f, mostHolder))
	if holder := strings.TrimSpace(string(note)); err == nil && holder != "" {
		return holder, nil
	}
	return "?", nil // a process that has not said its number
}
