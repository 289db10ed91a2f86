package demo

import (
	"fmt"
	"math/rand/v2"
	"time"

	"hopperful/shop"
)

// book is the shop's record book while it is being written. The first record
// the shop refuses stops it.
type book struct {
	end    time.Time  // the books end here
	chance *rand.Rand // scatter of weighings, times and temperatures
	state  *shop.State
	err    error

	truths  map[string]*truth        // the mills as they really are, by name
	classes map[shop.LotID][]float64 // what the granulate is truly made of, by size class [kg]
	slipped shop.Record              // a charge typed in wrong
	meant   shop.Ground              // what it should have said
}

// Records returns the invented shop's records, the last of them on the day
// before end. All of them pass the shop's own checks.
func Records(end time.Time, chance *rand.Rand) ([]shop.Record, error) {
	state, err := shop.Fold(nil)
	if err != nil {
		return nil, fmt.Errorf("demo: %w", err)
	}
	b := &book{end: end, chance: chance, state: state, truths: map[string]*truth{}, classes: map[shop.LotID][]float64{}}
	for name, make := range map[string]func() (*truth, error){rattle: rattleTruth, grumble: grumbleTruth} {
		if b.truths[name], err = make(); err != nil {
			return nil, fmt.Errorf("demo: the mill %s: %w", name, err)
		}
	}
	b.setUp()
	b.takeInScrap()
	b.workThroughTheWeeks()
	if b.err != nil {
		return nil, fmt.Errorf("demo: %w", b.err)
	}
	return b.state.History.List(), nil
}

// at is a moment so many days before the end, at a clock time.
func (b *book) at(daysBefore, hour, minute int) time.Time {
	y, m, d := b.end.Date()
	return time.Date(y, m, d-daysBefore, hour, minute, 0, 0, b.end.Location())
}

// noting is how long after it happened something is written down.
const noting = 2 * time.Minute

// note writes a record down and returns it as kept.
func (b *book) note(at time.Time, by string, body shop.Body) shop.Record {
	return b.write(shop.Record{At: at, NotedAt: at.Add(noting), By: by, Body: body})
}

// write keeps a record, unless an earlier one was refused.
func (b *book) write(r shop.Record) shop.Record {
	if b.err != nil {
		return shop.Record{Body: r.Body}
	}
	next, err := b.state.Admit(b.end, r)
	if err != nil {
		b.err = fmt.Errorf("%s of %s: %w", r.Body.Kind(), r.At.Format("2006-01-02 15:04"), err)
		return shop.Record{Body: r.Body}
	}
	b.state = next
	return next.Newest()
}

// stop keeps the first error.
func (b *book) stop(err error) {
	if b.err == nil {
		b.err = err
	}
}

// about scatters a value by a share, cut off at two and a half of it so that
// no reading is absurd.
func (b *book) about(value, share float64) float64 {
	z := max(-2.5, min(2.5, b.chance.NormFloat64()))
	return value * (1 + share*z)
}

// gram rounds to the shop's scale, whose digit is 1 g.
func gram(kg float64) float64 { return float64(int64(kg*1000+0.5)) / 1000 }

// known points at a value that is known.
func known[T any](v T) *T { return &v }

// celsius turns °C into K.
func celsius(c float64) float64 { return c + 273.15 }

// degree rounds a temperature to what the shop's thermometer shows, 0.5 °C.
func degree(c float64) *float64 { return known(celsius(float64(int64(c*2+0.5)) / 2)) }
