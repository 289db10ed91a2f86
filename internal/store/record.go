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
	queryAppend         = query("append")
	queryAppendNext     = query("appendnext")
	queryAfter          = query("after")
	queryAfterFirstForm = query("after1")
	querySeal           = query("seal")
	querySealOf         = query("sealof")
	queryBackup         = query("backup")
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

// tail is the end of the log that is known: the newest record and its seal.
type tail struct {
	id   shop.RecordID
	seal seal
}

// after reads the records written after the end that is known, and returns them
// with the new end, at most so many, 0 for all. Each must follow the one before it.
func after(ctx context.Context, db asker, r reader, known tail, most int) ([]shop.Record, tail, error) {
	rows, end, err := r.rows(ctx, db, known, most)
	if err != nil {
		return nil, end, err
	}
	list := make([]shop.Record, len(rows))
	for i := range rows {
		if list[i], err = rows[i].sense(); err != nil {
			return nil, known, err
		}
	}
	return list, end, nil
}

// rowsAfter is [reader.rows] of a file.
func rowsAfter(ctx context.Context, db asker, form int, known tail, most int) ([]row, tail, error) {
	statement := queryAfter
	if form == 1 {
		statement = queryAfterFirstForm
	}
	rows, err := db.QueryContext(ctx, statement, int64(known.id))
	if err != nil {
		return nil, known, err
	}
	return chained(ctx, rows, known, most)
}

// chained reads rows that must follow one another, at most so many, and closes the rows.
func chained(ctx context.Context, rows *sql.Rows, known tail, most int) ([]row, tail, error) {
	defer rows.Close()
	var list []row
	for (most == 0 || len(list) < most) && rows.Next() {
		var raw row
		if err := raw.scan(rows); err != nil {
			return nil, known, &badRecord{known.id + 1, err, false}
		}
		own, err := raw.follows(known.id, known.seal)
		if err != nil {
			return nil, known, &badRecord{known.id + 1, err, false}
		}
		list, known = append(list, raw), tail{shop.RecordID(raw.id), own}
	}
	if err := rows.Err(); err != nil && ctx.Err() == nil {
		return nil, known, &badRecord{known.id + 1, err, false}
	}
	return list, known, rows.Err()
}

// readRows reads rows as they stand, and closes them.
func readRows(rows *sql.Rows) ([]row, error) {
	defer rows.Close()
	var list []row
	for rows.Next() {
		var r row
		if err := r.scan(rows); err != nil {
			return nil, err
		}
		list = append(list, r)
	}
	return list, rows.Err()
}

// badRecord is a row that cannot be read, or makes no sense.
type badRecord struct {
	id    shop.RecordID
	err   error
	whole bool // its seal fits: it is as it was written, and this program cannot read it
}

func (e *badRecord) Error() string { return fmt.Sprintf("record %d: %v", e.id, e.err) }
func (e *badRecord) Unwrap() error { return e.err }

func (r *row) scan(rows *sql.Rows) error {
	return rows.Scan(&r.id, &r.kind, &r.at, &r.noted, &r.by, &r.note, &r.corrects, &r.body, &r.seal)
}

// sense is the record of a row, or what is wrong with it.
func (r *row) sense() (shop.Record, error) {
	rec, err := r.record()
	if err != nil {
		return rec, &badRecord{rec.ID, err, r.seal != nil}
	}
	return rec, nil
}

// record makes sense of a row.
func (r *row) record() (shop.Record, error) {
	rec := shop.Record{ID: shop.RecordID(r.id), By: r.by, Note: r.note, Corrects: shop.RecordID(r.corrects)}
	var err error
	rec.At, err = time.Parse(form, r.at)
	if err == nil {
		rec.NotedAt, err = time.Parse(form, r.noted)
	}
	if err == nil {
		rec.Body, err = shop.Decode(r.kind, []byte(r.body))
	}
	return rec, err
}

// rowOf is how a record is kept.
func rowOf(r shop.Record) (row, error) {
	body, err := shop.Encode(r.Body)
	if err != nil {
		return row{}, err
	}
	return row{id: int64(r.ID), kind: r.Body.Kind(), at: r.At.Format(form), noted: r.NotedAt.Format(form),
		by: r.By, note: r.Note, corrects: int64(r.Corrects), body: string(body)}, nil
}

// insert writes records by a statement of a transaction, after the end that is there, and
// returns the new end.
func insert(ctx context.Context, stmt *sql.Stmt, end tail, list []shop.Record) (tail, error) {
	for _, r := range list {
		next, _, err := insertOne(ctx, stmt, end, r)
		if err != nil {
			return end, err
		}
		end = next
	}
	return end, nil
}

// insertOne writes one record, and says how many were written: a statement may have a condition.
func insertOne(ctx context.Context, stmt *sql.Stmt, end tail, r shop.Record) (tail, int64, error) {
	raw, err := rowOf(r)
	if err != nil {
		return end, 0, err
	}
	end = tail{r.ID, raw.sealed(end.seal)}
	done, err := stmt.ExecContext(ctx, raw.id, raw.kind, raw.at, raw.noted, raw.by, raw.note, raw.corrects, raw.body, end.seal[:])
	if err != nil {
		return end, 0, err
	}
	n, err := done.RowsAffected()
	return end, n, err
}
