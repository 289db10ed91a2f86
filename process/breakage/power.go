package breakage

// How many watts reach the charge.

import (
	"math"

	"hopperful/process"
)

// Power is the mechanical power into the charge at one level of the mill.
type Power struct {
	Net     float64 // power into a full charge: electric less idle [W], 0 to 1e5
	MinHeld float64 // hold-up below which the rotor mostly misses [kg], above 0 to 100
}

func (p Power) check() error {
	if err := process.Within("net power", p.Net, 0, 1e5, "W", "judgement"); err != nil {
		return err
	}
	return process.Within("least hold-up", p.MinHeld, 1e-9, 100, "kg", "judgement")
}

// PowerAt returns the power into the charge at a hold-up [W].
//
//	p  full power and least hold-up, see its fields
//	h  mass held in the mill [kg], h ≥ 0
//
// Equation: P = P_net (1 − exp(−h/H_min)).
// Holds for: a rotor that hits pieces at random: each of h/H_min hits expected a turn finds its piece or not (Poisson). Falls to 0 with the charge.
// Source: own derivation.
// Errors: RangeError for h < 0 or a power out of range.
// Checks: PowerAt rows of checks.csv (2 own derivation).
func PowerAt(p Power, h float64) (float64, error) {
	if err := p.check(); err != nil {
		return 0, err
	}
	if err := process.Within("hold-up", h, 0, 1e4, "kg", "judgement"); err != nil {
		return 0, err
	}
	return p.perMass(h) * h, nil
}

// perMass returns P/H [W/kg], which stays finite as H falls to 0.
func (p Power) perMass(h float64) float64 {
	u := h / p.MinHeld
	if u < 1e-5 {
		return p.Net / p.MinHeld * (1 - u/2)
	}
	if u < 0.1 {
		return p.Net * -math.Expm1(-u) / h
	}
	return p.Net * (1 - math.Exp(-u)) / h // half as much work, and beyond a tenth as exact
}
