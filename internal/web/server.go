package web

import (
	"crypto/sha256"
	"log/slog"
	"net/http"
	"sync"
	"time"

	"hopperful/internal/store"
	"hopperful/internal/tokens"
	"hopperful/internal/web/door"
	"hopperful/plan/blend"
	"hopperful/shop"
)

// Options says how the pages are served.
type Options struct {
	Now        func() time.Time // the shop's clock; nil: time.Now
	Logger     *slog.Logger     // of requests and faults; nil: nothing is logged
	Hosts      []string         // names this server is reached by, besides localhost and plain addresses
	Passphrase string           // asked for before anything is shown; empty: not asked for
	Version    string           // shown at the foot of the machines page; may be empty
	Secure     *Secure          // how HTTPS is spoken; nil: not at all
	Door       *Door            // for the owner's own programs; nil: none
	Tokens     tokens.Folder    // where those of other programs are kept; empty: beside the shop
	Live       Sensors          // nil: nobody listens to sensors
}

// server holds what every handler needs.
type server struct {
	store   *store.Store
	now     func() time.Time
	log     *slog.Logger
	version string
	slow    *reckoner
	grains  *spreads
	books   openBooks
	gate    *door.Gate     // nil: no passphrase
	knock   *door.Knocking // at the door of accounts
	secure  *Secure
	palette palette
	doors   [][sha256.Size]byte // of the owner's own programs, which may ask the API all
	tokens  tokens.Folder       // of other programs
	sensors Sensors
	ending  <-chan struct{} // closed when the program is told to stop; nil: never
	uploads door.Uploads

	shelfMu    sync.Mutex
	shelf      *blend.Shelf // of shelfState; nil before the first blend
	shelfState *shop.State
}

// New returns the handler of all pages for the shop kept in st.
func New(st *store.Store, o Options) http.Handler { return newServer(st, o).handler(o) }

func newServer(st *store.Store, o Options) *server {
	s := &server{store: st, now: o.Now, log: o.Logger, version: o.Version, secure: o.Secure, sensors: o.Live,
		tokens: o.Tokens}
	if s.tokens == "" {
		s.tokens = tokens.Folder(store.Beside(st.Path(), tokens.Ending))
	}
	if s.now == nil {
		s.now = time.Now
	}
	if s.log == nil {
		s.log = slog.New(slog.DiscardHandler)
	}
	if o.Door != nil {
		s.doors = append(s.doors, sha256.Sum256([]byte(o.Door.Token)))
	}
	s.slow = newReckoner(s.now)
	s.knock = door.NewKnocking(s.now)
	s.grains = newSpreads()
	if o.Passphrase != "" {
		s.gate = door.NewGate(o.Passphrase, s.now)
	}
	return s
}

// handler puts the guards around the pages, the outermost last.
func (s *server) handler(o Options) http.Handler {
	mux := http.NewServeMux()
	s.route(mux)
	s.routeTrust(mux)
	h := s.oneUpload(newShared(s.now).of(s.newest, mux))
	guarded := h
	if s.gate != nil {
		guarded = s.gated(h)
	}
	h = s.admitted(h, guarded)
	return s.logged(s.recovered(door.Packed(door.HostChecked(o.Hosts, door.Secured(door.ForeignPartsRefused(s.crossOriginRefused(s.onlyLooked(h))))))))
}

// newest is the number of the latest record: it tells states of the shop apart.
func (s *server) newest() shop.RecordID { return s.store.State().Newest().ID }
