package store

import (
	"sync"

	"hopperful/shop"
)

// Event says that records were written. It is a nudge: the listener asks
// [Store.State] for what is new.
type Event struct {
	Newest shop.RecordID // the record written last
}

// waiting is how many events a listener may leave unread. Dropping the next is
// harmless: whoever reads the ones before it asks for the newest state anyway.
const waiting = 4

// hub tells listeners of events. Everything happens under its one lock.
type hub struct {
	mu        sync.Mutex
	listeners map[chan Event]bool
	closed    bool
}

// Subscribe returns a channel of events and a function that ends it. The
// channel is closed by that function, or when the store is closed.
func (s *Store) Subscribe() (<-chan Event, func()) {
	c := make(chan Event, waiting)
	h := &s.events
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.closed {
		close(c)
		return c, func() {}
	}
	if h.listeners == nil {
		h.listeners = map[chan Event]bool{}
	}
	h.listeners[c] = true
	return c, func() {
		h.mu.Lock()
		defer h.mu.Unlock()
		if h.listeners[c] {
			delete(h.listeners, c)
			close(c)
		}
	}
}

func (h *hub) publish(e Event) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for c := range h.listeners {
		select {
		case c <- e:
		default:
		}
	}
}

func (h *hub) close() {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.closed = true
	for c := range h.listeners {
		delete(h.listeners, c)
		close(c)
	}
}
