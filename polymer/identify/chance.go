package identify

import (
	"fmt"
	"math"

	"hopperful/process"
)

// Lapse is the chance that a float test goes wrong either way: a bubble, a
// mix-up, a filled grade [1]. A judgement.
const Lapse = 0.02

// A piece whose chip was looked at by itself and is known to be solid: far too heavy for a liquid it floats
// only where somebody mixed up chips or liquids, for bubbles that were not rubbed
// off lift it by some per cent. Judgement. The other way round nothing is far: fillers make any plastic sink.
const (
	mixUp = 0.0005 // chance of that [1]
	lift  = 50.0   // how far bubbles reach [kg/m³]
)

// below is the share of a normal distribution below x.
func below(x float64, n normal) float64 {
	return math.Erfc((n.mean-x)/(n.spread*math.Sqrt2)) / 2
}

// Weighing: what a solid print weighs against its sliced volume. Voids between
// the lines make it read low. Judgement.
const (
	voids       = 0.02  // mean share of voids in a print sliced solid [1]
	voidsSpread = 0.015 // standard deviation of that share [1]
	lightest    = 700.  // densities that can be weighed at all [kg/m³]
	heaviest    = 1600.
)

// Finding is what one test showed.
type Finding struct {
	Test   string  // name of a test, or [Weighed]
	Yes    bool    // the answer to its question
	At     float64 // density of the liquid [kg/m³], temperature of the metal [K] or density weighed [kg/m³]
	Within float64 // of a density weighed: its standard error [kg/m³], > 0
}

// Weighed is the name of the finding that is a density: mass over sliced
// volume of a solid print.
const Weighed = "weighed"

// Chances returns how likely a finding is for each candidate of the book [1];
// for a weighed density it is a density of chance, whose unit falls out.
func (b *Book) Chances(f Finding) ([]float64, error) {
	switch f.Test {
	case "floats":
		if err := process.Within("liquid density", f.At, lightest, 1500, "kg/m³", "judgement"); err != nil {
			return nil, err
		}
		return b.each(f.Yes, func(c Candidate) float64 { return lapsed(f.At, c.density) }), nil
	case "sticks":
		if err := process.Within("metal temperature", f.At, zero+40, zero+300, "K", "judgement"); err != nil {
			return nil, err
		}
		return b.each(f.Yes, func(c Candidate) float64 { return lapsed(f.At, c.onset) }), nil
	case Weighed:
		return b.weighed(f)
	}
	chances, ok := b.chances[f.Test]
	if !ok {
		return nil, fmt.Errorf("there is no test %q in the book", clip(f.Test))
	}
	return b.each(f.Yes, func(c Candidate) float64 {
		i, _ := b.index(c.Name) // c comes from the book itself
		return chances[i]
	}), nil
}

// each is the chance of yes or no for every candidate.
func (b *Book) each(yes bool, chance func(Candidate) float64) []float64 {
	all := make([]float64, len(b.Candidates))
	for i, c := range b.Candidates {
		all[i] = chance(c)
		if !yes {
			all[i] = 1 - all[i]
		}
	}
	return all
}

// ofPiece is like Chances for a finding on one piece that is known to be solid:
// P = ε_f + (1 − ε − ε_f) Φ((ρ − µ)/σ), ε_f = ε_0 + (ε − ε_0) exp(−(d/50)²), d = µ − ρ where the
// chip is heavier, else 0; ε = 0.02, ε_0 = 0.0005 (own derivation; numbers judgement).
func (b *Book) ofPiece(f Finding) ([]float64, error) {
	chances, err := b.Chances(f)
	if err != nil || f.Test != "floats" {
		return chances, err
	}
	return b.each(f.Yes, func(c Candidate) float64 { return floated(f.At, c.density) }), nil
}

// floated is the chance that a solid chip is seen to float in a liquid.
func floated(x float64, n normal) float64 {
	if n.spread == 0 {
		return unlisted
	}
	d := math.Max(0, n.mean-x) / lift
	slip := mixUp + (Lapse-mixUp)*math.Exp(-d*d)
	return slip + (1-Lapse-slip)*below(x, n)
}

// lapsed is the chance that a threshold lies below x, with slips both ways.
func lapsed(x float64, n normal) float64 {
	if n.spread == 0 {
		return unlisted
	}
	return Lapse + (1-2*Lapse)*below(x, n)
}

// weighed is the density of chance of a weighed density: a normal one about the
// material less its voids, and slips anywhere.
func (b *Book) weighed(f Finding) ([]float64, error) {
	if err := process.Within("density weighed", f.At, lightest, heaviest, "kg/m³", "judgement"); err != nil {
		return nil, err
	}
	if err := process.Within("density error", f.Within, 1, 200, "kg/m³", "judgement"); err != nil {
		return nil, err
	}
	const flat = 1 / (heaviest - lightest)
	return b.each(true, func(c Candidate) float64 {
		if c.density.spread == 0 {
			return flat
		}
		mean := c.density.mean * (1 - voids)
		sd := math.Sqrt(c.density.spread*c.density.spread + math.Pow(voidsSpread*c.density.mean, 2) + f.Within*f.Within)
		z := (f.At - mean) / sd
		return 2*Lapse*flat + (1-2*Lapse)*math.Exp(-z*z/2)/(sd*math.Sqrt(2*math.Pi))
	}), nil
}
