package moisture

// How long until dry enough, and why it may never be.

import (
	"fmt"
	"math"

	"hopperful/process"
)

// Need is what drying starts from and has to reach, both as water per mass of
// plastic.
type Need struct {
	Now   float64 // [–], above Limit to 0.3
	Limit float64 // [–], above 0
}

// Check refuses a need outside the ranges of its fields with a RangeError.
func (n Need) Check() error {
	if err := process.Within("moisture limit", n.Limit, 1e-7, 0.3, "", judged); err != nil {
		return err
	}
	return process.Within("moisture now", n.Now, n.Limit, 0.3, "", derived)
}

// Part is what takes the time.
type Part string

// The parts of a drying time.
const (
	ByGrain Part = "grain" // diffusion inside the grains
	ByBed   Part = "bed"   // diffusion up through the heap
	ByAir   Part = "air"   // what the stream of air can carry
	ByHeat  Part = "heat"  // warming up
)

// Drying is how long drying takes and what of.
type Drying struct {
	Time        float64 // in all [s]
	Grain       float64 // for the grains alone [s]
	Bed         float64 // for the heap alone [s]; 0 when air is blown through
	Air         float64 // for the air to carry the water [s]; 0 without flow
	Warm        float64 // lost to warming up [s]; 0 where the plastic has no Heat
	Equilibrium float64 // water left after any time, per mass of plastic [–]
	Humidity    float64 // relative humidity of the air at the granulate [–]
	Deepest     float64 // deepest bed that is not refused [m]; 0 when air is blown through
	Binding     Part    // the longest of the four
}

// InGrains is how far the grains alone would be after a time in the dryer [s]:
// none while it warms, then as much slower as heap or air make it.
func (d Drying) InGrains(time float64) float64 {
	if d.Time <= d.Warm {
		return time
	}
	return math.Max(0, time-d.Warm) * d.Grain / (d.Time - d.Warm)
}

// TooHotError says that the dryer would fuse the granulate.
type TooHotError struct {
	Temperature float64 // of the dryer [K]
	Softening   float64 // of the plastic [K]
}

// Error says it for a person.
func (e *TooHotError) Error() string {
	return fmt.Sprintf("at %.0f °C the grains stick together, they soften at %.0f °C; dry cooler and longer, or crystallise first while stirring",
		e.Temperature-freezing, e.Softening-freezing)
}

// TooWetError says that the air is too humid to get there.
type TooWetError struct {
	Equilibrium float64 // water left after any time, per mass of plastic [–]
	Limit       float64 // wanted [–]
}

// Error says it for a person.
func (e *TooWetError) Error() string {
	return fmt.Sprintf("in this air the plastic keeps %.0f ppm of water, the limit is %.0f ppm; use drier air or a higher temperature",
		1e6*e.Equilibrium, 1e6*e.Limit)
}

// TooDeepError says that the heap and not the grain would set the time.
type TooDeepError struct {
	Depth   float64 // of the bed [m]
	Deepest float64 // the deepest at which the heap is no slower than the grains [m]
	Bed     float64 // time for the heap alone [s]
	Grain   float64 // time for the grains alone [s]
}

// Error says it for a person.
func (e *TooDeepError) Error() string {
	return fmt.Sprintf("a bed of %.0f mm is too deep: without air blown through it the heap takes %.1f h where the grains take %.1f h; spread it to %.0f mm or less",
		1e3*e.Depth, e.Bed/3600, e.Grain/3600, 1e3*e.Deepest)
}

// DryingTime returns how long a dryer needs to bring granulate to a moisture
// limit.
//
//	p  the plastic, see its fields
//	g  the grains, see its fields
//	d  the dryer, see its fields
//	b  how the granulate lies in it, see its fields
//	n  moisture now and wanted, see its fields
//
// Equation: lost = (w − w_limit)/(w − w_e), w_e = EquilibriumWater(φ(T)); t = t_warm + t_grain(lost) + t_bed(lost), or t_warm + t_grain + t_air where air is blown through.
// Holds for: granulate in one dryer from start to end. Adding the times is exact for their means and reads long for the last percent; a coupled solution came out up to 10 % shorter.
// Source: own derivation; that a bed slower than its grains is refused is judgement.
// Errors: TooHotError at or above softening, TooWetError when the limit is at or below w_e, TooDeepError when the heap is slower than the grains, RangeError for arguments out of range.
// Checks: DryingTime rows of checks.csv (measurement, own derivation, second library).
func DryingTime(p Plastic, g Grains, d Dryer, b Bed, n Need) (Drying, error) {
	var out Drying
	for _, err := range [...]error{p.Check(), d.Check(), b.Check(p), n.Check()} {
		if err != nil {
			return out, err
		}
	}
	if d.Temperature >= p.Softening {
		return out, &TooHotError{d.Temperature, p.Softening}
	}
	out.Humidity = d.Vapour / saturation(d.Temperature)
	out.Equilibrium = p.sorption().at(out.Humidity)
	if n.Limit <= out.Equilibrium*(1+1e-9) {
		return out, &TooWetError{out.Equilibrium, n.Limit}
	}
	lost := (n.Now - n.Limit) / (n.Now - out.Equilibrium)
	lot, err := lotIn(p, g, d.Temperature)
	if err != nil {
		return out, err
	}
	if out.Grain, err = lot.Time(lost); err != nil {
		return out, err
	}
	if out.Warm, err = WarmingLoss(p, d, b); err != nil {
		return out, err
	}
	return out, out.add(p, d, b, lost)
}

// lotIn prepares grains in air that keeps their surface at equilibrium.
func lotIn(p Plastic, g Grains, t float64) (*Lot, error) {
	diffusivity, err := DiffusivityAt(p, t)
	if err != nil {
		return nil, err
	}
	return NewLot(g, Motion{Diffusivity: diffusivity, Transfer: math.Inf(1)})
}

// add puts bed or air to the grains' time.
func (out *Drying) add(p Plastic, d Dryer, b Bed, lost float64) (err error) {
	out.Binding = ByGrain
	if d.Flow > 0 {
		if out.Air, err = CarryTime(p, b, d, lost); err != nil {
			return err
		}
		if out.Air > out.Grain {
			out.Binding = ByAir
		}
		if out.Warm > math.Max(out.Air, out.Grain) {
			out.Binding = ByHeat
		}
		out.Time = out.Warm + out.Grain + out.Air
		return nil
	}
	if out.Bed, err = BedTime(p, b, d.Temperature, lost); err != nil {
		return err
	}
	if lost > 0 {
		out.Deepest = b.Depth * math.Sqrt(out.Grain/out.Bed)
	}
	out.Time = out.Warm + out.Grain + out.Bed
	if out.Bed > out.Grain {
		out.Binding = ByBed
		return &TooDeepError{b.Depth, out.Deepest, out.Bed, out.Grain}
	}
	if out.Warm > out.Grain {
		out.Binding = ByHeat
	}
	return nil
}

// WaterAfter returns the water in granulate after a time in any air, per mass of
// plastic [–]; it rises or falls towards equilibrium.
//
//	p     the plastic, see its fields
//	g     the grains, see its fields
//	d     the air, see its fields; below softening
//	stay  water at the start and how long, see its fields
//
// Equation: w = w_e + (w_0 − w_e)(1 − M(t)).
// Holds for: grains that each see the air, so the fastest that can be.
// Source: own derivation.
// Errors: TooHotError at or above softening, RangeError for arguments out of range.
// Checks: WaterAfter rows of checks.csv (own derivation).
func WaterAfter(p Plastic, g Grains, d Dryer, stay Stay) (float64, error) {
	for _, err := range [...]error{p.Check(), d.Check(), process.Within("moisture now", stay.Now, 0, 0.3, "", judged)} {
		if err != nil {
			return 0, err
		}
	}
	if d.Temperature >= p.Softening {
		return 0, &TooHotError{d.Temperature, p.Softening}
	}
	lot, err := lotIn(p, g, d.Temperature)
	if err != nil {
		return 0, err
	}
	lost, err := lot.Lost(stay.Time)
	rest := p.sorption().at(d.Vapour / saturation(d.Temperature))
	return rest + (stay.Now-rest)*(1-lost), err
}

// Stay is granulate left in some air.
type Stay struct {
	Now  float64 // water at the start, per mass of plastic [–], 0 to 0.3
	Time float64 // how long [s], 0 to 1e10
}
