package web

import (
	"bytes"
	"context"
	"crypto/rand"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"time"

	"hopperful/internal/exchange"
	"hopperful/internal/store"
	"hopperful/internal/web/mills"
	"hopperful/internal/web/site"
	"hopperful/plan/sensing"
	"hopperful/shop"
)

// doorEnding ends the name of the file beside a shop that is being served. It says
// where programs of its owner reach the server, and with which token.
const doorEnding = ".door"

// Door is the way in for the owner's own programs: an address that only this
// computer reaches, and a token that only the owner can read.
type Door struct {
	Address string `json:"address"`
	Token   string `json:"token"`

	listener net.Listener
	file     string
}

// OpenDoor opens a door beside the shop at path. The file is readable by its owner
// alone from the first moment.
func OpenDoor(path string) (*Door, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, err
	}
	d := &Door{Address: "http://" + l.Addr().String(), Token: rand.Text() + rand.Text(), listener: l, file: store.Beside(path, doorEnding)}
	text, err := json.Marshal(d)
	if err == nil {
		err = os.Remove(d.file) // what a killed program left; whoever holds the shop's lock may
		if errors.Is(err, os.ErrNotExist) {
			err = nil
		}
	}
	if err == nil {
		err = writeNew(d.file, text)
	}
	if err != nil {
		return nil, errors.Join(err, l.Close())
	}
	return d, nil
}

// writeNew writes a file that was not there, readable by its owner alone. It gets
// its name when it is whole, so that nobody reads half of it.
func writeNew(name string, text []byte) error {
	f, err := os.OpenFile(name+".new", os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	if err = errors.Join(err, f.Close()); err != nil {
		return err
	}
	return os.Rename(name+".new", name)
}

// Close shuts the door. The file stays when it says another by now.
func (d *Door) Close() error {
	if d == nil {
		return nil
	}
	var err error
	if there, no := readDoor(d.file); no != nil || there.Token == d.Token { // a shop on a server may be served twice here
		err = os.Remove(d.file)
	}
	if closed := d.listener.Close(); !errors.Is(closed, net.ErrClosed) {
		err = errors.Join(err, closed)
	}
	return err
}

// readDoor reads the file of a door.
func readDoor(file string) (d Door, err error) {
	f, err := os.Open(file)
	if err != nil {
		return d, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, mostDoor))
	if err != nil {
		return d, err
	}
	return d, json.Unmarshal(text, &d)
}

// mostDoor bounds the file of a door, and doorTime how long a knock takes: the
// server is on the same computer.
const (
	mostDoor = 4096
	doorTime = 5 * time.Second
	sendTime = 2 * time.Minute // writing a large notebook takes a while
)

// Caller writes through a running server.
type Caller struct {
	door   Door
	client http.Client
}

// Refused is what a running server refused.
type Refused struct{ site.Refusal }

// Error is what was wrong and what to do.
func (e *Refused) Error() string { return e.Say + " " + e.Hint }

// errNoDoor says that no server is reached.
var errNoDoor = errors.New("no running server is reached")

// Reach finds the server that serves the shop at path, if it runs. Where the shop has
// accounts it is asked with the token of one.
func Reach(ctx context.Context, path, account string) (*Caller, error) {
	door, err := readDoor(store.Beside(path, doorEnding))
	c := &Caller{door: door, client: http.Client{Transport: &http.Transport{}}} // no proxy stands between this computer and itself
	if err == nil {
		knock, end := context.WithTimeout(ctx, doorTime)
		defer end()
		err = c.ask(knock, http.MethodGet, "next", "", nil, nil)
		var refused *Refused
		if errors.As(err, &refused) && account != "" {
			c.door.Token = account
			err = c.ask(knock, http.MethodGet, "next", "", nil, nil)
		}
		if errors.As(err, &refused) {
			return nil, err // it runs, and says what is wrong
		}
	}
	if err != nil {
		return nil, fmt.Errorf("%w: %w", errNoDoor, err)
	}
	return c, nil
}

// Append writes records through the server, all of them or none, and returns them
// as kept.
func (c *Caller) Append(ctx context.Context, rs ...shop.Record) ([]shop.Record, error) {
	var sent sentRecords
	for _, r := range rs {
		k, err := exchange.KeptOf(r)
		if err != nil {
			return nil, err
		}
		sent.Records = append(sent.Records, k)
	}
	ctx, end := context.WithTimeout(ctx, sendTime)
	defer end()
	var kept keptRecords
	key := rand.Text()
	err := c.ask(ctx, http.MethodPost, "records", key, sent, &kept)
	var refused *Refused
	if err != nil && !errors.As(err, &refused) && ctx.Err() == nil { // the answer was lost: by its key it is written once
		err = c.ask(ctx, http.MethodPost, "records", key, sent, &kept)
	}
	if err != nil {
		return nil, err
	}
	var list []shop.Record
	for _, k := range kept.Records {
		r, err := k.Record()
		if err != nil {
			return nil, err
		}
		list = append(list, r)
	}
	return list, nil
}

// ask sends one request, with a key when it writes, and reads its answer.
func (c *Caller) ask(ctx context.Context, method, what, key string, body, into any) error {
	var sent bytes.Buffer
	if body != nil {
		if err := json.NewEncoder(&sent).Encode(body); err != nil {
			return err
		}
	}
	r, err := http.NewRequestWithContext(ctx, method, c.door.Address+site.APIRoot+what, &sent)
	if err != nil {
		return err
	}
	r.Header.Set("Authorization", "Bearer "+c.door.Token)
	r.Header.Set("Accept", "application/json")
	r.Header.Set("Content-Type", "application/json")
	if key != "" {
		r.Header.Set(keyHeader, key)
	}
	res, err := c.client.Do(r)
	if err != nil {
		return err
	}
	defer res.Body.Close()
	d := json.NewDecoder(io.LimitReader(res.Body, 4*mostSent))
	if res.StatusCode >= 300 {
		var no site.RefusedAnswer
		if err := d.Decode(&no); err != nil {
			return fmt.Errorf("the running server answered %s", res.Status)
		}
		return &Refused{no.Error}
	}
	if into == nil {
		return nil
	}
	return d.Decode(into)
}

// Sensors is what the server's sensors tell.
func (c *Caller) Sensors(ctx context.Context) (sensing.Seen, error) {
	ctx, end := context.WithTimeout(ctx, doorTime)
	defer end()
	var seen sensing.Seen
	err := c.ask(ctx, http.MethodGet, "sensors", "", nil, &seen)
	return seen, err
}

// SetAside says that nobody wants a run on record that was seen.
func (c *Caller) SetAside(ctx context.Context, run int64) error {
	ctx, end := context.WithTimeout(ctx, doorTime)
	defer end()
	return c.ask(ctx, http.MethodPost, "sensors/aside", "", mills.AsideSent{ID: run}, nil)
}
