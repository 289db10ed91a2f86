package store

// Writers that wait at the same time share one transaction, and so one wait for the disk.
// Each hears of its own records, after they are on the disk, and is refused by itself.

import (
	"context"
	"database/sql"
	"errors"
	"sync/atomic"

	"hopperful/internal/account"
	"hopperful/shop"
)

// mostTogether bounds the writers that share a transaction, so that the first of them does not
// wait long for the last. Judgement.
const mostTogether = 64

// line is where writers wait. Whoever has the turn writes for all that wait.
type line struct {
	turn    chan struct{} // holds one
	waiting chan *writing
}

func newLine() line {
	return line{make(chan struct{}, 1), make(chan *writing, mostTogether)}
}

// queue has a write made, by this goroutine or by one that came before.
func (s *Store) queue(w *writing) {
	waiting, queued := s.line.waiting, false
	for {
		select {
		case waiting <- w:
			waiting, queued = nil, true
		case <-w.done:
			return
		case s.line.turn <- struct{}{}:
			s.lead(w, queued)
			return
		}
	}
}

// lead writes for all that wait until w is through.
func (s *Store) lead(w *writing, queued bool) {
	defer func() { <-s.line.turn }()
	s.writing.Lock()
	defer s.writing.Unlock()
	for {
		select {
		case <-w.done:
			return
		default:
		}
		var group []*writing
		if w.alone || !queued {
			group, queued = append(group, w), true
		}
		if !w.alone {
			group = s.line.gather(group)
		}
		s.together(group)
	}
}

// gather takes who waits into a group.
func (l line) gather(group []*writing) []*writing {
	for len(group) < mostTogether {
		select {
		case w := <-l.waiting:
			group = append(group, w)
		default:
			return group
		}
	}
	return group
}

// together makes writes in one transaction. Where that fails for another reason than that each was
// refused, one of several may be at fault: each is left to be made alone.
func (s *Store) together(group []*writing) {
	ctx, end := whileAny(group)
	defer end()
	var next *shop.State
	var last tail
	err := error(s.isClosed())
	if !s.closed {
		for _, w := range group {
			w.alone = len(group) > 1 // stays so where this panics, too
		}
		straight := false
		if straight, err = s.straight(ctx, group); straight {
			next, last = group[0].next, group[0].end
		} else {
			err = s.medium.write(ctx, func(ctx context.Context, tx *sql.Tx) (err error) {
				next, last, err = s.each(ctx, tx, group)
				return err
			})
		}
	}
	if err == nil {
		old := s.state.Swap(next)
		s.end = last
		s.medium.written()
		s.keep(ctx)
		for _, w := range group {
			if w.err == nil && w.next != old {
				old = w.next
				s.events.publish(Event{Newest: old.Newest().ID})
			}
			close(w.done)
		}
		return
	}
	for _, w := range group {
		switch {
		case s.closed:
			w.err = err
		case refused(w):
		case len(group) > 1:
			continue
		case ctx.Err() != nil:
			w.err = err
		default:
			w.err = explain(err, "doing.writing_to", s.path)
		}
		close(w.done)
	}
}

// straight writes the one record of somebody who writes alone to a file, and says whether that is how
// it went: one statement is a transaction by itself, and holds what else is asked first. It writes
// nothing where others wrote since, or where the shop has accounts; then it is to be written as always.
func (s *Store) straight(ctx context.Context, group []*writing) (done bool, err error) {
	defer Stopped(&err)
	w, state := group[0], s.state.Load()
	if f, ok := s.medium.(inFile); !ok || !f.sealed() || len(group) > 1 || len(w.list) != 1 || w.key != "" || w.tried.id != 0 || s.guarded || ctx.Err() != nil {
		return false, nil
	}
	ctx = context.WithoutCancel(ctx) // see inFile.write
	next, err := state.Admit(w.now, w.list...)
	if err != nil {
		return false, nil // what it is refused for may have changed
	}
	stmt, err := s.prepared(ctx, queryAppendNext)
	if err != nil {
		return true, err
	}
	kept := next.History.After(state.History.Len())
	end, n, err := insertOne(ctx, stmt, s.end, kept[0])
	if err == nil && n == 0 {
		s.guarded = true // who has accounts keeps them, and where a lock did not hold it will not hold again
		return false, nil
	}
	if err == nil {
		w.next, w.end, w.kept = next, end, kept[:1:1]
	}
	return true, err
}

// each tries the writes of a group one after the other; each sees those before it. It is an error
// when none of them writes anything, as is what stops all of them.
func (s *Store) each(ctx context.Context, tx *sql.Tx, group []*writing) (*shop.State, tail, error) {
	next, end, err := s.caughtUp(ctx, s.medium.within(tx))
	if err != nil {
		return nil, end, err
	}
	all := true
	for _, w := range group {
		switch w.err = w.try(ctx, tx, next, end); {
		case w.err == nil:
			next, end, all = w.next, w.end, false
		case !refused(w):
			return nil, end, w.err
		}
	}
	if all {
		return nil, end, group[0].err
	}
	return next, end, nil
}

// refused says whether a write was stopped before it wrote anything, for a reason of its own.
func refused(w *writing) bool {
	var why *shop.Error
	var barred *account.Refused
	return errors.As(w.err, &why) || errors.As(w.err, &barred) || w.err != nil && w.err == w.ctx.Err()
}

// whileAny is a context that ends when nobody of a group waits any more.
func whileAny(group []*writing) (context.Context, func()) {
	if len(group) == 1 {
		return group[0].ctx, func() {}
	}
	ctx, cancel := context.WithCancel(context.WithoutCancel(group[0].ctx))
	var left atomic.Int32
	left.Store(int32(len(group)))
	ends := []func() bool{}
	for _, w := range group {
		ends = append(ends, context.AfterFunc(w.ctx, func() {
			if left.Add(-1) == 0 {
				cancel()
			}
		}))
	}
	return ctx, func() {
		for _, end := range ends {
			end()
		}
		cancel()
	}
}
