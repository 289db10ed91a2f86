package store

import (
	"context"
	"database/sql"
	_ "embed"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"time"

	"hopperful/shop"
)

//go:embed schema.sql
var schema string

// Verified is what was found in a shop whose every record fits.
type Verified struct {
	Form        int           // of the file
	Records     int           // each with the seal it must have
	Newest      time.Time     // when the last of them was written down
	Seal        string        // of the last of them; a later copy of the shop has the same at its number
	WrittenFrom shop.RecordID // the first that was sealed as it was written; 0: the file has no seals
}

// Verify reads a whole shop without changing it. The error names the first
// record that does not fit; all before it are as they were written.
func Verify(ctx context.Context, path string) (_ Verified, err error) {
	defer Stopped(&err)
	if OnServer(path) {
		return verifyOnServer(ctx, path)
	}
	if err := probe(path); err != nil {
		return Verified{}, err
	}
	db, form, err := lookAt(ctx, path, Options{})
	if err != nil {
		return Verified{}, err
	}
	defer db.Close()
	found := Verified{Form: form}
	state, end, err := follow(ctx, db, ofFile{path, form}, path, nil, tail{}, &source{reader: ofFile{path, form}, path: path, db: db}, nil)
	if err != nil {
		return found, err
	}
	if found.Records = state.History.Len(); found.Records > 0 {
		found.Newest = state.Newest().NotedAt
	}
	if form > 1 {
		found.Seal = hex.EncodeToString(end.seal[:])
		err = db.QueryRowContext(ctx, "SELECT written_from FROM chain").Scan(&found.WrittenFrom)
	}
	if err == nil {
		err = sound(ctx, db, form)
	}
	if err != nil {
		return found, damaged(path, err)
	}
	return found, nil
}

// sound checks what is around the records: the pages of the file, and that the
// rules which keep records as they are are still in it.
func sound(ctx context.Context, db *sql.DB, form int) error {
	var said string
	if err := db.QueryRowContext(ctx, "PRAGMA integrity_check(1)").Scan(&said); err != nil {
		return err
	}
	if said != "ok" {
		return errors.New(said)
	}
	if form != len(migrations) {
		return nil
	}
	got, err := shapeOf(ctx, db)
	if err != nil {
		return err
	}
	whole, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		return err
	}
	defer whole.Close()
	whole.SetMaxOpenConns(1) // each connection to memory is a database of its own
	if _, err := whole.ExecContext(ctx, schema); err != nil {
		return err
	}
	want, err := shapeOf(ctx, whole)
	if err != nil {
		return err
	}
	for name, text := range want {
		if got[name] != text {
			return fmt.Errorf("the %s of the file is not as it was made", name)
		}
	}
	return nil
}

// shapeOf is what a database holds, by name, without spaces and comments.
func shapeOf(ctx context.Context, db *sql.DB) (map[string]string, error) {
	rows, err := db.QueryContext(ctx, "SELECT type || ' ' || name, coalesce(sql, '') FROM sqlite_schema")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	all := map[string]string{}
	for rows.Next() {
		var name, text string
		if err := rows.Scan(&name, &text); err != nil {
			return nil, err
		}
		var words []string
		for line := range strings.Lines(text) {
			line, _, _ = strings.Cut(line, "--")
			words = append(words, strings.Fields(line)...)
		}
		all[name] = strings.Join(words, "")
	}
	return all, rows.Err()
}
