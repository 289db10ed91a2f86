package main

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
)

// clients is how many write at once.
const clients = 4

// server is a hopperful that serves, and its address.
type server struct {
	*exec.Cmd
	address string
}

func (t *trial) serve(ctx context.Context) (*server, error) {
	return begin(t.command(ctx, "serve", "--listen", "127.0.0.1:0", "--json"))
}

// begin starts a program that serves and reads where.
func begin(c *exec.Cmd) (*server, error) {
	out, err := c.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := c.Start(); err != nil {
		return nil, err
	}
	var said struct {
		Address string `json:"address"`
	}
	if err := json.NewDecoder(bufio.NewReader(out)).Decode(&said); err != nil {
		return nil, errors.Join(errors.New("it does not serve"), err, c.Wait())
	}
	return &server{c, said.Address}, nil
}

// client does not follow where an answer leads: that it leads on says enough.
var client = &http.Client{Timeout: 20 * time.Second, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}

// post writes one record and says how it was answered; 0 is not at all.
func (s *server) post(ctx context.Context, note string) int {
	form := url.Values{"mass_kg": {"1 kg"}, "class": {"scrap"}, "polymer": {"PLA"}, "note": {note}}
	r, err := http.NewRequestWithContext(ctx, http.MethodPost, s.address+"record/take-in", strings.NewReader(form.Encode()))
	if err != nil {
		return 0
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	res, err := client.Do(r)
	if err != nil {
		return 0
	}
	defer res.Body.Close()
	io.Copy(io.Discard, res.Body)
	return res.StatusCode
}

// load lets clients write until the server is gone or ctx ends, and returns what
// was acknowledged and how often each answer came.
func (t *trial) load(ctx context.Context, s *server) (func() map[int]int, context.CancelFunc) {
	ctx, stop := context.WithCancel(ctx)
	var all sync.WaitGroup
	var mu sync.Mutex
	answers := map[int]int{}
	for range clients {
		all.Go(func() {
			for ctx.Err() == nil {
				note := t.note()
				code := s.post(ctx, note)
				mu.Lock()
				answers[code]++
				mu.Unlock()
				if code == http.StatusSeeOther {
					t.heard(note)
				}
				if code == 0 {
					return
				}
			}
		})
	}
	return func() map[int]int { all.Wait(); return answers }, stop
}

// served kills a server under load; meanwhile a copy is torn off, or a backup made.
func (t *trial) served(ctx context.Context) error {
	s, err := t.serve(ctx)
	if err != nil {
		return err
	}
	wait, stop := t.load(ctx, s)
	defer stop()
	t.moment(1500 * time.Millisecond)
	switch t.chance.IntN(3) {
	case 0:
		if err := t.tear(ctx); err != nil {
			return err
		}
	case 1:
		if err := t.backup(ctx); err != nil {
			return err
		}
	}
	t.moment(200 * time.Millisecond)
	if t.server != nil && t.chance.IntN(3) == 0 { // the power of the server fails too; the pages go on when it is back
		t.ServerKills++
		if err := errors.Join(t.server.Kill(), t.server.Run()); err != nil {
			return err
		}
		t.moment(1500 * time.Millisecond)
	}
	if err := s.Process.Kill(); err != nil {
		return err
	}
	t.Kills++
	_ = s.Wait() // it was killed
	wait()
	return nil
}

// commands writes by the command line, several at once, and kills some of them.
// Only one may write at a time; the others are told so, which is no loss.
func (t *trial) commands(ctx context.Context) error {
	var all sync.WaitGroup
	t.Kills += clients
	for range clients {
		waits := make([]time.Duration, 3)
		for i := range waits {
			waits[i] = time.Duration(t.chance.Int64N(int64(900 * time.Millisecond)))
		}
		all.Go(func() {
			for i, wait := range waits {
				note := t.note()
				c := t.command(ctx, "take-in", "1kg", "--polymer", "PLA", "--note", note)
				if c.Start() != nil {
					return
				}
				if i == 0 { // the first of each is killed
					time.Sleep(wait)
					_ = c.Process.Kill() // it may be over
				}
				err := c.Wait()
				if err == nil {
					t.heard(note)
				}
			}
		})
	}
	all.Wait()
	return nil
}

// demo kills the making of an invented shop: none is there, or a whole one.
func (t *trial) demo(ctx context.Context) error {
	folder, err := os.MkdirTemp(t.folder, "demo")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	path := filepath.Join(folder, "demo.hopperful")
	c := t.command(ctx, "demo", "--shop", path, "--no-serve")
	if err := c.Start(); err != nil {
		return err
	}
	t.moment(2500 * time.Millisecond)
	_ = c.Process.Kill() // it may be over
	_ = c.Wait()
	t.Kills++
	t.Demos++
	if _, err := os.Stat(path); errors.Is(err, os.ErrNotExist) {
		c := t.command(ctx, "demo", "--shop", path, "--no-serve") // nothing is in the way of another
		if err := c.Run(); err != nil {
			t.DemosHalf++
		}
	}
	if n, err := t.verify(ctx, path); err != nil || n < 100 {
		t.DemosHalf++
	}
	return nil
}

// notes are the notes of a shop's records, each as often as it is there.
func (t *trial) notes(ctx context.Context, path string) ([]string, error) {
	out, err := t.command(ctx, "records", "--history", "--json", "--shop", path).Output()
	if err != nil {
		return nil, err
	}
	var said struct {
		Records []struct {
			Note string `json:"note"`
		} `json:"records"`
	}
	if err := json.Unmarshal(out, &said); err != nil {
		return nil, err
	}
	var list []string
	for _, r := range said.Records {
		list = append(list, r.Note)
	}
	return list, nil
}

// check counts what is lost and doubled now, and begins a new shop when this one
// has grown slow, or is the last.
func (t *trial) check(ctx context.Context, last bool) error {
	if t.server == nil {
		if _, err := os.Stat(t.shop); errors.Is(err, os.ErrNotExist) && len(t.acknowledged) == 0 {
			return nil // killed before its first record
		}
	} else if t.command(ctx, "verify").Run() != nil && len(t.acknowledged) == 0 {
		return nil
	}
	notes, err := t.notes(ctx, t.shop)
	if err != nil {
		return err
	}
	there, unheard := t.count(notes, t.acknowledged)
	if _, err := t.verify(ctx, t.shop); err != nil {
		return err
	}
	if there < 3000 && !last {
		return nil
	}
	return t.anew(unheard)
}

// count adds what is lost and doubled of the records that clients were told of, and says
// how many different ones are there, and of how many of these no client had heard.
func (t *trial) count(notes []string, told map[string]bool) (there, unheard int) {
	all := len(notes)
	slices.Sort(notes)
	notes = slices.Compact(notes)
	t.Doubled += all - len(notes)
	heard := 0
	for note := range told {
		if _, ok := slices.BinarySearch(notes, note); ok {
			heard++
		} else {
			t.Lost++
		}
	}
	return len(notes), len(notes) - heard
}

// anew counts up and begins a new shop.
func (t *trial) anew(unheard int) error {
	t.Acknowledged += len(t.acknowledged)
	t.Unheard += unheard
	t.acknowledged = map[string]bool{}
	if t.server != nil {
		t.shops++
		t.shop = t.server.Address(fmt.Sprintf("shop-%d", t.shops))
		return nil
	}
	for _, end := range []string{"", "-wal", "-shm", ".lock"} {
		if err := os.Remove(t.shop + end); err != nil && !errors.Is(err, os.ErrNotExist) {
			return err
		}
	}
	return nil
}
