package blend

// What is known of every lot of a shop, each reckoned once: to ask again with
// another limit then takes the search alone.

import (
	"context"
	"math"
	"sync"
	"time"

	"hopperful/figure"
	"hopperful/plan/fit"
	"hopperful/plan/traceability"
	"hopperful/process/colour"
	"hopperful/shop"
)

// Shelf is the stock of one state of a shop, as blends are asked of it. Safe for
// several goroutines at once.
type Shelf struct {
	state   *shop.State
	busy    *sync.Mutex // shared with shelves of other states: they share curves
	ages    *traceability.Ager
	colours *traceability.Tinter
	made    *traceability.MadeOf
	lots    map[shop.LotID]*known
	brings  *fit.Brings // at the moment last asked about
	moment  time.Time
	water   map[shop.LotID]*fit.Water
	metal   map[shop.LotID]*figure.Figure
}

// known is what no question changes.
type known struct {
	fines  *float64
	tint   traceability.Tints
	body   colour.Body // when the tint is known
	age    traceability.Spread
	mean   figure.Figure
	oldest figure.Figure
	days   float64
	flow   *figure.Figure
	flowed bool // the flow was asked for
}

// NewShelf takes the stock as it stands.
func NewShelf(s *shop.State) (*Shelf, error) {
	return newShelf(s, traceability.NewTinter(s), &sync.Mutex{})
}

// After is the shelf of a later state; colours already turned into curves, which
// takes longest, are not reckoned again.
func (h *Shelf) After(s *shop.State) (*Shelf, error) {
	h.busy.Lock()
	colours := h.colours.After(s)
	h.busy.Unlock()
	return newShelf(s, colours, h.busy)
}

func newShelf(s *shop.State, colours *traceability.Tinter, busy *sync.Mutex) (*Shelf, error) {
	ages, err := traceability.NewAger(s)
	if err != nil {
		return nil, err
	}
	h := &Shelf{state: s, busy: busy, ages: ages, colours: colours, made: traceability.NewMadeOf(s),
		lots: map[shop.LotID]*known{}}
	return h, nil
}

// Warm gets to know every lot a blend may be made of, before anybody asks; others may
// ask in between.
func (h *Shelf) Warm(ctx context.Context) error {
	for _, lot := range h.state.Stock(shop.Virgin, shop.Regrind, shop.Blend) {
		if err := ctx.Err(); err != nil {
			return err
		}
		if traceability.Granulate(lot.Class) {
			if err := h.warm(lot); err != nil {
				return err
			}
		}
	}
	return nil
}

func (h *Shelf) warm(lot *shop.Lot) error {
	h.busy.Lock()
	defer h.busy.Unlock()
	k, err := h.know(lot)
	if err == nil {
		err = h.flowOf(lot, k)
	}
	return err
}

// know is what is known of a lot, by the records and its family.
func (h *Shelf) know(lot *shop.Lot) (*known, error) {
	if k, ok := h.lots[lot.ID]; ok {
		return k, nil
	}
	k := &known{fines: h.finesOf(lot), days: h.daysOf(lot)}
	var err error
	if k.tint, err = h.colours.Of(lot); err != nil {
		return nil, err
	}
	k.body = k.tint.Body
	if k.age, err = h.ages.Of(lot); err != nil {
		return nil, err
	}
	if k.mean, err = k.age.Mean(); err != nil {
		return nil, err
	}
	if k.oldest, err = k.age.Oldest(); err != nil {
		return nil, err
	}
	h.lots[lot.ID] = k
	return k, nil
}

// flowOf finds a lot's melt flow; nil where nobody knows.
func (h *Shelf) flowOf(lot *shop.Lot, k *known) (err error) {
	if !k.flowed {
		k.flow, err = h.ages.Flow(lot)
		k.flowed = err == nil
	}
	return err
}

// bringsAt is what tells of water and metal at a moment.
func (h *Shelf) bringsAt(now time.Time) (*fit.Brings, error) {
	if h.brings != nil && now.Equal(h.moment) {
		return h.brings, nil
	}
	var err error
	h.moment, h.water, h.metal = now, map[shop.LotID]*fit.Water{}, map[shop.LotID]*figure.Figure{}
	h.brings, err = fit.NewBrings(h.state, now)
	return h.brings, err
}

// waterOf is the water in a lot then.
func (h *Shelf) waterOf(lot *shop.Lot) (*fit.Water, error) {
	return remembered(h.water, lot, h.brings.Water)
}

// metalOf is the metal in a lot then.
func (h *Shelf) metalOf(lot *shop.Lot) (*figure.Figure, error) {
	return remembered(h.metal, lot, h.brings.Metal)
}

// remembered asks of each lot once.
func remembered[T any](known map[shop.LotID]T, lot *shop.Lot, ask func(*shop.Lot) (T, error)) (T, error) {
	if v, ok := known[lot.ID]; ok {
		return v, nil
	}
	v, err := ask(lot)
	known[lot.ID] = v
	return v, err
}

// finesOf is the share of dust by the newest sieve analysis, less what was
// taken off since; bought granulate has little; nil where nobody knows.
func (h *Shelf) finesOf(lot *shop.Lot) *float64 {
	for _, e := range h.state.Sievings(lot.ID) {
		fines, err := traceability.DustLeft(lot, e)
		if err != nil {
			continue
		}
		return &fines
	}
	if lot.Class == shop.Virgin {
		fines := fit.PelletFines
		return &fines
	}
	return nil
}

// daysOf is how long a lot has been there; new granulate counts as none.
func (h *Shelf) daysOf(lot *shop.Lot) float64 {
	r, ok := h.state.Record(lot.Born)
	if !ok || lot.Class == shop.Virgin {
		return 0
	}
	return math.Max(0, h.state.Last.Sub(r.At).Hours()/24)
}
