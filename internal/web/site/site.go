package site

import (
	"log/slog"
	"net/http"
	"sync"
	"time"

	"hopperful/internal/store"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/door"
	"hopperful/internal/web/waiting"
	"hopperful/plan/blend"
	"hopperful/shop"
)

// Site is what every page is served from.
type Site struct {
	Store   *store.Store
	Now     func() time.Time
	Log     *slog.Logger
	Slow    *waiting.Reckoner
	Gate    *door.Gate      // nil: no passphrase
	Sensors Sensors         // nil: nobody listens to any
	Ending  <-chan struct{} // closed when the program is told to stop; nil: never
	palette desk.Palette

	ShelfMu    sync.Mutex
	Shelf      *blend.Shelf // of shelfState; nil before the first blend
	ShelfState *shop.State
}

// Newest is the number of the latest record: it tells states of the shop apart.
func (s *Site) Newest() shop.RecordID { return s.Store.State().Newest().ID }

// Desk is what lies ready for one request.
func (s *Site) Desk(r *http.Request) *desk.Desk {
	st := s.Store.State()
	q := r.URL.Query()
	p := desk.Speaks(r, st)
	return &desk.Desk{State: st, Now: s.Now(), Say: p, Palette: &s.palette, Query: q.Get}
}
