package live

import "sync"

// watchers are those who want to know that something changed; the zero value has none.
type watchers struct {
	mu  sync.Mutex
	all map[chan struct{}]struct{}
}

// Subscribe returns a channel that says that something changed; a change that is not fetched
// yet is not said twice.
func (w *watchers) Subscribe() (<-chan struct{}, func()) {
	c := make(chan struct{}, 1)
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.all == nil {
		w.all = map[chan struct{}]struct{}{}
	}
	w.all[c] = struct{}{}
	return c, func() {
		w.mu.Lock()
		defer w.mu.Unlock()
		delete(w.all, c)
	}
}

// tell says so.
func (w *watchers) tell() {
	w.mu.Lock()
	defer w.mu.Unlock()
	for c := range w.all {
		select {
		case c <- struct{}{}:
		default:
		}
	}
}
