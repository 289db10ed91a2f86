package site

import (
	"hopperful/plan/blend"
	"hopperful/shop"
)

// ShelfOf is what is known of the stock of a state, reckoned once for every
// question asked of that state.
func (s *Site) ShelfOf(st *shop.State) (*blend.Shelf, error) {
	s.ShelfMu.Lock()
	defer s.ShelfMu.Unlock()
	if s.Shelf != nil && s.ShelfState == st {
		return s.Shelf, nil
	}
	var err error
	var h *blend.Shelf
	if s.Shelf == nil {
		h, err = blend.NewShelf(st)
	} else {
		h, err = s.Shelf.After(st)
	}
	if err == nil {
		s.Shelf, s.ShelfState = h, st
	}
	return h, err
}
