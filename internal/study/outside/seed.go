package outside

import "math/rand/v2"

// Tuning is the seed of a mill that the learning may be tuned on.
type Tuning uint32

// Reporting is the seed of a mill that only published figures are from. Nobody
// looks at single mills of this kind.
type Reporting uint32

// Seed is one of the two, and a list of seeds is all of one kind: a function of
// []S cannot be given both, and a page that takes []Reporting not a single
// tuned mill. The streams are apart, so that no number of one kind makes a mill
// of the other.
type Seed interface {
	Tuning | Reporting
	// Chance is a source of chance of its own for every purpose.
	Chance(purpose uint32) *rand.Rand
}

// The streams of the two kinds.
const (
	tuning    = 0x74756e65 << 32
	reporting = 0x7265706f << 32
)

// Chance is this seed's source for a purpose.
func (s Tuning) Chance(purpose uint32) *rand.Rand {
	return rand.New(rand.NewPCG(uint64(s), tuning|uint64(purpose)))
}

// Chance is this seed's source for a purpose.
func (s Reporting) Chance(purpose uint32) *rand.Rand {
	return rand.New(rand.NewPCG(uint64(s), reporting|uint64(purpose)))
}

// Seeds are the first n of a kind.
func Seeds[S Seed](n int) []S {
	all := make([]S, n)
	for i := range all {
		all[i] = S(i + 1)
	}
	return all
}
