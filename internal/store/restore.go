package store

import (
	"hopperful/fact"

	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"time"
)

// Restored is what a restore did.
type Restored struct {
	Verified
	Kept string // where the shop that was there before lies now; empty when there was none
}

// Restore puts the shop of a backup at path. The backup is verified first, and
// what was at path is kept beside it. Nothing changes when anything is wrong.
func Restore(ctx context.Context, from, path string, now time.Time) (Restored, error) {
	if OnServer(path) {
		return restoreToServer(ctx, from, path, now)
	}
	found, err := Verify(ctx, from)
	if err != nil {
		return Restored{}, err
	}
	done := Restored{Verified: found}
	if same(from, path) {
		return done, &Error{Exists, fact.Say("store.shop_itself", fact.Name("from", from)), fact.Say("store.do_name_backup"), nil}
	}
	path = followed(path)
	l, err := takeLease(path, now)
	if err != nil {
		return done, err
	}
	defer l.release()
	part := path + ".part"
	if err := copyWhole(ctx, from, part); err != nil {
		return done, err
	}
	if done.Kept, err = keepPresent(path, now); err == nil {
		err = place(part, path)
	}
	if err != nil {
		os.Remove(part)
		return done, explain(err, "doing.restoring", path)
	}
	return done, nil
}

// same says whether two names lead to one file.
func same(a, b string) bool {
	one, errA := os.Stat(a)
	other, errB := os.Stat(b)
	return errA == nil && errB == nil && os.SameFile(one, other)
}

// copyWhole writes a copy of a shop, with what stands in its log, and verifies it.
func copyWhole(ctx context.Context, from, to string) error {
	if err := removeIfAny(to, to+".part"); err != nil {
		return explain(err, "doing.writing", to)
	}
	if OnServer(from) {
		w, err := readWhole(ctx, from)
		if err != nil {
			return err
		}
		return w.writeFile(ctx, to)
	}
	db, _, err := lookAt(ctx, from, Options{})
	if err != nil {
		return err
	}
	defer db.Close()
	if err := backup(ctx, db, to); err != nil {
		return err
	}
	_, err = Verify(ctx, to)
	return err
}

// asideName is what a shop is called that a restore or a move leaves behind.
func asideName(name, why string, now time.Time) string {
	return fmt.Sprintf("%s.%s-%s", name, why, now.Format("20060102-150405"))
}

// keepPresent gives what is at path, which may be damaged, a second name, and
// moves its log to that name. At no moment is there nothing at path.
func keepPresent(path string, now time.Time) (string, error) {
	if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	kept := asideName(path, "before", now)
	if err := os.Link(path, kept); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return "", err
		}
		if err := os.Rename(path, kept); err != nil { // a file system without links
			return "", err
		}
	}
	if err := os.Rename(path+"-wal", kept+"-wal"); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", err
	}
	return kept, removeIfAny(path + "-shm")
}
