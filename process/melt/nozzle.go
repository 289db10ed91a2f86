package melt

// The nozzle: cone, land and what is lost at their mouth.

import (
	"hopperful/process"
)

// Nozzle is a cone that ends in a straight land.
type Nozzle struct {
	Bore   float64 // diameter of the land and the opening [m], 5e-5 to 0.05
	Land   float64 // length of the land [m], 0 to 1
	Entry  float64 // diameter where the cone begins [m], Bore to 0.2
	Taper  float64 // length of the cone along the axis [m], 0 to 1; 0 is a flat step
	Losses Span    // entrance loss in lengths of one land radius, 0 to 50; [UsualLosses] where nothing is known
}

// UsualLosses is the entrance loss of polymer melts in land radii: below what a
// Newtonian liquid loses at a sharp edge (3π/16), above what long-branched melts
// lose at high rates. Judgement.
var UsualLosses = Span{0.6, 8}

// Check refuses a nozzle that cannot be, with a RangeError.
func (z Nozzle) Check() error {
	if err := within(quantityIn{"nozzle bore", z.Bore, 5e-5, 0.05, "m"}, quantityIn{"land length", z.Land, 0, 1, "m"},
		quantityIn{"diameter where the cone begins", z.Entry, z.Bore, 0.2, "m"}, quantityIn{"length of the cone", z.Taper, 0, 1, "m"},
		quantityIn{"least entrance loss", z.Losses.Low, 0, 50, "radii"}, quantityIn{"largest entrance loss", z.Losses.High, z.Losses.Low, 50, "radii"}); err != nil {
		return err
	}
	return process.Above("length of land and cone", z.Land+z.Taper, 0, "m", "own derivation")
}

// Drop is the pressure a nozzle asks for a flow, and the state at its wall.
type Drop struct {
	Cone       float64 // shear along the cone [Pa]
	Land       float64 // shear along the land [Pa]
	Entrance   Span    // stretching and swirl at the mouth [Pa]
	Total      Span    // all three [Pa]
	WallStress float64 // shear stress at the wall of the land [Pa]; extrudates roughen above 0.1 to 0.3 MPa (from memory)
	WallRate   float64 // true shear rate there [1/s]
	Apparent   float64 // apparent shear rate there [1/s]
}

// NozzleDrop returns the pressure a nozzle asks for a flow.
//
//	c     flow curve at the nozzle's temperature
//	z     see its fields
//	flow  volume flow of melt [m³/s], above 0 to 1e-2
//
// Equation: Δp = cone + land + 2 τ_w e, e the entrance loss in land radii.
// Holds for: a land and a cone; the entrance loss is a range and often the larger half of a short nozzle's pressure.
// Source: own derivation.
// Errors: RangeError for a nozzle, flow or shear rate out of range.
// Checks: NozzleDrop rows of checks.csv (3 identity, 1 refusal).
func NozzleDrop(c Curve, z Nozzle, flow float64) (Drop, error) {
	if err := z.Check(); err != nil {
		return Drop{}, err
	}
	var d Drop
	var err error
	if d.Apparent, err = ApparentRate(flow, z.Bore/2); err != nil {
		return Drop{}, err
	}
	if d.WallRate, err = c.WallRate(d.Apparent); err != nil {
		return Drop{}, err
	}
	if d.WallStress, err = c.Stress(d.WallRate); err != nil {
		return Drop{}, err
	}
	d.Land = 4 * d.WallStress * z.Land / z.Bore
	if d.Cone, err = ConeDrop(c, Cone{z.Entry / 2, z.Bore / 2, z.Taper, flow}); err != nil {
		return Drop{}, err
	}
	d.Entrance = Span{2 * d.WallStress * z.Losses.Low, 2 * d.WallStress * z.Losses.High}
	d.Total = Span{d.Cone + d.Land + d.Entrance.Low, d.Cone + d.Land + d.Entrance.High}
	return d, nil
}
