package trace

import "math"

// stalling looks for the marks of a rotor that stands: the power is pinned, without
// ripple, above anything the mill draws otherwise; or it drops from under load below
// idling without the mill being off.
type stalling struct {
	high, low []Reading // that go on now
	told      bool      // this stall was said already
}

// add takes a reading of a run: limit is the power no sound run reaches, 0 where it is
// not known; loaded says that the mill was under load just before.
func (s *stalling) add(r Reading, limit, idle float64, loaded bool) bool {
	found := false
	if s.high = s.grow(s.high, r, limit > 0 && r.Value >= limit); pinned(s.high) {
		found = true
	}
	goesOn := len(s.low) > 0 || loaded
	if s.low = s.grow(s.low, r, idle > 0 && goesOn && r.Value < standsAt*idle); lasts(s.low) {
		found = true
	}
	if len(s.high) == 0 && len(s.low) == 0 {
		s.told = false
	}
	if found && !s.told {
		s.told = true
		return true
	}
	return false
}

// mostPinned bounds what is looked at of a stall.
const mostPinned = 64

func (s *stalling) grow(all []Reading, r Reading, goesOn bool) []Reading {
	if !goesOn {
		return all[:0]
	}
	if len(all) == mostPinned {
		copy(all[1:], all[2:])
		all = all[:mostPinned-1]
	}
	return append(all, r)
}

// lasts reports whether readings reach over the time that a stall has to.
func lasts(all []Reading) bool {
	return len(all) >= 2 && all[len(all)-1].At-all[0].At >= stallFor
}

// pinned reports whether they do and hardly differ.
func pinned(all []Reading) bool {
	if !lasts(all) {
		return false
	}
	lo, hi, sum := math.Inf(1), 0.0, 0.0
	for _, r := range all {
		lo, hi, sum = math.Min(lo, r.Value), math.Max(hi, r.Value), sum+r.Value
	}
	return hi-lo <= stallFlat*sum/float64(len(all))
}
