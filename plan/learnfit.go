package plan

import (
	"crypto/sha256"
	"encoding/json"
	"slices"
	"sync"

	"hopperful/estimate"
)

// What was learned from the same records is learned once.

// mostFits is how many fits are remembered: a page asks of one mill after another,
// and of a run against those before it.
const mostFits = 12

// memory remembers the latest, by what they were made from.
type memory struct {
	sync.Mutex
	keys []([sha256.Size]byte) // the latest asked for last
	by   map[[sha256.Size]byte]*learning
}

var fits memory

// learning is a fit being made, or made.
type learning struct {
	once   sync.Once
	fitted *estimate.Fitted
	err    error
}

// fit learns from a mill's runs, or remembers what they taught. The key is all that
// a fit depends on, so it cannot be out of date.
func (l *logbook) fit() (*estimate.Fitted, error) {
	text, err := json.Marshal(struct {
		Setup estimate.Setup
		Runs  []estimate.Run
	}{l.setup, l.runs})
	if err != nil { // a number that is none: nothing to remember it by
		return estimate.Fit(l.setup, l.runs)
	}
	one := fits.of(sha256.Sum256(text))
	one.once.Do(func() { one.fitted, one.err = estimate.Fit(l.setup, l.runs) })
	return one.fitted, one.err
}

// of finds a fit by its key, or makes room for it.
func (f *memory) of(key [sha256.Size]byte) *learning {
	f.Lock()
	defer f.Unlock()
	one, ok := f.by[key]
	if !ok {
		if f.by == nil {
			f.by = map[[sha256.Size]byte]*learning{}
		}
		one = &learning{}
		f.by[key] = one
	}
	f.keys = append(slices.DeleteFunc(f.keys, func(k [sha256.Size]byte) bool { return k == key }), key)
	if len(f.keys) > mostFits {
		delete(f.by, f.keys[0])
		f.keys = f.keys[1:]
	}
	return one
}
