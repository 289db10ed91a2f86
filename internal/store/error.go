package store

import (
	"errors"
	"fmt"
	"io/fs"
	"syscall"

	"hopperful/fact"
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

// Error says what is wrong with a shop's file.
type Error struct {
	Code   Code
	What   fact.Saying // what is wrong, with the path
	Advice fact.Saying // what to do about it; may be empty
	Err    error       // what the system said; may be nil
}

// Error is the code of what is wrong, with the names in it, and what the system
// said, as a log shows it; the edges word it.
func (e *Error) Error() string {
	text := e.What.Code
	for _, f := range e.What.Facts {
		if f.Text != "" {
			text += " " + f.Text
		}
	}
	if e.Err != nil {
		text += fmt.Sprintf(" (%v)", e.Err)
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
		return &Error{Missing, fact.Say("store.part_missing", fact.Word("doing", doing), fact.Name("path", path)), fact.Say("store.do_make_folder"), err}
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return readOnly(path, err)
	}
	return &Error{Failed, fact.Say("store.failed", fact.Word("doing", doing), fact.Name("path", path)), fact.Saying{}, err}
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
		return &Error{InUse, fact.Say("store.held_by_program", fact.Name("path", path)), fact.Say("store.do_close_it"), err}
	case sqlite3.SQLITE_CANTOPEN:
		return &Error{ReadOnly, fact.Say("store.cannot_be_opened", fact.Name("path", path)), fact.Say("store.do_check_folder"), err}
	}
	return &Error{Failed, fact.Say("store.failed", fact.Word("doing", doing), fact.Name("path", path)), fact.Saying{}, err}
}

func full(path string, err error) error {
	return &Error{Full, fact.Say("store.disk_full", fact.Name("path", path)), fact.Say("store.do_free_space"), err}
}

func readOnly(path string, err error) error {
	return &Error{ReadOnly, fact.Say("store.not_writable", fact.Name("path", path)), fact.Say("store.do_check_permissions"), err}
}

// newer says that a file is of a form this program does not know.
func newer(path string, at int) error {
	return &Error{Newer, fact.Say("store.of_later_version", fact.Name("path", path), fact.Count("at", at), fact.Count("n", len(migrations))),
		fact.Say("store.use_that_version"), nil}
}

// unreadable tells a record that makes no sense from a file that cannot be read.
func unreadable(err error, doing, path string) error {
	var bad *badRecord
	switch {
	case !errors.As(err, &bad):
		return explain(err, doing, path)
	case bad.whole:
		return &Error{Newer, fact.Say("store.record_of_later_version", fact.Count("id", int(bad.id)), fact.Name("path", path)),
			fact.Say("store.do_that_version"), bad.err}
	}
	return damaged(path, err)
}

// senseless is about records that can be read and do not fit together.
func senseless(path string, sealed bool, err error) error {
	if !sealed {
		return damaged(path, err)
	}
	return &Error{Newer, fact.Say("store.records_of_later_version", fact.Name("path", path)),
		fact.Say("store.do_their_version"), err}
}

func damaged(path string, err error) error {
	return &Error{Damaged, fact.Say("store.is_damaged", fact.Name("path", path)), fact.Say("store.do_copy_and_restore"), err}
}
