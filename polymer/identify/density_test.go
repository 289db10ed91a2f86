package identify

import (
	"math"
	"testing"

	"hopperful/polymer"
)

// bookDensity is the widest range of a polymer's density in the table of
// materials, over all its lines.
func bookDensity(t *testing.T, name string) (low, high float64) {
	t.Helper()
	p, err := polymer.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	low, high = math.Inf(1), math.Inf(-1)
	for _, v := range p.All(polymer.Density) {
		low, high = min(low, v.Low), max(high, v.High)
	}
	return low, high
}

// A weighed density is a density of chance: over all densities that can be
// weighed it adds up to one, but for what a normal distribution has outside.
func TestWeighedDensityIsADensity(t *testing.T) {
	t.Parallel()
	b := Books()
	sums := make([]float64, len(b.Candidates))
	const step = 0.5
	for at := lightest + step/2; at < heaviest; at += step {
		c, err := b.Chances(Finding{Test: Weighed, At: at, Within: 15})
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range c {
			sums[i] += p * step
		}
	}
	for i, c := range b.Candidates {
		if math.Abs(sums[i]-1) > 0.01 {
			t.Errorf("%s: %g", c.Name, sums[i])
		}
	}
}

// A solid print of 12.2 g for 10 cm³ is PLA rather than ABS.
func TestWeighingTellsPLAFromABS(t *testing.T) {
	t.Parallel()
	shares := weigh(t, Finding{Test: Weighed, At: 1220, Within: 15})
	sums := Books().ByPolymer(shares)
	if prior := Books().ByPolymer(Books().Prior()); sums["PLA"]/sums["ABS"] < 20*prior["PLA"]/prior["ABS"] {
		t.Errorf("PLA %g, ABS %g", sums["PLA"], sums["ABS"])
	}
}
