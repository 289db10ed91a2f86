package moisture

// How much water plastic takes up, and how fast it moves in it.

import (
	"math"

	"hopperful/process"
)

// Plastic is what drying needs to know about a material.
type Plastic struct {
	Density     float64 // of the solid [kg/m³], 300 to 5000
	Saturated   float64 // water taken up from saturated air, per mass of plastic [–], above 0 to 0.3
	Room        float64 // water taken up at half saturation [–], a hundredth of Saturated to 0.99 of it; 0: half of Saturated (Henry)
	Diffusivity float64 // of water in it at Reference [m²/s], 1e-16 to 1e-7
	Reference   float64 // temperature of Diffusivity [K], 233.15 to 473.15
	Energy      float64 // activation energy of the diffusivity [J/mol], 0 to 200e3
	Softening   float64 // temperature at which grains stick together [K], 253.15 to 673.15
	Heat        float64 // specific heat of the solid [J/(kg K)], 500 to 5000; 0 leaves the warming up out
	Comes       float64 // temperature it goes into the dryer with [K], 233.15 to 473.15; needed with Heat
}

// Check refuses a plastic outside the ranges of its fields with a RangeError.
func (p Plastic) Check() error {
	for _, f := range [...]struct {
		name          string
		value, lo, hi float64
		unit          string
	}{
		{"density of the solid", p.Density, 300, 5000, "kg/m³"}, {"water at saturation", p.Saturated, 1e-7, 0.3, ""},
		{"diffusivity of water", p.Diffusivity, 1e-16, 1e-7, "m²/s"}, {"temperature of the diffusivity", p.Reference, 233.15, hottest, "K"},
		{"activation energy", p.Energy, 0, 200e3, "J/mol"}, {"softening temperature", p.Softening, 253.15, 673.15, "K"},
	} {
		if err := process.Within(f.name, f.value, f.lo, f.hi, f.unit, judged); err != nil {
			return err
		}
	}
	if err := p.sorption().check(); err != nil {
		return err
	}
	if p.Heat == 0 {
		return nil
	}
	if err := process.Within("specific heat", p.Heat, 500, 5000, "J/(kg K)", judged); err != nil {
		return err
	}
	return process.Within("temperature it goes in with", p.Comes, 233.15, hottest, "K", judged)
}

// Sorption is how much water a plastic takes up from air.
type Sorption struct {
	Room      float64 // at half saturation, per mass of plastic [–], above a hundredth of Saturated to 0.99 of it; 0: half of it (Henry)
	Saturated float64 // from saturated air [–], 0 to 0.3
}

func (s Sorption) check() error {
	if err := process.Within("water at saturation", s.Saturated, 0, 0.3, "", judged); err != nil || s.Room == 0 {
		return err
	}
	return process.Within("water at half saturation", s.Room, 0.01*s.Saturated, 0.99*s.Saturated, "", derived)
}

// at is the water at rest in air, slope its steepness over the humidity.
func (s Sorption) at(rh float64) float64 {
	k, b := s.curve()
	return k * rh / (1 - b*rh)
}

func (s Sorption) curve() (k, b float64) {
	if s.Room == 0 {
		return s.Saturated, 0
	}
	r := s.Saturated / s.Room
	b = (r - 2) / (r - 1)
	return s.Saturated * (1 - b), b
}

// humidity is the relative humidity at which the plastic is at rest with that
// water.
func (s Sorption) humidity(water float64) float64 {
	k, b := s.curve()
	return water / (k + b*water)
}

func (p Plastic) sorption() Sorption { return Sorption{p.Room, p.Saturated} }

// EquilibriumWater returns the water that plastic holds at rest in air, per mass
// of plastic [–].
//
//	s   how much it takes up, see its fields
//	rh  relative humidity at the temperature of the plastic [–], 0 to 1
//
// Equation: w = k φ/(1 − b φ), b = (r − 2)/(r − 1), r = w_sat/w_50, k = w_sat (1 − b): the curve through the two values data sheets give; r = 2 is Henry's law.
// Holds for: the air of rooms and dryers. At one relative humidity it is taken to be the same at all temperatures, which was measured for a polyester TPU (Schneider1968: no heat of mixing).
// Source: own derivation; the two points of each plastic in the table of materials.
// Errors: RangeError for arguments out of range.
// Checks: EquilibriumWater rows of checks.csv (2 measurement, published, own derivation).
func EquilibriumWater(s Sorption, rh float64) (float64, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	if err := process.Within("relative humidity", rh, 0, 1, "", derived); err != nil {
		return 0, err
	}
	return s.at(rh), nil
}

// HumidityAtRest returns the relative humidity in which plastic neither gives off
// nor takes up water [–], at most 1.
//
//	s      how much it takes up, see its fields
//	water  in it, per mass of plastic [–], 0 to 0.3
//
// Equation: φ = w/(k + b w), the inverse of EquilibriumWater.
// Holds for: as EquilibriumWater; above w_sat it is saturated.
// Source: own derivation.
// Errors: RangeError for arguments out of range.
// Checks: HumidityAtRest rows of checks.csv (identity).
func HumidityAtRest(s Sorption, water float64) (float64, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	if err := process.Within("water in it", water, 0, 0.3, "", judged); err != nil {
		return 0, err
	}
	if water >= s.Saturated {
		return 1, nil
	}
	return s.humidity(water), nil
}

// DiffusivityAt returns the diffusivity of water in a plastic [m²/s].
//
//	p  the plastic, see its fields
//	t  temperature [K], 173.15 to 473.15
//
// Equation: D = D_ref exp(E/R (1/T_ref − 1/T)).
// Holds for: one side of the glass transition; far from the reference it is a guess.
// Source: own derivation, from Arrhenius.
// Errors: RangeError for a plastic or temperature out of range, or a result outside 1e-20 to 1e-6.
// Checks: DiffusivityAt rows of checks.csv (own derivation).
func DiffusivityAt(p Plastic, t float64) (float64, error) {
	if err := p.Check(); err != nil {
		return 0, err
	}
	if err := process.Within("temperature", t, coldest, hottest, "K", handbook); err != nil {
		return 0, err
	}
	d := p.Diffusivity * math.Exp(p.Energy/gasConstant*(1/p.Reference-1/t))
	if err := process.Within("diffusivity at that temperature", d, 1e-20, 1e-6, "m²/s", judged); err != nil {
		return 0, err
	}
	return d, nil
}

// VapourDiffusivity returns the diffusivity of water vapour in still air at
// atmospheric pressure [m²/s].
//
//	t  temperature [K], 233.15 to 473.15
//
// Equation: D = 2.178e-5 m²/s · (T/273.15 K)^1.81.
// Holds for: 1 atm, to some percent.
// Source: Massman1998; value from memory.
// Errors: RangeError outside −40 to 200 °C.
// Checks: VapourDiffusivity row of checks.csv (from memory).
func VapourDiffusivity(t float64) (float64, error) {
	if err := process.Within("air temperature", t, 233.15, hottest, "K", judged); err != nil {
		return 0, err
	}
	return 2.178e-5 * math.Pow(t/273.15, 1.81), nil
}
