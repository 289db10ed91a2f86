package metal

// How large a sample has to be so that it stands for the lot (Gy).

import (
	"math"

	"hopperful/process"
)

// Ore is a valuable or foreign matter in a bulk of other matter.
type Ore struct {
	Share      float64 // of the matter looked for, by mass [–], 1e-9 to 0.99
	Density    float64 // of it [kg/m³], 100 to 25000
	Rest       float64 // density of the rest [kg/m³], 100 to 25000
	Form       float64 // f, 0.5 for most grains, 1 for cubes [–], 0.05 to 1
	Grading    float64 // g, 0.25 for d95/d5 above 4, 0.5 for 2 to 4, 0.75 below 2, 1 for one size [–], 0.05 to 1
	Liberation float64 // size at which the matter is free [m], 1e-6 to 1
}

// Check refuses an ore outside the ranges of its fields with a RangeError.
func (o Ore) Check() error {
	for _, f := range [...]struct {
		name          string
		value, lo, hi float64
		unit          string
	}{
		{"share of the matter looked for", o.Share, 1e-9, 0.99, ""}, {"density of it", o.Density, 100, 25000, "kg/m³"},
		{"density of the rest", o.Rest, 100, 25000, "kg/m³"}, {"form factor", o.Form, 0.05, 1, ""},
		{"grading factor", o.Grading, 0.05, 1, ""}, {"size of liberation", o.Liberation, 1e-6, 1, "m"},
	} {
		if err := process.Within(f.name, f.value, f.lo, f.hi, f.unit, judged); err != nil {
			return err
		}
	}
	return nil
}

// SamplingConstant returns Gy's constant C [kg/m³].
//
//	o     the matter, see its fields
//	size  top size d95 of the lot [m], 1e-6 to 1
//
// Equation: C = f g l m, m = (1 − a)/a ((1 − a) ρ_1 + a ρ_2), l = √(L/d) up to 1.
// Holds for: grains drawn one by one at random; piles that have segregated need more care, not more mass.
// Source: GySheets2026.
// Errors: RangeError for arguments out of range.
// Checks: SamplingConstant rows of checks.csv (own derivation, from a published case).
func SamplingConstant(o Ore, size float64) (float64, error) {
	if err := o.Check(); err != nil {
		return 0, err
	}
	if err := process.Within("top size", size, 1e-6, 1, "m", judged); err != nil {
		return 0, err
	}
	m := (1 - o.Share) / o.Share * ((1-o.Share)*o.Density + o.Share*o.Rest)
	return o.Form * o.Grading * min(1, math.Sqrt(o.Liberation/size)) * m, nil
}

// Sampling is a sample of a lot.
type Sampling struct {
	Size   float64 // top size d95 [m], 1e-6 to 1
	Sample float64 // mass of the sample [kg], above 0 to Lot
	Lot    float64 // mass of the lot [kg], to 1e9
}

// SamplingDeviation returns the relative standard deviation of what a sample says
// of the share in its lot [–].
//
//	o  the matter, see its fields
//	s  the sample, see its fields
//
// Equation: σ² = C d³ (1/M − 1/M_L).
// Holds for: as SamplingConstant; above about 0.3 the distribution is skewed and counts (CountBetween) say more.
// Source: GySheets2026.
// Errors: RangeError for arguments out of range.
// Checks: SamplingDeviation rows of checks.csv (own derivation).
func SamplingDeviation(o Ore, s Sampling) (float64, error) {
	c, err := SamplingConstant(o, s.Size)
	if err != nil {
		return 0, err
	}
	if err := process.Within("mass of the lot", s.Lot, 1e-9, 1e9, "kg", judged); err != nil {
		return 0, err
	}
	if err := process.Within("mass of the sample", s.Sample, 1e-9, s.Lot, "kg", derived); err != nil {
		return 0, err
	}
	return math.Sqrt(c * s.Size * s.Size * s.Size * (1/s.Sample - 1/s.Lot)), nil
}

// SampleMass returns the mass of a sample for a wanted relative standard
// deviation [kg].
//
//	o          the matter, see its fields
//	size       top size d95 [m], 1e-6 to 1
//	deviation  wanted, relative [–], 1e-6 to 1
//
// Equation: M = C d³/σ², from a lot far larger than the sample.
// Holds for: as SamplingConstant. A published worked case doubles it for safety.
// Source: GySheets2026.
// Errors: RangeError for arguments out of range.
// Checks: SampleMass rows of checks.csv (published).
func SampleMass(o Ore, size, deviation float64) (float64, error) {
	c, err := SamplingConstant(o, size)
	if err != nil {
		return 0, err
	}
	if err := process.Within("wanted relative deviation", deviation, 1e-6, 1, "", judged); err != nil {
		return 0, err
	}
	return c * size * size * size / (deviation * deviation), nil
}

// CountDeviation returns the relative standard deviation of a count of free chips
// [–]: 20 in the sample tell to a fifth.
//
//	expected  chips in the sample [–], 1e-6 to 1e15
//
// Equation: σ = 1/√N.
// Holds for: chips that are free of each other.
// Source: own derivation, from the Poisson law; twenty grains as a rule of geologists, from memory.
// Errors: RangeError for expected out of range.
// Checks: CountDeviation row of checks.csv (own derivation).
func CountDeviation(expected float64) (float64, error) {
	if err := process.Within("chips expected in the sample", expected, 1e-6, 1e15, "", judged); err != nil {
		return 0, err
	}
	return 1 / math.Sqrt(expected), nil
}
