package store

import (
	"hopperful/fact"

	"context"
	"database/sql"
	"errors"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"syscall"
	"time"
)

// Create makes a new, empty shop at path and opens it. A file that is there
// already is refused, unless it is empty.
func Create(ctx context.Context, path string, o Options) (*Store, error) {
	return CreateWith(ctx, path, o, func(*Store) error { return nil })
}

// CreateWith makes a new shop whose first records fill writes. The file gets its
// name once all of them are in it: a shop cut short, even by a kill, leaves none.
func CreateWith(ctx context.Context, path string, o Options, fill func(*Store) error) (*Store, error) {
	if o.ReadOnly {
		return nil, &Error{ReadOnly, fact.Say("store.new_shop_read_only"), fact.Saying{}, nil}
	}
	if OnServer(path) {
		return createOnServer(ctx, path, o, fill)
	}
	if o.MakeFolder {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return nil, explain(err, "doing.making_the_folder_of", path)
		}
	}
	if err := vacant(path); err != nil {
		return nil, err
	}
	l, err := takeLease(path, time.Now())
	if err != nil {
		return nil, err
	}
	defer l.release()
	part := path + ".part"
	leftovers := []string{part, part + "-journal", part + "-wal", part + "-shm", part + ".lock", keptPath(part)}
	if err := removeIfAny(leftovers...); err != nil {
		return nil, explain(err, "doing.making", path)
	}
	err = begin(ctx, part)
	if err == nil {
		err = filled(ctx, part, o, fill)
	}
	if err == nil {
		err = explain(place(part, path), "doing.making", path)
	}
	if err = errors.Join(err, removeIfAny(leftovers[1:]...)); err != nil {
		return nil, errors.Join(err, removeIfAny(part))
	}
	l.release()
	return Open(ctx, path, o)
}

// filled lets fill write into an empty shop and closes it.
func filled(ctx context.Context, path string, o Options, fill func(*Store) error) error {
	s, err := Open(ctx, path, o)
	if err != nil {
		return err
	}
	return errors.Join(fill(s), s.Close())
}

// vacant refuses a path where something is.
func vacant(path string) error {
	f, err := os.Lstat(path)
	switch {
	case errors.Is(err, syscall.ENOTDIR):
		return missing(path, err)
	case errors.Is(err, fs.ErrNotExist):
		if _, no := os.Stat(filepath.Dir(path)); no != nil {
			return missing(path, err)
		}
		return nil
	case err != nil:
		return explain(err, "doing.looking_at", path)
	case f.Mode().IsRegular() && f.Size() == 0:
		return nil
	}
	return &Error{Exists, fact.Say("store.something_there", fact.Name("path", path)), fact.Say("store.do_open_or_other"), nil}
}

// removeIfAny removes what an attempt that was cut short may have left.
func removeIfAny(names ...string) error {
	for _, name := range names {
		if err := os.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}

// begin writes an empty shop without a log beside it, so that the header that
// tells a shop from other files is in the file itself from the first moment.
func begin(ctx context.Context, path string) error {
	db, err := sql.Open("sqlite", dsn(path, url.Values{}))
	if err != nil {
		return explain(err, "doing.making", path)
	}
	defer db.Close()
	if err := migrate(ctx, db, path, migrations); err != nil {
		return err
	}
	return explain(db.Close(), "doing.making", path)
}
