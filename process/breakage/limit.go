package breakage

// Whether a charge should be started at all.

import (
	"math"

	"hopperful/process"
)

// FillShare returns the share of the chamber that a loose charge fills [–].
//
//	mass     charge mass [kg], mass ≥ 0
//	bulk     bulk density of the loose pieces [kg/m³], bulk > 0
//	chamber  volume of the chamber [m³], chamber > 0
//
// Equation: m/(ρ_b V).
// Holds for: pieces poured loosely. Common practice keeps small impact mills at or below 0.3.
// Source: common practice, no source.
// Errors: RangeError for mass < 0 or the others not above 0.
// Checks: FillShare row of checks.csv (1 own derivation).
func FillShare(mass, bulk, chamber float64) (float64, error) {
	if err := process.Within("charge mass", mass, 0, 1e4, "kg", "judgement"); err != nil {
		return 0, err
	}
	if err := positive("bulk density", bulk, "kg/m³", "chamber volume", chamber, "m³"); err != nil {
		return 0, err
	}
	return mass / (bulk * chamber), nil
}

// LargestPiece returns the largest piece dimension a chamber should be given [m].
//
//	smallest  smallest dimension of the chamber [m], smallest > 0
//
// Equation: smallest dimension ÷ 3.
// Holds for: small impact and cutting mills; the maker's own limit comes first.
// Source: common practice, no source.
// Errors: RangeError for smallest not above 0.
// Checks: LargestPiece row of checks.csv (1 common practice).
func LargestPiece(smallest float64) (float64, error) {
	if err := positive("smallest chamber dimension", smallest, "m"); err != nil {
		return 0, err
	}
	return smallest / 3, nil
}

// Stall is the log-odds of a stall in one run, linear in what makes it likely.
type Stall struct {
	Base  float64 // log-odds at fill 0.3, energy ratio 0.001 and full level [–], −20 to 20
	Fill  float64 // per unit of fill share above 0.3 [–], 0 to 100
	Ratio float64 // per e-fold of breaking energy over rotor energy above 0.001 [–], 0 to 10
	Level float64 // per unit of 1/level above 1 [–], 0 to 20
}

// DefaultStall is a judgement: 1 % for a usual charge; Base is uncertain by
// ± 1.5 (10 to 90 %), the slopes by a factor of 2 either way. Recorded stalls replace it.
var DefaultStall = Stall{Base: -4.6, Fill: 10, Ratio: 0.8, Level: 1.5}

// StallChance returns the probability that a run stalls [–].
//
//	s      log-odds and slopes, see its fields
//	fill   share of the chamber filled by the loose charge [–], 0 to 2
//	ratio  energy to break the thickest section over rotor energy [–], 1e-9 to 1e6
//	level  voltage over full voltage [–], 0.01 to 1
//
// Equation: P = 1/(1 + exp(−z)), z = Base + Fill (fill − 0.3) + Ratio ln(ratio/0.001) + Level (1/level − 1).
// Holds for: ranking charges of one mill. The coefficients are a judgement with wide ranges until stalls are recorded.
// Source: judgement.
// Errors: RangeError for an argument or a field out of range.
// Checks: StallChance rows of checks.csv (4 own derivation, 1 refusal).
func StallChance(s Stall, fill, ratio, level float64) (float64, error) {
	for _, f := range [...]struct {
		name          string
		value, lo, hi float64
	}{
		{"base log-odds", s.Base, -20, 20}, {"slope with fill", s.Fill, 0, 100},
		{"slope with energy ratio", s.Ratio, 0, 10}, {"slope with level", s.Level, 0, 20},
		{"fill share", fill, 0, 2}, {"breaking over rotor energy", ratio, 1e-9, 1e6}, {"level", level, 0.01, 1},
	} {
		if !(f.value >= f.lo && f.value <= f.hi) {
			return 0, process.Within(f.name, f.value, f.lo, f.hi, "", "judgement")
		}
	}
	z := s.Base + s.Fill*(fill-0.3) + s.Ratio*math.Log(ratio/1e-3) + s.Level*(1/level-1)
	return 1 / (1 + math.Exp(-z)), nil
}
