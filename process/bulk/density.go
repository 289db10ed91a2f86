package bulk

// Bulk density from a jar, and whether it can be true.

import "hopperful/process"

// What packing can be, as share of the space that is solid.
const (
	DensestSpheres = 0.7404804896930610 // equal spheres, π/√18, exact
	RandomClose    = 0.64               // equal spheres shaken, RandomClosePack2026
	RandomLoose    = 0.55               // rough equal spheres poured under no load, ± 0.001, Jerkins2008
	LooseChipsLow  = 0.35               // irregular chips poured, common practice, no source
	LooseChipsHigh = 0.60               // common practice, no source
)

const (
	gravity = 9.81 // free fall at middle latitudes [m/s²]; it differs by 0.3 % over the earth
	judged  = "judgement"
	derived = "own derivation"
)

// checkDensity bounds a bulk density.
func checkDensity(name string, v float64) error {
	return process.Within(name, v, 10, 5000, "kg/m³", judged)
}

// BulkDensity returns mass by volume of what fills a jar to the brim [kg/m³]:
// poured it is the bulk density, tapped until it no longer sinks the tapped one.
//
//	mass    in the jar, without the jar [kg], 1e-4 to 1e3
//	volume  of the jar [m³], 1e-6 to 1
//
// Equation: ρ = m/V.
// Holds for: jars ten times as wide as the largest grain; walls hold grains apart.
// Source: own derivation.
// Errors: RangeError for arguments out of range or a result outside 10 to 5000 kg/m³.
// Checks: BulkDensity rows of checks.csv (own derivation).
func BulkDensity(mass, volume float64) (float64, error) {
	if err := process.Within("mass in the jar", mass, 1e-4, 1e3, "kg", judged); err != nil {
		return 0, err
	}
	if err := process.Within("volume of the jar", volume, 1e-6, 1, "m³", judged); err != nil {
		return 0, err
	}
	d := mass / volume
	if err := checkDensity("density from that mass and volume", d); err != nil {
		return 0, err
	}
	return d, nil
}

// PackingShare returns the share of the space that is solid [–].
//
//	bulk   bulk density [kg/m³], 10 to 5000
//	solid  density of the solid [kg/m³], 100 to 10000
//
// Equation: φ = ρ_b/ρ.
// Holds for: grains without closed pores; foamed or sealed infill reads low.
// Source: own derivation.
// Errors: RangeError for arguments out of range.
// Checks: PackingShare rows of checks.csv (own derivation).
func PackingShare(bulk, solid float64) (float64, error) {
	if err := checkDensity("bulk density", bulk); err != nil {
		return 0, err
	}
	if err := process.Within("density of the solid", solid, 100, 1e4, "kg/m³", judged); err != nil {
		return 0, err
	}
	return bulk / solid, nil
}

// Verdict says whether a bulk density can be true of granulate.
type Verdict string

// The verdicts, from impossible to airy.
const (
	Impossible Verdict = "impossible" // denser than the solid itself: mass, volume or material is wrong
	TooDense   Verdict = "too dense"  // denser than equal spheres can be packed
	Doubtful   Verdict = "doubtful"   // denser than shaken spheres, or it was tapped or carries much dust
	Firm       Verdict = "firm"
	Usual      Verdict = "usual" // for loose chips
	Airy       Verdict = "airy"  // thin flakes, foam or curls, or the jar was not full
)

// Packing is a bulk density looked at.
type Packing struct {
	Share   float64 // of the space that is solid [–]
	Verdict Verdict
}

// Questioned reports whether the entry should be asked about before it is kept.
func (p Packing) Questioned() bool { return p.Share > RandomClose }

// JudgePacking returns the packing share of an entry and whether it can be true.
//
//	bulk   bulk density as entered [kg/m³], 10 to 5000
//	solid  density of the solid [kg/m³], 100 to 10000
//
// Equation: φ = ρ_b/ρ against 1, π/√18, 0.64, 0.60 and 0.35.
// Holds for: grains of one polymer. A wide size distribution can pack above 0.64, so it is questioned and not refused.
// Source: RandomClosePack2026; the limits of loose chips are common practice, no source.
// Errors: RangeError for arguments out of range.
// Checks: JudgePacking rows of checks.csv (published, own derivation).
func JudgePacking(bulk, solid float64) (Packing, error) {
	share, err := PackingShare(bulk, solid)
	if err != nil {
		return Packing{}, err
	}
	p := Packing{Share: share, Verdict: Airy}
	switch {
	case share > 1:
		p.Verdict = Impossible
	case share > DensestSpheres:
		p.Verdict = TooDense
	case share > RandomClose:
		p.Verdict = Doubtful
	case share > LooseChipsHigh:
		p.Verdict = Firm
	case share >= LooseChipsLow:
		p.Verdict = Usual
	}
	return p, nil
}
