package web

import (
	"context"
	"fmt"
	"time"
)

// calm is how long nothing must have been recorded before the shelf is gone over
// anew: who records one charge often records the next one soon. After the start it leaves the
// processor to the first page.
const calm = 2 * time.Second

// keepShelf gets to know the stock soon after the server started and when something was
// recorded, so that the first question for a recipe need not wait for it. It ends
// with ctx or with the store.
func (s *server) keepShelf(ctx context.Context) {
	events, end := s.Store.Subscribe()
	defer end()
	for untilCalm(ctx, events) {
		if err := s.warmShelf(ctx); err != nil && ctx.Err() == nil {
			s.Log.Warn("the shelf is not known ahead", "fault", err) // whoever asks for a recipe is told
		}
		select {
		case <-ctx.Done():
			return
		case _, open := <-events:
			if !open {
				return
			}
		}
	}
}

// untilCalm waits until nothing more comes; false when it is over.
func untilCalm[E any](ctx context.Context, events <-chan E) bool {
	t := time.NewTimer(calm)
	defer t.Stop()
	for {
		select {
		case <-ctx.Done():
			return false
		case _, open := <-events:
			if !open {
				return false
			}
			t.Reset(calm)
		case <-t.C:
			return true
		}
	}
}

// warmShelf gets to know every lot of the state as it is now.
func (s *server) warmShelf(ctx context.Context) (err error) {
	defer func() {
		if v := recover(); v != nil {
			err = fmt.Errorf("the shelf could not be reckoned: %v", v)
		}
	}()
	h, err := s.ShelfOf(s.Store.State())
	if err != nil {
		return err
	}
	return h.Warm(ctx)
}
