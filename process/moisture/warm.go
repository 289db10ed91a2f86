package moisture

// Warming up: cold granulate hardly dries.

import (
	"math"

	"hopperful/process"
)

const (
	heapConduction = 0.1    // heat conduction of a heap of granulate [W/(m K)], 0.06 to 0.15; judgement
	trayTransfer   = 10     // from oven air and walls to a tray [W/(m² K)], still air and radiation; from memory
	airHeat        = 1005   // specific heat of air [J/(kg K)]; from memory
	airMolar       = 0.0290 // molar mass of dry air [kg/mol]; from memory
	sea            = 101325 // pressure of the air [Pa]
)

// WarmLag returns how far the mean temperature of a bed lags behind its dryer [s]:
// the excess falls by a factor e in that time.
//
//	p  the plastic, see its fields; with Heat
//	d  the dryer, see its fields
//	b  the bed, see its fields
//
// Equation: on a tray τ = L²/(3 α) + ρ_b c L/h, α = λ/(ρ_b c): the mean lag of a plate warmed from one side through a film; in a stream τ = m c/(V̇ ρ_air c_air).
// Holds for: a heap open above; λ = 0.1 W/(m K), h = 10 W/(m² K). Water that evaporates cools polyamides and PVA besides, by as much again.
// Source: own derivation.
// Errors: RangeError for arguments out of range, a plastic without Heat.
// Checks: WarmLag rows of checks.csv (own derivation).
func WarmLag(p Plastic, d Dryer, b Bed) (float64, error) {
	for _, err := range [...]error{p.Check(), d.Check(), b.Check(p), process.Above("specific heat", p.Heat, 0, "J/(kg K)", derived)} {
		if err != nil {
			return 0, err
		}
	}
	if d.Flow > 0 {
		return b.Mass * p.Heat / (d.Flow * sea * airMolar / (gasConstant * d.Temperature) * airHeat), nil
	}
	capacity := b.Density * p.Heat
	return b.Depth*b.Depth*capacity/(3*heapConduction) + capacity*b.Depth/trayTransfer, nil
}

// WarmingLoss returns the time that warming up costs a drying [s]: how much later
// it ends than one that starts warm.
//
//	p  the plastic, see its fields; without Heat the loss is 0
//	d  the dryer, see its fields
//	b  the bed, see its fields
//
// Equation: ∫ (1 − D(T)/D(T_d)) dt, T = T_d − (T_d − T_0) e^(−t/τ), τ = WarmLag.
// Holds for: grains whose drying takes longer than the warming; of quicker ones it reads long.
// Source: own derivation.
// Errors: RangeError for arguments out of range.
// Checks: WarmingLoss rows of checks.csv (own derivation).
func WarmingLoss(p Plastic, d Dryer, b Bed) (float64, error) {
	if p.Heat == 0 || p.Comes >= d.Temperature {
		return 0, nil
	}
	lag, err := WarmLag(p, d, b)
	if err != nil {
		return 0, err
	}
	const steps, most = 64, 8.0 // after eight lags the rest is below a thousandth
	sum := 0.0
	for i := range steps {
		x := (float64(i) + 0.5) / steps * most
		t := d.Temperature - (d.Temperature-p.Comes)*math.Exp(-x)
		sum += 1 - math.Exp(p.Energy/gasConstant*(1/d.Temperature-1/t))
	}
	return lag * most * sum / steps, nil
}
