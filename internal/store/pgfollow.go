package store

import (
	"context"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"
)

// pgChannel is where a server tells of writes: one channel, with the shop's key.
const pgChannel = "hopperful"

// How often a shop on a server is looked at when nothing is told of it: while no
// line can be kept open, and while one is, in case a word was lost.
const (
	lookWithout = 2 * time.Second
	lookWith    = 30 * time.Second
)

// Follow reads what other programs write, as the server tells of it, until ctx
// ends. Where no line can be kept open it looks every now and then. It returns at
// once for a shop in a file, whose one writer this is. What goes wrong is reported once.
func (s *Store) Follow(ctx context.Context, report func(error)) {
	p, ok := s.medium.(*onServer)
	if !ok {
		return
	}
	wrong := false
	say := func(err error) {
		if err != nil && ctx.Err() == nil && !wrong {
			report(explain(err, "doing.following", s.path))
		}
		wrong = err != nil
	}
	for ctx.Err() == nil {
		say(s.listen(ctx, p, func() { wrong = false }))
		for end := time.Now().Add(2 * lookWithout); time.Now().Before(end) && ctx.Err() == nil; { // before the line is tried again
			select {
			case <-ctx.Done():
			case <-time.After(lookWithout):
				say(s.Refresh(ctx))
			}
		}
	}
}

// listen keeps a line open and reads anew whenever the server tells of this shop.
func (s *Store) listen(ctx context.Context, p *onServer, heard func()) error {
	line, err := pgx.ConnectConfig(ctx, p.at.config.Copy())
	if err != nil {
		return err
	}
	defer line.Close(context.WithoutCancel(ctx))
	if _, err := line.Exec(ctx, "LISTEN "+pgChannel); err != nil {
		return err
	}
	for {
		if err := s.Refresh(ctx); err != nil { // first of all what came before the line was open
			return err
		}
		heard()
		if err := told(ctx, line, p.key); err != nil {
			return err
		}
	}
}

// told waits until the server tells of the shop, or it is time to look anyway.
func told(ctx context.Context, line *pgx.Conn, key string) error {
	wait, end := context.WithTimeout(ctx, lookWith)
	defer end()
	for {
		n, err := line.WaitForNotification(wait)
		switch {
		case err == nil && n.Payload == key:
			return nil
		case err == nil:
			continue
		case errors.Is(wait.Err(), context.DeadlineExceeded) && ctx.Err() == nil:
			return line.Ping(ctx) // a line that hangs is no line
		}
		return err
	}
}
