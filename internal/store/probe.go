package store

import (
	"hopperful/fact"

	"encoding/binary"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// applicationID marks an SQLite file as a shop: "hopf" in its header.
const applicationID = 0x686f7066

// The header of an SQLite file: magic at its start, application id at byte 68.
// From the SQLite file format, section 1.3.
const (
	magic         = "SQLite format 3\x00"
	headerLength  = 100
	applicationAt = 68
)

// probe says what is at path before anything touches it: nil for a shop.
func probe(path string) error {
	f, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR):
		return missing(path, err)
	case err != nil:
		return explain(err, "doing.looking_at", path)
	case f.IsDir():
		return &Error{Foreign, fact.Say("store.is_folder", fact.Name("path", path)), fact.Say("store.do_name_inside"), nil}
	case !f.Mode().IsRegular():
		return &Error{Foreign, fact.Say("store.not_a_file", fact.Name("path", path)), fact.Say("store.name_a_file"), nil}
	case f.Size() == 0:
		return &Error{Missing, fact.Say("store.is_empty", fact.Name("path", path)), fact.Say("store.do_start_or_path"), nil}
	}
	return probeHeader(path)
}

// missing tells a missing folder from a missing file.
func missing(path string, err error) error {
	if folder, no := os.Stat(filepath.Dir(path)); no != nil || !folder.IsDir() {
		return &Error{Missing, fact.Say("store.no_folder", fact.Name("path", filepath.Dir(path))), fact.Say("store.do_make_it"), err}
	}
	return &Error{Missing, fact.Say("store.no_shop_file", fact.Name("path", path)), fact.Say("store.do_start_or_path"), err}
}

func probeHeader(path string) error {
	file, err := os.Open(path)
	if err != nil {
		return explain(err, "doing.opening", path)
	}
	defer file.Close()
	header := make([]byte, headerLength)
	n, err := io.ReadFull(file, header)
	switch {
	case err != nil && !errors.Is(err, io.ErrUnexpectedEOF):
		return explain(err, "doing.reading", path)
	case n < len(magic) || string(header[:len(magic)]) != magic:
		return &Error{Foreign, fact.Say("store.not_a_shop", fact.Name("path", path)), fact.Say("store.do_check_path"), nil}
	case n < headerLength:
		return damaged(path, errors.New("it ends within its header"))
	case binary.BigEndian.Uint32(header[applicationAt:]) != applicationID:
		return &Error{Foreign, fact.Say("store.other_sqlite", fact.Name("path", path)), fact.Say("store.check_the_path"), nil}
	}
	return nil
}
