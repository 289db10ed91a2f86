package store

import (
	"context"
	"database/sql"
	"errors"
	"time"

	"hopperful/fact"
	"hopperful/shop"
)

// Bounds of a key that something is sent with.
const (
	leastKey = 8
	mostKey  = 200
)

// AppendOnce is [Store.Append] for what may be sent more than once: what was
// written with the same key before is not written again but returned as it is
// kept. The key is noted with the records, in the same transaction.
func (s *Store) AppendOnce(ctx context.Context, now time.Time, key string, recs ...shop.Record) (kept []shop.Record, err error) {
	defer Stopped(&err)
	if len(key) < leastKey || len(key) > mostKey {
		return nil, &shop.Error{Code: shop.Invalid, Field: "key", What: fact.Say("store.key_length", fact.Count("n", len(key)), fact.Count("least_key", leastKey), fact.Count("most_key", mostKey)),
			Advice: fact.Say("store.do_random_key")}
	}
	return s.write(ctx, now, key, recs)
}

// write appends records, with a key or without one.
func (s *Store) write(ctx context.Context, now time.Time, key string, recs []shop.Record) ([]shop.Record, error) {
	if s.readOnly {
		return nil, &Error{ReadOnly, fact.Say("store.read_only", fact.Name("path", s.path)), fact.Saying{}, nil}
	}
	if len(recs) == 0 {
		return nil, nil
	}
	list := make([]shop.Record, len(recs))
	for i, r := range recs {
		r.At, r.NotedAt = rounded(r.At), rounded(r.NotedAt)
		list[i] = r
	}
	w := &writing{s: s, ctx: ctx, now: rounded(now), key: key, list: list, done: make(chan struct{})}
	if s.queue(w); w.err != nil {
		return nil, w.err
	}
	return w.kept, nil
}

// writing is one write on its way. A medium may try it several times.
type writing struct {
	s    *Store
	ctx  context.Context // of who asks
	now  time.Time
	key  string
	list []shop.Record

	tried tail // what the last try wrote, which may have counted all the same
	next  *shop.State
	end   tail
	kept  []shop.Record

	err   error
	alone bool          // it was in a transaction with others that failed
	done  chan struct{} // closed when kept and err are what they remain
}

// try makes the write in a transaction, on a state that has all there is before it, which ends with end.
func (w *writing) try(ctx context.Context, tx *sql.Tx, was *shop.State, end tail) (err error) {
	defer Stopped(&err)
	if w.next, w.end = was, end; w.ctx.Err() != nil {
		return w.ctx.Err()
	}
	if counted, err := w.counted(ctx, tx); counted || err != nil {
		return err
	}
	if w.key != "" {
		first, last, known, err := w.s.medium.sent(ctx, tx, w.key)
		if err != nil {
			return err
		}
		if known {
			w.kept = was.History.First(int(last)).After(int(first) - 1)
			return nil
		}
	}
	list, err := w.permitted(ctx, tx, was)
	if err != nil {
		return err
	}
	if w.next, err = was.Admit(w.now, list...); err != nil {
		return err
	}
	w.kept = w.next.History.After(was.History.Len())
	w.kept = w.kept[:len(w.kept):len(w.kept)]
	if w.end, err = w.s.medium.insert(ctx, tx, end, w.kept); err != nil {
		return err
	}
	w.tried = w.end
	if w.key == "" {
		return nil
	}
	return w.s.medium.keep(ctx, tx, w.key, w.kept[0].ID, w.end.id)
}

// counted says whether the try before this one was kept after all, its answer
// having been lost on the way: then its last record is there with its seal, which is
// over all it says and all before it.
func (w *writing) counted(ctx context.Context, tx *sql.Tx) (bool, error) {
	if w.tried.id == 0 || w.end.id < w.tried.id {
		return false, nil
	}
	there, err := w.s.medium.sealOf(ctx, tx, w.tried.id)
	return err == nil && there == w.tried.seal, err
}

// one reads one value; the zero one when there is no row.
func one[T any](row *sql.Row) (value T, err error) {
	if err = row.Scan(&value); errors.Is(err, sql.ErrNoRows) {
		err = nil
	}
	return value, err
}

// span reads from where to where something was written.
func span(row *sql.Row) (first, last shop.RecordID, known bool, err error) {
	err = row.Scan(&first, &last)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, 0, false, nil
	}
	return first, last, err == nil, err
}
