package store

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"strings"
	"time"

	"hopperful/shop"
)

//go:embed query/*.sql
var queries embed.FS

var (
	queryAppend = query("append")
	queryAfter  = query("after")
	queryBackup = query("backup")
)

// query reads one statement. Without the end of its last line: whatever follows
// the semicolon makes the driver parse the statement anew at each use.
func query(name string) string {
	return strings.TrimSpace(mustRead(queries, "query/"+name+".sql"))
}

// form is how moments are kept: RFC 3339 with the offset of the user's clock.
const form = time.RFC3339Nano

// rounded is a moment as it will be read back.
func rounded(t time.Time) time.Time {
	if t.IsZero() {
		return t
	}
	back, err := time.Parse(form, t.Format(form))
	if err != nil { // a year past 9999, which the shop refuses by name
		return t
	}
	return back
}

// asker is a database or a transaction.
type asker interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
}

// after reads the records written after the one of that number.
func after(ctx context.Context, db asker, id shop.RecordID) ([]shop.Record, error) {
	rows, err := db.QueryContext(ctx, queryAfter, int64(id))
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var list []shop.Record
	for rows.Next() {
		r, err := scan(rows)
		if err != nil {
			return nil, err
		}
		list = append(list, r)
	}
	return list, rows.Err()
}

// badRecord is a row that is there but makes no sense.
type badRecord struct {
	id  shop.RecordID
	err error
}

func (e *badRecord) Error() string { return fmt.Sprintf("record %d: %v", e.id, e.err) }
func (e *badRecord) Unwrap() error { return e.err }

func scan(rows *sql.Rows) (shop.Record, error) {
	var r shop.Record
	var kind, at, noted string
	var body []byte
	err := rows.Scan(&r.ID, &kind, &at, &noted, &r.By, &r.Note, &r.Corrects, &body)
	if err == nil {
		r.At, err = time.Parse(form, at)
	}
	if err == nil {
		r.NotedAt, err = time.Parse(form, noted)
	}
	if err == nil {
		r.Body, err = shop.Decode(kind, body)
	}
	if err != nil {
		return r, &badRecord{r.ID, err}
	}
	return r, nil
}

// insert writes records inside a transaction.
func insert(ctx context.Context, tx *sql.Tx, list []shop.Record) error {
	stmt, err := tx.PrepareContext(ctx, queryAppend)
	if err != nil {
		return err
	}
	defer stmt.Close()
	for _, r := range list {
		body, err := shop.Encode(r.Body)
		if err != nil {
			return err
		}
		_, err = stmt.ExecContext(ctx, int64(r.ID), r.Body.Kind(), r.At.Format(form), r.NotedAt.Format(form),
			r.By, r.Note, int64(r.Corrects), string(body))
		if err != nil {
			return err
		}
	}
	return nil
}
