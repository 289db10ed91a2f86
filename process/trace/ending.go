package trace

// ending looks for the end of breaking: the running median of the power falls below a
// tenth above idling, and stays.
type ending struct {
	idle   float64 // [W]; 0: not known, nothing is found
	from   float64 // not judged before [s]
	recent recent

	since  float64 // of the load that goes on, 0 while there is none
	loaded bool    // it was loaded long enough for an end to mean something
	done   bool
	at     float64
}

// add takes a reading and says whether the breaking ended with it, or goes on after all.
func (e *ending) add(r Reading) (over, again bool) {
	if e.idle <= 0 || r.At < e.from {
		return false, false
	}
	e.recent.add(r)
	if !e.recent.full() {
		return false, false
	}
	m := e.recent.median()
	if m >= ended*e.idle {
		if e.since == 0 {
			e.since = r.At
		}
		e.loaded = e.loaded || r.At-e.since >= loadedFor
	} else {
		e.since = 0
	}
	switch {
	case !e.done && e.loaded && m < ended*e.idle:
		e.done, e.at = true, r.At
		return true, false
	case e.done && m >= resumed*e.idle:
		e.done = false
		return false, true
	}
	return false, false
}
