package store

import (
	"hopperful/fact"

	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

//go:embed migration/*.sql
var embedded embed.FS

// step brings a file one form further: statements, then what only the program
// can do, if anything.
type step struct {
	statements string
	then       func(context.Context, *sql.Tx) error
}

// thens are what only the program can do, by the form it leads to.
var thens = map[int]func(context.Context, *sql.Tx) error{2: sealAll}

// migrations are the steps from an empty file to today's form, first to last.
// A step that was released is never edited. A step whose file holds only a
// comment marks that new kinds of record came; see forms.
var migrations = func() []step {
	texts := textsOf(embedded)
	list := make([]step, len(texts))
	for i, text := range texts {
		list[i] = step{text, thens[i+1]}
	}
	return list
}()

// textsOf are the statements of all steps in a folder, first to last.
func textsOf(files embed.FS) []string {
	names, err := fs.Glob(files, "*/*.sql") // sorted by name
	if err != nil {
		panic(err) // the pattern is a constant
	}
	list := make([]string, len(names))
	for i, name := range names {
		list[i] = mustRead(files, name)
	}
	return list
}

func mustRead(files embed.FS, name string) string {
	text, err := files.ReadFile(name)
	if err != nil {
		panic(err) // the file is part of the program
	}
	return string(text)
}

// version asks which migration a file is at.
func version(ctx context.Context, db *sql.DB) (int, error) {
	var n int
	err := db.QueryRowContext(ctx, "PRAGMA user_version").Scan(&n)
	return n, err
}

// migrate brings a file up to the last of the steps, keeping a copy of an
// older shop beside it first. All steps happen or none.
func migrate(ctx context.Context, db *sql.DB, path string, steps []step) error {
	at, err := version(ctx, db)
	switch {
	case err != nil:
		return explain(err, "doing.reading", path)
	case at > len(steps):
		return newer(path, at)
	case at == len(steps):
		return nil
	}
	if at > 0 {
		if err := keepOld(ctx, db, path, at); err != nil {
			return err
		}
	}
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return explain(err, "doing.bringing_up_to_date", path)
	}
	defer tx.Rollback()
	for i, step := range steps[at:] {
		_, err := tx.ExecContext(ctx, step.statements)
		if err == nil && step.then != nil {
			err = step.then(ctx, tx)
		}
		if err != nil {
			return unreadable(fmt.Errorf("step %d: %w", at+i+1, err), "doing.bringing_up_to_date", path)
		}
	}
	header := fmt.Sprintf("PRAGMA user_version = %d; PRAGMA application_id = %d", len(steps), applicationID)
	if _, err := tx.ExecContext(ctx, header); err != nil {
		return explain(err, "doing.bringing_up_to_date", path)
	}
	return explain(tx.Commit(), "doing.bringing_up_to_date", path)
}

// keepOld copies a shop of an older form to "….form1" beside it. A copy that is
// there already is from an attempt that failed after it, and stays.
func keepOld(ctx context.Context, db *sql.DB, path string, at int) error {
	err := backup(ctx, db, fmt.Sprintf("%s.form%d", path, at))
	if Is(err, Exists) {
		return nil
	}
	return err
}

// backup writes a copy of the whole file to path, complete or not at all.
func backup(ctx context.Context, db *sql.DB, path string) error {
	if err := unused(path); err != nil {
		return err
	}
	part := path + ".part"
	if err := removeIfAny(part); err != nil {
		return explain(err, "doing.writing_a_copy_to", path)
	}
	if _, err := db.ExecContext(ctx, queryBackup, part); err != nil {
		os.Remove(part)
		return explain(err, "doing.writing_a_copy_to", path)
	}
	if err := place(part, path); err != nil {
		os.Remove(part)
		return explain(err, "doing.writing_a_copy_to", path)
	}
	return nil
}

// unused refuses the name of a copy where something is.
func unused(path string) error {
	if _, err := os.Lstat(path); err == nil {
		return &Error{Exists, fact.Say("store.file_there", fact.Name("path", path)), fact.Say("store.do_other_file"), nil}
	} else if !errors.Is(err, fs.ErrNotExist) {
		return explain(err, "doing.writing_a_copy_to", path)
	}
	return nil
}

// place gives a finished file its name, so that the name never stands for half a
// file, not even after the power failed.
func place(part, path string) error {
	f, err := os.OpenFile(part, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	if err := errors.Join(f.Sync(), f.Close(), os.Rename(part, path)); err != nil {
		return err
	}
	if folder, err := os.Open(filepath.Dir(path)); err == nil {
		_ = folder.Sync() // some systems cannot sync a folder, and need not
		folder.Close()
	}
	return nil
}
