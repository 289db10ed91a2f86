package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"time"
)

// verify asks the program whether every record of a file fits, and how many it has.
func (t *trial) verify(ctx context.Context, path string) (int, error) {
	out, err := t.command(ctx, "verify", path, "--json").Output()
	if err != nil {
		return 0, fmt.Errorf("verify %s: %w: %s", path, err, out)
	}
	var said struct {
		Records int `json:"records"`
	}
	return said.Records, json.Unmarshal(out, &said)
}

// tear copies the file alone while it is written, perhaps only a part of it. The
// copy must be a whole shop, or be told as damaged.
func (t *trial) tear(ctx context.Context) error {
	if t.server != nil {
		return nil // there is no file to copy
	}
	text, err := os.ReadFile(t.shop)
	if errors.Is(err, os.ErrNotExist) || len(text) == 0 {
		return nil
	}
	if err != nil {
		return err
	}
	if t.chance.IntN(2) == 0 {
		text = text[:t.chance.IntN(len(text))]
	}
	path := filepath.Join(t.folder, "torn")
	if err := os.WriteFile(path, text, 0o644); err != nil {
		return err
	}
	t.Copies++
	if _, err := t.verify(ctx, path); err != nil {
		t.CopiesSaidBad++
		return nil
	}
	if _, err := t.notes(ctx, path); err != nil {
		t.CopiesWrong++
	}
	return nil
}

// backup makes one under load, restores it elsewhere, and looks for everything
// that was acknowledged before it began.
func (t *trial) backup(ctx context.Context) error {
	path, again := filepath.Join(t.folder, "saved"), filepath.Join(t.folder, "again")
	for _, old := range []string{path, again, again + ".lock"} {
		if err := os.Remove(old); err != nil && !errors.Is(err, os.ErrNotExist) {
			return err
		}
	}
	known := t.atLeast()
	t.Backups++
	if out, err := t.command(ctx, "backup", path).CombinedOutput(); err != nil {
		return fmt.Errorf("backup: %w: %s", err, out)
	}
	if out, err := t.command(ctx, "restore", path, "--shop", again).CombinedOutput(); err != nil {
		return fmt.Errorf("restore: %w: %s", err, out)
	}
	if n, err := t.verify(ctx, again); err != nil || n < known {
		t.BackupsWrong++
	}
	return nil
}

// badDisks writes to a disk of 3 MB until it is full, and to one that turns
// read-only under it.
func (t *trial) badDisks(ctx context.Context) error {
	if err := t.check(ctx, true); err != nil {
		return err
	}
	disk := filepath.Join(t.folder, "disk")
	if err := os.Mkdir(disk, 0o755); err != nil {
		return err
	}
	if out, err := exec.CommandContext(ctx, "mount", "-t", "tmpfs", "-o", "size=3m", "tmpfs", disk).CombinedOutput(); err != nil {
		fmt.Printf("a full disk and a read-only one were not tried: %s", out)
		return nil
	}
	t.shop = filepath.Join(disk, "shop.hopperful")
	for range 5 {
		if err := t.badDisk(ctx, &t.Full, func() error {
			fill := exec.CommandContext(ctx, "dd", "if=/dev/zero", "of="+disk+"/filler", "bs=4096")
			_ = fill.Run() // ends when nothing more fits
			return nil
		}, func() error { return os.Remove(disk + "/filler") }); err != nil {
			return err
		}
	}
	remount := func(how string) func() error {
		return func() error {
			err := exec.CommandContext(ctx, "mount", "-o", "remount,"+how+",size=3m", disk).Run()
			if err != nil && how == "ro" { // refused while the program writes: nothing to see this time
				return nil
			}
			return err
		}
	}
	if err := t.badDisk(ctx, &t.StillRefused, remount("ro"), remount("rw")); err != nil {
		return err
	}
	return t.check(ctx, true)
}

// badDisk breaks the disk under load, counts what was refused, kills, mends it
// and looks what is there.
func (t *trial) badDisk(ctx context.Context, refused *int, breakIt, mend func() error) error {
	s, err := t.serve(ctx)
	if err != nil {
		return err
	}
	wait, stop := t.load(ctx, s)
	defer stop()
	time.Sleep(700 * time.Millisecond)
	if err := breakIt(); err != nil {
		return err
	}
	time.Sleep(700 * time.Millisecond)
	if err := s.Process.Kill(); err != nil {
		return err
	}
	t.Kills++
	_ = s.Wait() // it was killed
	*refused += wait()[http.StatusServiceUnavailable]
	if err := mend(); err != nil {
		return err
	}
	t.Rounds++
	return t.check(ctx, false)
}
