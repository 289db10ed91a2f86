package melt

// What several functions answer or refuse alike.

import "hopperful/process"

// Span is a value known only as a range; what it holds and how sure is said
// where it is used.
type Span struct {
	Low, High float64 // same unit, Low ≤ High
}

// quantityIn is one argument with its range.
type quantityIn struct {
	name          string
	value, lo, hi float64
	unit          string
}

// within refuses the first argument outside its range.
func within(all ...quantityIn) error {
	for _, q := range all {
		if err := process.Within(q.name, q.value, q.lo, q.hi, q.unit, "judgement"); err != nil {
			return err
		}
	}
	return nil
}

// The widest that is reckoned with; all judgement, far beyond any printer.
const (
	leastRate, mostRate = 1e-9, 1e8   // shear rate [1/s]
	leastEta, mostEta   = 1e-6, 1e12  // viscosity, consistency [Pa s]
	mostFlow            = 1e-2        // volume flow [m³/s]
	mostPressure        = 1e9         // [Pa]
	leastN, mostN       = 0.01, 1.5   // flow exponent [–]
	coldest, hottest    = 250.0, 800. // melt temperature [K]
)
