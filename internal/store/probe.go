package store

import (
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
		return explain(err, "Looking at", path)
	case f.IsDir():
		return &Error{Foreign, path + " is a folder, not a shop.", "Name the file inside it.", nil}
	case !f.Mode().IsRegular():
		return &Error{Foreign, path + " is not an ordinary file.", "Name a file.", nil}
	case f.Size() == 0:
		return &Error{Missing, path + " is empty; there is no shop in it.", "Start a new one there, or check the path.", nil}
	}
	return probeHeader(path)
}

// missing tells a missing folder from a missing file.
func missing(path string, err error) error {
	if folder, no := os.Stat(filepath.Dir(path)); no != nil || !folder.IsDir() {
		return &Error{Missing, "There is no folder " + filepath.Dir(path) + ".", "Make it first, or check the path.", err}
	}
	return &Error{Missing, "There is no shop at " + path + ".", "Start a new one there, or check the path.", err}
}

func probeHeader(path string) error {
	file, err := os.Open(path)
	if err != nil {
		return explain(err, "Opening", path)
	}
	defer file.Close()
	header := make([]byte, headerLength)
	n, err := io.ReadFull(file, header)
	switch {
	case err != nil && !errors.Is(err, io.ErrUnexpectedEOF):
		return explain(err, "Reading", path)
	case n < len(magic) || string(header[:len(magic)]) != magic:
		return &Error{Foreign, path + " is not a shop.", "Check the path; a shop's file ends in .hopperful by custom.", nil}
	case n < headerLength:
		return damaged(path, errors.New("it ends within its header"))
	case binary.BigEndian.Uint32(header[applicationAt:]) != applicationID:
		return &Error{Foreign, path + " is an SQLite file but not a shop.", "Check the path.", nil}
	}
	return nil
}
