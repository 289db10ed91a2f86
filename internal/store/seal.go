package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"hash"
	"io"
	"strconv"

	"hopperful/shop"
)

// A seal is a hash over a record as it stands in the file and over the seal of
// the record before it, so that no record can change, go or come without the
// seals from there on ceasing to fit. It finds damage and careless hands; who
// may write to the file can seal it anew.
type seal [sha256.Size]byte

// row is a record as it stands in the file.
type row struct {
	id              int64
	kind, at, noted string
	by, note        string
	corrects        int64
	body            string
	seal            []byte // nil in a file of the first form
}

// sealed is the seal of a row that follows the record of that seal: SHA-256
// (FIPS 180-4) over the seal before and each column, with its length before it.
func (r *row) sealed(before seal) seal {
	h := sha256.New()
	h.Write(before[:])
	for _, column := range []string{strconv.FormatInt(r.id, 10), r.kind, r.at, r.noted, r.by, r.note,
		strconv.FormatInt(r.corrects, 10), r.body} {
		writeColumn(h, column)
	}
	return seal(h.Sum(nil))
}

// writeColumn never fails; see package hash.
func writeColumn(h hash.Hash, text string) {
	h.Write(binary.BigEndian.AppendUint64(nil, uint64(len(text))))
	io.WriteString(h, text)
}

// What can be wrong with a row whose place in the log is known.
var (
	errChanged = errors.New("it is not as it was written")
	errGap     = errors.New("the record before it is not there")
)

// follows checks that a row is the one that was written after the record of that
// number and seal, and returns its own seal. A row of the first form has none.
func (r *row) follows(last shop.RecordID, before seal) (seal, error) {
	own := r.sealed(before)
	switch {
	case r.id != int64(last)+1:
		return own, errGap
	case r.seal != nil && string(r.seal) != string(own[:]):
		return own, errChanged
	}
	return own, nil
}

// sealAll seals every record of a file that had no seals yet.
func sealAll(ctx context.Context, tx *sql.Tx) error {
	rows, err := tx.QueryContext(ctx, queryAfterFirstForm, 0)
	if err != nil {
		return err
	}
	list, err := readRows(rows)
	if err != nil {
		return err
	}
	stmt, err := tx.PrepareContext(ctx, querySeal)
	if err != nil {
		return err
	}
	defer stmt.Close()
	var last seal
	for i := range list {
		if list[i].id != int64(i)+1 {
			return &badRecord{shop.RecordID(list[i].id), errGap, false}
		}
		if _, err := list[i].record(); err != nil { // a seal would say that it was written like this
			return &badRecord{shop.RecordID(list[i].id), err, false}
		}
		last = list[i].sealed(last)
		if _, err := stmt.ExecContext(ctx, list[i].id, last[:]); err != nil {
			return fmt.Errorf("record %d: %w", list[i].id, err)
		}
	}
	return nil
}
