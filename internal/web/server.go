package web

import (
	"crypto/sha256"
	"log/slog"
	"net/http"
	"time"

	"hopperful/answer"
	"hopperful/internal/store"
	"hopperful/internal/tokens"
	"hopperful/internal/web/door"
	"hopperful/internal/web/site"
	"hopperful/internal/web/waiting"
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
	Live       site.Sensors     // nil: nobody listens to sensors
}

// server is a site with its doors.
type server struct {
	*site.Site
	version string
	grains  *spreads
	books   openBooks
	knock   *door.Knocking // at the door of accounts
	secure  *Secure
	doors   [][sha256.Size]byte // of the owner's own programs, which may ask the API all
	tokens  tokens.Folder       // of other programs
	uploads door.Uploads
	waits   ofState[answer.Document] // what to do next
}

// New returns the handler of all pages for the shop kept in st.
func New(st *store.Store, o Options) http.Handler { return newServer(st, o).handler(o) }

func newServer(st *store.Store, o Options) *server {
	s := &server{Site: &site.Site{Store: st, Now: o.Now, Log: o.Logger, Sensors: o.Live}, version: o.Version, secure: o.Secure,
		tokens: o.Tokens}
	if s.tokens == "" {
		s.tokens = tokens.Folder(store.Beside(st.Path(), tokens.Ending))
	}
	if s.Now == nil {
		s.Now = time.Now
	}
	if s.Log == nil {
		s.Log = slog.New(slog.DiscardHandler)
	}
	if o.Door != nil {
		s.doors = append(s.doors, sha256.Sum256([]byte(o.Door.Token)))
	}
	s.Slow = waiting.NewReckoner(s.Now)
	s.knock = door.NewKnocking(s.Now)
	s.grains = newSpreads()
	if o.Passphrase != "" {
		s.Gate = door.NewGate(o.Passphrase, s.Now)
	}
	return s
}

// handler puts the guards around the pages, the outermost last.
func (s *server) handler(o Options) http.Handler {
	mux := http.NewServeMux()
	s.route(mux)
	s.routeTrust(mux)
	h := s.oneUpload(waiting.NewShared(s.Now).Of(s.Newest, site.WhoseAnswer, mux))
	guarded := h
	if s.Gate != nil {
		guarded = s.gated(h)
	}
	h = s.admitted(h, guarded)
	return s.Logged(s.Recovered(door.Packed(door.HostChecked(o.Hosts, door.Secured(door.ForeignPartsRefused(s.crossOriginRefused(s.OnlyLooked(h))))))))
}
