package sieving

import (
	"math"

	"hopperful/fact"
	"hopperful/process/sieve"
)

// coverage is how many standard deviations what a scale's digits leave open is
// taken to reach. Common practice, no source.
const coverage = 2

// allow says how much of the charge may be missing: what was asked for, else
// what the standard allows, but never less than the digits of the scale that
// weighed it leave open. A reading is off by a rectangular error of one digit,
// of standard deviation d/√12; the charge and every row are a reading each, two
// where full and empty were weighed (own derivation).
func (f *sifting) allow() {
	f.allowed = fact.Say("sieving.allowance")
	if f.opt.Allowance != (sieve.Allowance{}) {
		f.stack.Allowance, f.allowed = f.opt.Allowance, fact.Say("sieving.own_allowance")
		return
	}
	if f.stack.Allowance != (sieve.Allowance{}) {
		return
	}
	f.stack.Allowance = sieve.ASTMC136
	charge, readings := 0.0, 0.0
	for _, p := range f.stack.Portions {
		charge += p.Charge
		readings++
		for _, r := range p.Rows {
			if readings++; r.Tare > 0 {
				readings++
			}
		}
	}
	if !(charge > 0) {
		return
	}
	digit := f.state.Resolution(charge)
	open := math.Max(digit, coverage*digit*math.Sqrt(readings/12)) / charge
	if open > f.stack.Allowance.Share {
		f.stack.Allowance = sieve.Allowance{Share: math.Min(1, open*(1+1e-9)), Name: "the scale's digits", Source: "judgement"} // a digit exactly counts in
		f.allowed = fact.Say("sieving.scale_allowance")
	}
}
