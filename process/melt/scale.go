package melt

// From a textbook curve to the lot on the bench: the curve's own melt flow rate,
// and how much thinner the lot is.

// Plastometer is a condition at which a melt flow rate is given. Rates of unlike
// conditions do not compare: a set is scaled at the condition of the measurement.
type Plastometer struct {
	Load    float64 // mass on the die [kg], 0.1 to 50
	Density float64 // of the melt at the temperature of the test [kg/m³], 300 to 5000
	Loss    float64 // entrance loss of the die in die radii, 0 to 50; 0 is the usual arithmetic
}

// ModelMFR returns the melt flow rate a flow curve would show [kg/s].
//
//	c  flow curve at the temperature of the test
//	p  see its fields
//
// Equation: MFR = ρ π R³ Γ(τ_w)/4 with τ_w = p R/(2 (L + e R)): the wall stress gives the wall rate, that the apparent rate.
// Holds for: the die of ISO 1133, 2.095 × 8 mm. It is only 7.6 radii long: without the entrance loss the true stress is lower than reckoned.
// Source: own derivation; geometry from memory of ISO 1133.
// Errors: RangeError for a field or shear rate out of range.
// Checks: ModelMFR rows of checks.csv (3 second library, 4 own derivation, 1 refusal).
func ModelMFR(c Curve, p Plastometer) (float64, error) {
	if err := within(quantityIn{"melt density", p.Density, 300, 5000, "kg/m³"}, quantityIn{"entrance loss", p.Loss, 0, 50, "radii"}); err != nil {
		return 0, err
	}
	pressure, err := LoadPressure(p.Load)
	if err != nil {
		return 0, err
	}
	stress, err := WallStress(pressure, DieRadius, DieLength+p.Loss*DieRadius)
	if err != nil {
		return 0, err
	}
	wall, err := c.Rate(stress)
	if err != nil {
		return 0, err
	}
	apparent, err := c.Apparent(wall)
	if err != nil {
		return 0, err
	}
	flow, err := FlowAt(apparent, DieRadius)
	return p.Density * flow, err
}

// Thinning returns how many times as fast as its textbook curve a lot flows [–].
// Give it to Thinned of the law.
//
//	measured  melt flow rate of the lot, or any flow at a given pressure [kg/s or m³/s], above 0
//	modelled  the same of the textbook curve at the same condition [same unit], above 0
//
// Equation: f = measured/modelled; Cross η0 → η0/f with τ* kept, power law K → K/fⁿ. Either multiplies the flow at every stress by f, so the model's rate is then the measured one.
// Holds for: lots of one polymer that differ in chain length; not for filled or branched grades.
// Source: own derivation.
// Errors: RangeError for rates not above 0 or more than a factor 1000 apart.
// Checks: Thinning rows of checks.csv (3 identity, 2 refusals).
func Thinning(measured, modelled float64) (float64, error) {
	if err := within(quantityIn{"measured flow", measured, 1e-18, 1, ""}, quantityIn{"modelled flow", modelled, 1e-18, 1, ""}); err != nil {
		return 0, err
	}
	factor := measured / modelled
	return factor, checkThinning(factor)
}
