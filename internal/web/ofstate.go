package web

import (
	"sync"

	"hopperful/shop"
)

// ofState is what follows from a state alone, reckoned once for every reader of that
// state. One at a time is kept: the latest that somebody asked about.
type ofState[T any] struct {
	lock  sync.Mutex
	state *shop.State
	value T
}

// get is what follows from a state; those who ask for it meanwhile wait for the one that reckons.
func (o *ofState[T]) get(s *shop.State, reckon func(*shop.State) T) T {
	o.lock.Lock()
	defer o.lock.Unlock()
	if o.state != s {
		o.value, o.state = reckon(s), s
	}
	return o.value
}
