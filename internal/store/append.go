package store

import (
	"context"
	"errors"
	"time"

	"hopperful/shop"
)

// Append writes records at the moment now, all of them or none, and returns
// them as kept: with numbers, moments and the labels of new lots. A refusal is
// a [*shop.Error]; anything wrong with the file is an [*Error]. A record is on
// the disk when Append returns.
func (s *Store) Append(ctx context.Context, now time.Time, recs ...shop.Record) (kept []shop.Record, err error) {
	defer Stopped(&err)
	if s.readOnly {
		return nil, &Error{ReadOnly, s.path + " was opened for reading only.", "", nil}
	}
	if len(recs) == 0 {
		return nil, nil
	}
	list := make([]shop.Record, len(recs))
	for i, r := range recs {
		r.At, r.NotedAt = rounded(r.At), rounded(r.NotedAt)
		list[i] = r
	}
	s.write.Lock()
	defer s.write.Unlock()
	if s.closed {
		return nil, s.isClosed()
	}
	next, end, kept, err := s.append(ctx, rounded(now), list)
	if err != nil {
		var refused *shop.Error
		if errors.As(err, &refused) || ctx.Err() != nil {
			return nil, err
		}
		return nil, explain(err, "Writing to", s.path)
	}
	s.state.Store(next)
	s.end = end
	s.foldSoon()
	s.keep(ctx)
	s.events.publish(Event{Newest: next.Newest().ID})
	return kept, nil
}

func (s *Store) append(ctx context.Context, now time.Time, list []shop.Record) (*shop.State, tail, []shop.Record, error) {
	none := tail{}
	tx, err := s.db.BeginTx(ctx, nil)
	if err != nil {
		return nil, none, nil, err
	}
	defer tx.Rollback()
	// The lease keeps other writers out, but a lease on a network disk may not
	// hold; inside the transaction nobody else writes.
	was, end, err := s.caughtUp(ctx, tx)
	if err != nil {
		return nil, none, nil, err
	}
	next, err := was.Admit(now, list...)
	if err != nil {
		return nil, none, nil, err
	}
	kept := next.History.After(was.History.Len())
	if end, err = insert(ctx, tx, end, kept); err != nil {
		return nil, none, nil, err
	}
	if err := tx.Commit(); err != nil {
		return nil, none, nil, err
	}
	return next, end, kept[:len(kept):len(kept)], nil
}
