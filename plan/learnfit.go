package plan

import (
	"crypto/sha256"
	"encoding/json"
	"sync"

	"hopperful/estimate"
)

// What was learned from the same records is learned once.

// mostFits is how many fits are remembered: a page asks of one mill after another,
// and of a run against those before it.
const mostFits = 12

// fits remembers the latest, by what they were made from.
var fits struct {
	sync.Mutex
	keys []([sha256.Size]byte) // the latest asked for last
	by   map[[sha256.Size]byte]*learning
}

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
	one := remembered(sha256.Sum256(text))
	one.once.Do(func() { one.fitted, one.err = estimate.Fit(l.setup, l.runs) })
	return one.fitted, one.err
}

// remembered finds a fit by its key, or makes room for it.
func remembered(key [sha256.Size]byte) *learning {
	fits.Lock()
	defer fits.Unlock()
	one, ok := fits.by[key]
	if !ok {
		if fits.by == nil {
			fits.by = map[[sha256.Size]byte]*learning{}
		}
		one = &learning{}
		fits.by[key] = one
	}
	for i, k := range fits.keys {
		if k == key {
			fits.keys = append(fits.keys[:i], fits.keys[i+1:]...)
			break
		}
	}
	fits.keys = append(fits.keys, key)
	if len(fits.keys) > mostFits {
		delete(fits.by, fits.keys[0])
		fits.keys = fits.keys[1:]
	}
	return one
}
