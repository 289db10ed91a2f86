package melt

// The tube: what every plastometer die and nozzle land is made of.

import "math"

// ApparentRate returns the apparent shear rate at the wall of a tube [1/s].
//
//	flow    volume flow Q [m³/s], above 0 to 1e-2
//	radius  of the tube R [m], 1e-5 to 0.1
//
// Equation: Γ = 4Q/(πR³).
// Holds for: the true rate of a Newtonian liquid; a thinning melt shears faster.
// Source: own derivation.
// Errors: RangeError for an argument out of range.
// Checks: ApparentRate rows of checks.csv (7 own derivation, 1 refusal).
func ApparentRate(flow, radius float64) (float64, error) {
	if err := within(quantityIn{"volume flow", flow, 1e-18, mostFlow, "m³/s"}, quantityIn{"radius", radius, 1e-5, 0.1, "m"}); err != nil {
		return 0, err
	}
	return 4 * flow / (math.Pi * radius * radius * radius), nil
}

// FlowAt returns the volume flow of a tube at an apparent shear rate [m³/s].
//
//	apparent  apparent shear rate Γ [1/s], 1e-9 to 1e8
//	radius    of the tube R [m], 1e-5 to 0.1
//
// Equation: Q = Γπ R³/4.
// Holds for: the inverse of ApparentRate.
// Source: own derivation.
// Errors: RangeError for an argument out of range.
// Checks: FlowAt rows of checks.csv (1 identity, 1 refusal).
func FlowAt(apparent, radius float64) (float64, error) {
	if err := within(quantityIn{"apparent shear rate", apparent, leastRate, mostRate, "1/s"}, quantityIn{"radius", radius, 1e-5, 0.1, "m"}); err != nil {
		return 0, err
	}
	return apparent * math.Pi * radius * radius * radius / 4, nil
}

// WallStress returns the shear stress at the wall of a tube [Pa].
//
//	drop    pressure drop over the length [Pa], 0 to 1e9
//	radius  of the tube R [m], 1e-5 to 0.1
//	length  of the tube L [m], above 0 to 10
//
// Equation: τ_w = Δp R/(2L).
// Holds for: any liquid in steady flow; over a short tube the drop holds the entrance loss too, and the stress reads high.
// Source: own derivation.
// Errors: RangeError for an argument out of range.
// Checks: WallStress rows of checks.csv (5 own derivation, 1 refusal).
func WallStress(drop, radius, length float64) (float64, error) {
	if err := within(quantityIn{"pressure drop", drop, 0, mostPressure, "Pa"}, quantityIn{"radius", radius, 1e-5, 0.1, "m"},
		quantityIn{"length", length, 1e-6, 10, "m"}); err != nil {
		return 0, err
	}
	return drop * radius / (2 * length), nil
}

// stressAtWall gives the wall stress of a flow through a tube, 0 with an error.
func stressAtWall(c Curve, radius, flow float64) (float64, error) {
	apparent, err := ApparentRate(flow, radius)
	if err != nil {
		return 0, err
	}
	wall, err := c.WallRate(apparent)
	if err != nil {
		return 0, err
	}
	return c.Stress(wall)
}

// Cone is a hole that narrows evenly, with a flow through it.
type Cone struct {
	Wide   float64 // radius at one end [m], Narrow to 0.1
	Narrow float64 // radius at the other [m], 1e-5 to 0.1
	Length float64 // along the axis [m], 0 to 10
	Flow   float64 // [m³/s], above 0 to 1e-2
}

// ConeDrop returns the pressure drop of shear along a cone [Pa].
//
//	c  flow curve, made by NewCross, NewPower or At
//	k  see its fields
//
// Equation: Δp = ∫ 2 τ_w(r)/r dz; power law 2K/(3n tan α) [(3n+1)/n · Q/π]ⁿ (R1^−3n − R0^−3n), tan α = (R0 − R1)/L.
// Holds for: cones up to about 30° to the axis, where each slice flows as a tube; the stretching of the melt comes on top, see EntranceLoss.
// Source: own derivation.
// Errors: RangeError for a field or a shear rate out of range.
// Checks: ConeDrop rows of checks.csv (2 second library, 3 identity, 2 own derivation, 1 refusal).
func ConeDrop(c Curve, k Cone) (float64, error) {
	if err := within(quantityIn{"radius", k.Narrow, 1e-5, 0.1, "m"}, quantityIn{"radius of the wide end", k.Wide, k.Narrow, 0.1, "m"},
		quantityIn{"length", k.Length, 0, 10, "m"}); err != nil {
		return 0, err
	}
	// With r = R1 e^(y Λ), Λ = ln(R0/R1): dz/r = L Λ/(R0 − R1) dy.
	log := math.Log(k.Wide / k.Narrow)
	pitch := 1 / k.Narrow // Λ/(R0 − R1) of a cylinder
	if log > 0 {
		pitch = log / (k.Narrow * math.Expm1(log))
	}
	if c.stress == 0 {
		stress, err := stressAtWall(c, k.Narrow, k.Flow)
		if err != nil {
			return 0, err
		}
		if _, err := stressAtWall(c, k.Wide, k.Flow); err != nil {
			return 0, err
		}
		return 2 * stress * k.Length * pitch * meanDecay(3*c.n*log), nil
	}
	sum := 0.0
	for _, p := range unitRule {
		stress, err := stressAtWall(c, k.Narrow*math.Exp(p.at*log), k.Flow)
		if err != nil {
			return 0, err
		}
		sum += p.weight * stress
	}
	return 2 * sum * k.Length * pitch, nil
}

// meanDecay is (1 − e^(−z))/z, the mean of e^(−zy) over y from 0 to 1.
func meanDecay(z float64) float64 {
	if z == 0 {
		return 1
	}
	return -math.Expm1(-z) / z
}
