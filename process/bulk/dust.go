package bulk

// What dust does: it fills the space between grains, then sticks.

import "hopperful/process"

// Mixture is coarse grains with dust.
type Mixture struct {
	Dust   float64 // share of dust by mass [–], 0 to 1
	Coarse float64 // packing share of the grains alone [–], 0.1 to that of DensestSpheres
	Fine   float64 // packing share of the dust alone [–], 0.1 to that of DensestSpheres
}

// Check refuses a mixture outside the ranges of its fields with a RangeError.
func (m Mixture) Check() error {
	if err := process.Within("share of dust", m.Dust, 0, 1, "", derived); err != nil {
		return err
	}
	if err := process.Within("packing of the grains", m.Coarse, 0.1, DensestSpheres, "", derived); err != nil {
		return err
	}
	return process.Within("packing of the dust", m.Fine, 0.1, DensestSpheres, "", derived)
}

// DustFillsVoids returns the share of dust by mass at which it fills all the
// space between the grains [–]. From there on the grains no longer touch.
//
//	m  the mixture, see its fields; its share of dust does not matter
//
// Equation: s_v = (1 − φ_c) φ_f/(φ_c + (1 − φ_c) φ_f).
// Holds for: dust far finer than the grains, of the same material.
// Source: own derivation; the picture is Furnas', from memory.
// Errors: RangeError for fields out of range.
// Checks: DustFillsVoids row of checks.csv (own derivation).
func DustFillsVoids(m Mixture) (float64, error) {
	if err := m.Check(); err != nil {
		return 0, err
	}
	between := (1 - m.Coarse) * m.Fine
	return between / (m.Coarse + between), nil
}

// MixedPacking returns the packing share of grains with dust [–]: dust makes
// granulate denser until it fills the voids, then lighter again.
//
//	m  the mixture, see its fields
//
// Equation: φ = φ_c/(1 − s) up to s_v, then 1/(1 − s + s/φ_f).
// Holds for: dust far finer than the grains and well mixed: the densest it can be. Real mixtures stay below and segregate.
// Source: own derivation; the picture is Furnas', from memory.
// Errors: RangeError for fields out of range.
// Checks: MixedPacking rows of checks.csv (own derivation, identity).
func MixedPacking(m Mixture) (float64, error) {
	full, err := DustFillsVoids(m)
	if err != nil {
		return 0, err
	}
	if m.Dust <= full {
		return m.Coarse / (1 - m.Dust), nil
	}
	return 1 / (1 - m.Dust + m.Dust/m.Fine), nil
}

// Strength of granulate where nothing was measured; judgement, and wide.
const (
	CoarseStrength = 10.0  // clean chips of millimetres [Pa], 0 to 50
	DustStrength   = 500.0 // plastic dust below 0.2 mm at small stress [Pa], 200 to 1500; static makes it worse
)

// Sticking is how strongly grains and dust cling.
type Sticking struct {
	Coarse float64 // strength of the clean grains [Pa], 0 to Dust
	Dust   float64 // strength of the dust alone [Pa], 0 to 1e5
}

// MixedStrength returns the strength of grains with dust [Pa].
//
//	s  strengths of the two, see its fields
//	m  the mixture, see its fields
//
// Equation: σ = σ_coarse + (σ_dust − σ_coarse) min(1, s/s_v).
// Holds for: an interpolation between two ends; it knows nothing of static charge or of damp.
// Source: judgement.
// Errors: RangeError for fields out of range, or dust weaker than the grains.
// Checks: MixedStrength rows of checks.csv (own derivation).
func MixedStrength(s Sticking, m Mixture) (float64, error) {
	if err := process.Within("strength of the dust", s.Dust, 0, 1e5, "Pa", judged); err != nil {
		return 0, err
	}
	if err := process.Within("strength of the clean grains", s.Coarse, 0, s.Dust, "Pa", judged); err != nil {
		return 0, err
	}
	full, err := DustFillsVoids(m)
	if err != nil {
		return 0, err
	}
	return s.Coarse + (s.Dust-s.Coarse)*min(1, m.Dust/full), nil
}
