package store

import (
	"context"
	"time"

	"hopperful/shop"
)

// Append writes records at the moment now, all of them or none, and returns
// them as kept: with numbers, moments and the labels of new lots. A refusal is
// a [*shop.Error]; anything wrong with the file or the server is an [*Error]. A
// record is on the disk when Append returns.
func (s *Store) Append(ctx context.Context, now time.Time, recs ...shop.Record) (kept []shop.Record, err error) {
	defer Stopped(&err)
	return s.write(ctx, now, "", recs)
}
