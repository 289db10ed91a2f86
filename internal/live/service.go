package live

import (
	"context"
	"crypto/tls"
	"errors"
	"io/fs"
	"log/slog"
	"maps"
	"math"
	"net"
	"os"
	"path/filepath"
	"sync"
	"time"

	"hopperful/plan/sensing"
)

// lookAgain is how often the service looks whether the setup was changed.
const lookAgain = 2 * time.Second

// Options say how a service runs.
type Options struct {
	Now   func() time.Time
	Log   *slog.Logger
	TLS   func() (*tls.Config, error) // of the shop's own authority, for its own broker; nil: none
	Keep  bool                        // readings and runs are kept beside the shop; only one program may
	All   bool                        // listens to every topic of the broker
	Heard func(Message)               // every message, besides; nil: nobody
}

// Service listens to the sensors of a shop for as long as it runs, and begins anew when
// their setup is changed.
type Service struct {
	watchers
	shop string
	o    Options

	mu      sync.Mutex
	hub     *Hub
	fault   error
	address net.Addr // of the shop's own broker
}

// NewService makes a service for the shop at path.
func NewService(shop string, o Options) *Service {
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	return &Service{shop: shop, o: o}
}

// Run listens until the context ends.
func (s *Service) Run(ctx context.Context) {
	for ctx.Err() == nil {
		changed := s.changed()
		c, err := Load(s.shop)
		s.set(nil, err)
		if err != nil {
			s.o.Log.Warn("the sensors are not set up", "error", err)
		}
		turn, end := context.WithCancel(ctx)
		finished := make(chan struct{})
		go func() {
			defer close(finished)
			if err == nil && c.On() {
				if err := s.turn(turn, c); err != nil {
					s.set(nil, err)
					s.o.Log.Warn("the sensors are not listened to", "error", err)
				}
			}
		}()
		for ctx.Err() == nil && s.changed().Equal(changed) {
			select {
			case <-ctx.Done():
			case <-time.After(lookAgain):
			}
		}
		end()
		<-finished
	}
}

// changed is when the setup was last written.
func (s *Service) changed() time.Time {
	about, err := os.Stat(filepath.Join(Folder(s.shop), configFile))
	if err != nil {
		return time.Time{}
	}
	return about.ModTime()
}

// turn listens with one setup.
func (s *Service) turn(ctx context.Context, c Config) error {
	var keeper Keeper
	var kept []Kept
	var runs []sensing.Run
	if s.o.Keep {
		if err := os.MkdirAll(Folder(s.shop), 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
			return err
		}
		ring, all, err := OpenRing(filepath.Join(Folder(s.shop), "readings.ring"), RingSize)
		if err != nil {
			return err
		}
		defer ring.Close()
		kept, keeper.Reading = all, ring.Add
		keeper.Runs = func(runs []sensing.Run) error { return SaveRuns(s.shop, runs) }
		if runs, err = LoadRuns(s.shop); err != nil {
			return err
		}
	}
	hub, err := NewHub(c, s.o.Now, runs, kept, keeper)
	if err != nil {
		return err
	}
	s.set(hub, nil)
	var working sync.WaitGroup
	working.Go(func() { hub.Run(ctx) })
	working.Go(func() { s.pass(ctx, hub) })
	take := hub.Take
	if s.o.Heard != nil {
		take = func(m Message) { s.o.Heard(m); hub.Take(m) }
	}
	if c.Broker.Own != nil {
		s.own(ctx, *c.Broker.Own, hub, take)
	} else {
		listen(ctx, c.Broker, c.topics(), s.o.All, s.o.Now, take, hub.Linked)
	}
	working.Wait()
	return nil
}

// own runs the shop's own broker, and tries again when its address is taken.
func (s *Service) own(ctx context.Context, own Own, hub *Hub, take func(Message)) {
	for try := 0; ctx.Err() == nil; try++ {
		var encrypted *tls.Config
		var err error
		if s.o.TLS != nil && own.Open() && !own.Plain {
			encrypted, err = s.o.TLS()
		}
		if err == nil {
			err = serveBroker(ctx, own, encrypted, s.o.Now, s.o.Log, take, func(at net.Addr) {
				s.mu.Lock()
				s.address = at
				s.mu.Unlock()
				hub.Linked(sensing.LinkUp, nil)
			})
		}
		if err != nil {
			hub.Linked(sensing.LinkDown, err)
			select {
			case <-ctx.Done():
			case <-time.After(waitFor(try, 0.5)):
			}
		}
	}
}

// pass tells those who watch the service what its hub tells.
func (s *Service) pass(ctx context.Context, hub *Hub) {
	news, end := hub.Subscribe()
	defer end()
	for {
		select {
		case <-ctx.Done():
			return
		case <-news:
			s.tell()
		}
	}
}

func (s *Service) set(hub *Hub, err error) {
	s.mu.Lock()
	s.hub, s.fault, s.address = hub, err, nil
	s.mu.Unlock()
	s.tell()
}

// Look is how everything is; where nothing is listened to, what was seen before.
func (s *Service) Look() sensing.Seen {
	s.mu.Lock()
	hub, fault := s.hub, s.fault
	s.mu.Unlock()
	if hub != nil {
		return hub.Look()
	}
	seen := sensing.Seen{Now: s.o.Now()}
	if fault != nil {
		seen.Link, seen.Why = sensing.LinkDown, fault.Error()
	}
	return seen
}

// Address is where the shop's own broker is reached; nil where there is none.
func (s *Service) Address() net.Addr {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.address
}

// SetAside says that nobody wants a run on record, and reports whether there is one.
func (s *Service) SetAside(id int64) bool {
	s.mu.Lock()
	hub := s.hub
	s.mu.Unlock()
	return hub != nil && hub.SetAside(id)
}

// KeepIdle keeps what a mill draws empty, as somebody saw it [W]; the service takes it up
// by itself.
func (s *Service) KeepIdle(mill string, watts float64) error { return KeepIdle(s.shop, mill, watts) }

// KeepIdle keeps in a shop's setup what a mill draws empty [W].
func KeepIdle(shop, mill string, watts float64) error {
	c, err := Load(shop)
	if err != nil {
		return err
	}
	idle := maps.Clone(c.Idle)
	if idle == nil {
		idle = map[string]float64{}
	}
	idle[mill] = math.Round(watts*10) / 10
	c.Idle = idle
	return c.Save(shop)
}
