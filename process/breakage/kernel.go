package breakage

// How fast pieces break and what their debris looks like.

import (
	"hopperful/process"
)

// ReferenceSize is the size at which a kernel's rate is given [m].
const ReferenceSize = 0.010

// Kernel is how a polymer breaks in a mill.
type Kernel struct {
	Rate          float64 // k_E, breakage rate per specific power at 10 mm [kg/J], 0 to 1
	SizeExponent  float64 // α, how the rate grows with size [–], 0 to 4
	RotorSize     float64 // µ, size at which the rotor's grip has halved the rate [m], above 0
	RotorExponent float64 // Λ, how sharply it falls beyond [–], 0 to 10
	Phi           float64 // φ, share of the fine debris [–], 0 to 1
	Gamma         float64 // γ, exponent of the fine debris [–], 0.05 to 20
	Beta          float64 // β, exponent of the coarse debris [–], 0.05 to 20
}

// check refuses a kernel outside the ranges of its fields.
func (k Kernel) check() error {
	for _, f := range [...]struct {
		name   string
		value  float64
		lo, hi float64
		unit   string
	}{
		{"breakage rate", k.Rate, 0, 1, "kg/J"},
		{"size exponent", k.SizeExponent, 0, 4, ""},
		{"rotor size", k.RotorSize, 1e-6, 1e6, "m"},
		{"rotor exponent", k.RotorExponent, 0, 10, ""},
		{"share of fine debris", k.Phi, 0, 1, ""},
		{"exponent of fine debris", k.Gamma, 0.05, 20, ""},
		{"exponent of coarse debris", k.Beta, 0.05, 20, ""},
	} {
		// Written out before the call, so that a good kernel costs nothing.
		if f.value >= f.lo && f.value <= f.hi {
			continue
		}
		return process.Within(f.name, f.value, f.lo, f.hi, f.unit, "judgement")
	}
	return nil
}
