package traceability

import "hopperful/shop"

// outsideOf is what came into a lot other than out of lots; less than a
// billionth of it is rounding.
func outsideOf(l *shop.Lot) float64 {
	outside := l.In
	for _, e := range l.Parents {
		outside -= e.Mass
	}
	if outside < l.In*1e-9 {
		return 0
	}
	return outside
}

// wholeOf is the mass a lot's parts are shares of.
func wholeOf(l *shop.Lot) float64 {
	whole := outsideOf(l)
	for _, e := range l.Parents {
		whole += e.Mass
	}
	return whole
}

// Granulate reports whether a class of lot is granulate, and not scrap or prints.
func Granulate(c shop.Class) bool {
	return c == shop.Regrind || c == shop.Blend || c == shop.Virgin
}

// OldestShare is the share of a lot called its oldest.
const OldestShare = 0.05
