package store

import (
	"errors"
	"fmt"
	"io/fs"
	"syscall"

	"hopperful/shop"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// Code sorts what can be wrong with a shop's file.
type Code string

// The codes.
const (
	Missing  Code = "missing"   // there is no such file or folder
	Exists   Code = "exists"    // there is a file already
	Foreign  Code = "foreign"   // it is no shop
	Damaged  Code = "damaged"   // it is a shop, but cannot be read
	Newer    Code = "newer"     // a later version of the program wrote it
	InUse    Code = "in_use"    // another program has it open for writing
	ReadOnly Code = "read_only" // it may not be written
	Full     Code = "full"      // no room
	Closed   Code = "closed"    // the store was closed
	Failed   Code = "failed"    // anything else; Err says what
)

// Error says in the user's words what is wrong with a shop's file.
type Error struct {
	Code Code
	Say  string // one sentence: what is wrong, with the path
	Hint string // what to do about it; may be empty
	Err  error  // what the system said; may be nil
}

// Error is the sentence, what the system said, and the hint.
func (e *Error) Error() string {
	text := e.Say
	if e.Err != nil {
		text += fmt.Sprintf(" (%v)", e.Err)
	}
	if e.Hint != "" {
		text += " " + e.Hint
	}
	return text
}

// Unwrap is what the system said.
func (e *Error) Unwrap() error { return e.Err }

// Is says whether err is an Error of that code.
func Is(err error, code Code) bool {
	var e *Error
	return errors.As(err, &e) && e.Code == code
}

// explain turns what the system or SQLite said into an Error. An error that is
// one already, or one of package shop, is not touched.
func explain(err error, doing, path string) error {
	var said *sqlite.Error
	var own *Error
	var refused *shop.Error
	if err != nil && OnServer(path) {
		if e := explainServer(err, doing, path); e != nil {
			return e
		}
	}
	switch {
	case err == nil:
		return nil
	case errors.As(err, &own) || errors.As(err, &refused):
		return err
	case errors.As(err, &said):
		return explainSQLite(said.Code(), err, doing, path)
	case errors.Is(err, syscall.ENOSPC):
		return full(path, err)
	case errors.Is(err, fs.ErrNotExist):
		return &Error{Missing, doing + " failed: part of " + path + " is not there.", "Make the folder first, or check the path.", err}
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return readOnly(path, err)
	}
	return &Error{Failed, doing + " " + path + " failed.", "", err}
}

func explainSQLite(code int, err error, doing, path string) error {
	switch code & 0xff { // the low byte is the primary code, the rest says where
	case sqlite3.SQLITE_FULL:
		return full(path, err)
	case sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM:
		return readOnly(path, err)
	case sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB:
		return damaged(path, err)
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
		return &Error{InUse, "Another program is holding " + path + ".", "Close it and try again.", err}
	case sqlite3.SQLITE_CANTOPEN:
		return &Error{ReadOnly, path + " cannot be opened.", "Check that the folder is there and may be written.", err}
	}
	return &Error{Failed, doing + " " + path + " failed.", "", err}
}

func full(path string, err error) error {
	return &Error{Full, "There is no room left for " + path + "; nothing was written.", "Free some space on the disk and try again.", err}
}

func readOnly(path string, err error) error {
	return &Error{ReadOnly, path + " may not be written.", "Check the permissions of the file and its folder.", err}
}

// newer says that a file is of a form this program does not know.
func newer(path string, at int) error {
	return &Error{Newer, fmt.Sprintf("%s was written by a later version of hopperful (form %d; this one knows %d).", path, at, len(migrations)),
		"Use that version.", nil}
}

// unreadable tells a record that makes no sense from a file that cannot be read.
func unreadable(err error, doing, path string) error {
	var bad *badRecord
	switch {
	case !errors.As(err, &bad):
		return explain(err, doing, path)
	case bad.whole:
		return &Error{Newer, fmt.Sprintf("Record %d of %s is as it was written, but this version of hopperful does not know it.", bad.id, path),
			"Use the version that wrote it, or a later one.", bad.err}
	}
	return damaged(path, err)
}

// senseless is about records that can be read and do not fit together.
func senseless(path string, sealed bool, err error) error {
	if !sealed {
		return damaged(path, err)
	}
	return &Error{Newer, "The records of " + path + " are as they were written, but this version of hopperful does not accept them.",
		"Use the version that wrote them, or a later one.", err}
}

func damaged(path string, err error) error {
	return &Error{Damaged, path + " is damaged.", "Keep a copy of it, and go back to the latest backup: hopperful restore.", err}
}
