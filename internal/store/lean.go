package store

import (
	"bytes"
	"context"

	"hopperful/shop"
)

// lean is the same state resting on a packed one, which holds all but the latest
// records and which put puts somewhere. ok is false where it cannot be
// packed, or is too short to; again packs what it rests on already too.
func lean(s *shop.State, from shop.Source, again bool, put func(*shop.State) (shop.Packed, error)) (rests *shop.State, ok bool) {
	all := s.Tail()
	n := shop.Cut(all, keptLag)
	if n == 0 && !again {
		return nil, false
	}
	base, err := s.Upto(n)
	if err != nil {
		return nil, false // its first records alone do not fold: a batch was checked only as a whole
	}
	packed, err := put(base)
	if err != nil {
		return nil, false
	}
	if base, err = shop.Unpack(packed, from); err != nil {
		return nil, false
	}
	rests, ok, err = base.Continue(all[n:])
	return rests, ok && err == nil
}

// inMemory puts a packed state into memory.
func inMemory(base *shop.State) (shop.Packed, error) {
	var b bytes.Buffer
	err := base.Pack(&b)
	return shop.InMemory(b.Bytes()), err
}

// caughtUp is the state with every record that is in the file, and where they end. A
// long history is read and folded piece by piece, so that it is never in memory whole.
func (s *Store) caughtUp(ctx context.Context, db asker) (*shop.State, tail, error) {
	state, end := s.state.Load(), s.end
	if state == nil {
		if state, end, s.keptWhy = kept(ctx, db, s.medium, s.beside, s.source); s.keptWhy != nil {
			state, end = nil, tail{}
		}
	}
	return follow(ctx, db, s.medium, s.path, state, end, s.source, s.read)
}

// follow folds the records after a state that are in the file; nil is the empty one. Of a long
// reading it tells how many it has folded, unless told is nil.
func follow(ctx context.Context, db asker, r reader, path string, state *shop.State, end tail, from shop.Source, told func(int)) (*shop.State, tail, error) {
	for first := true; ; first = false {
		more, next, err := after(ctx, db, r, end, readAtOnce)
		switch {
		case err != nil && ctx.Err() != nil:
			return nil, end, ctx.Err()
		case err != nil:
			return nil, end, unreadable(err, "doing.reading", path)
		case len(more) == 0 && state != nil:
			return state, end, nil
		}
		if state, err = folded(state, more); err != nil {
			if first || len(more) < readAtOnce {
				return nil, end, senseless(path, r.sealed(), err)
			}
			return atOnce(ctx, db, r, path)
		}
		if end = next; len(more) < readAtOnce {
			return state, end, nil
		}
		if told != nil {
			told(state.History.Len())
		}
		if rests, ok := lean(state, from, false, inMemory); ok {
			state = rests
		}
	}
}

// atOnce folds the whole file in one go: its first records alone may not fit together.
func atOnce(ctx context.Context, db asker, r reader, path string) (*shop.State, tail, error) {
	all, end, err := after(ctx, db, r, tail{}, 0)
	if err != nil {
		return nil, end, unreadable(err, "doing.reading", path)
	}
	state, err := shop.Fold(all)
	if err != nil {
		return nil, end, senseless(path, r.sealed(), err)
	}
	return state, end, nil
}

// folded is a state with more records.
func folded(state *shop.State, more []shop.Record) (*shop.State, error) {
	if state == nil {
		return shop.Fold(more)
	}
	next, ok, err := state.Continue(more)
	if ok {
		return next, err
	}
	return shop.Fold(append(state.History.List(), more...))
}

// keep keeps the state beside the file when enough came to it, and rests the store on
// what was kept. Where it cannot be written, nothing is lost but time. The caller holds
// s.writing.
func (s *Store) keep(ctx context.Context) {
	state := s.state.Load()
	tail := state.Tail()
	lost := s.keptWhy != nil && !s.tried && len(tail) < state.History.Len() // folded piece by piece: no file has what it rests on
	if s.readOnly || !s.medium.sealed() || s.beside == "" || program() == "" || !lost && (len(tail) < keptFrom || s.unkept == len(tail)/keptUntil) {
		return
	}
	s.tried = true
	rests, ok := lean(state, s.source, lost, func(base *shop.State) (packed shop.Packed, err error) {
		end, err := tailOf(ctx, s.db, s.medium, base.Newest().ID)
		if err != nil {
			return nil, err
		}
		if packed, s.keptWhy = writeKept(s.beside, end, base.Pack); s.keptWhy != nil {
			return inMemory(base)
		}
		return packed, nil
	})
	if !ok {
		s.unkept = len(tail) / keptUntil // not again with each record
		return
	}
	s.state.Store(rests)
}

// tailOf is the end of the log up to a record.
func tailOf(ctx context.Context, db asker, r reader, id shop.RecordID) (tail, error) {
	own, err := r.sealOf(ctx, db, id)
	return tail{id, own}, err
}

// Stopped turns a file that no longer gives a record, found out by whatever needed it,
// into the error of what was asked. It is deferred.
func Stopped(err *error) {
	switch v := recover().(type) {
	case nil:
	case *Error:
		*err = v
	default:
		panic(v)
	}
}
