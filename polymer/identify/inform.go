package identify

import (
	"math"
	"sort"

	"hopperful/polymer"
)

// Entropy returns how unsure shares are [bit].
//
//	shares  each 0 to 1, summing to 1
//
// Equation: H = −Σ p log2 p, with 0 log 0 = 0.
// Holds for: any shares; 0 for one that holds all, log2 n for n alike.
// Source: Shannon1948
// Errors: none; NaN where the shares hold one.
// Checks: Entropy rows of checks.csv (3 identity, 2 second library).
func Entropy(shares []float64) float64 {
	h := 0.0
	for _, p := range shares {
		if p != 0 {
			h -= p * math.Log2(p)
		}
	}
	return h
}

// Worth is what a test would tell.
type Worth struct {
	Test
	Yes       float64 // chance that the answer is yes [1]
	Bits      float64 // expected fall of the entropy over the polymers [bit], ≥ 0
	PerMinute float64 // of it, for each minute of the test [bit/min]
}

// Informs returns what a test would tell about the polymer, given the shares so
// far: the entropy now less what is expected after yes or no.
func (b *Book) Informs(shares []float64, t Test) (Worth, error) {
	if err := b.fits(shares); err != nil {
		return Worth{}, err
	}
	yes, err := b.Chances(Finding{Test: t.Name, Yes: true, At: t.At})
	if err != nil {
		return Worth{}, err
	}
	w := Worth{Test: t}
	no := make([]float64, len(yes))
	for i := range yes {
		no[i] = 1 - yes[i]
		w.Yes += shares[i] * yes[i]
	}
	after := w.Yes*b.unsure(product(shares, yes)) + (1-w.Yes)*b.unsure(product(shares, no))
	w.Bits = math.Max(0, b.unsure(shares)-after) // never below 0 but for rounding
	w.PerMinute = w.Bits / (t.Seconds / 60)
	return w, nil
}

// unsure is the entropy over polymers, grades of one added up: which grade it
// is does not matter here.
func (b *Book) unsure(shares []float64) float64 {
	sums, list := b.ByPolymer(shares), make([]float64, 0, len(shares))
	for _, c := range b.Candidates {
		if p, first := sums[c.Polymer]; first {
			list = append(list, p)
			delete(sums, c.Polymer)
		}
	}
	return Entropy(list)
}

// The shares at which chlorine is taken seriously [1]. Judgement.
const (
	SuspectShare = 0.05 // PVC at this share or above stops everything
	noHeatShare  = 0.01 // PVC at this share or above: nothing is put on hot metal
)

// unstable [K] is where PVC may begin to give off acid gas on hot metal, 120 °C: without
// stabiliser it goes from there, from memory. Hotter metal waits until density has
// spoken against PVC by heavyOdds to 1, whatever the prior says of it. Judgement.
const (
	unstable  = zero + 120
	heavyOdds = 10
)

// DensityClears reports whether the findings about density speak against PVC.
func (b *Book) DensityClears(tried []Finding) bool {
	logs := make([]float64, len(b.Candidates))
	for _, f := range tried {
		chances, err := b.ofPiece(f)
		if err != nil || !f.ofDensity() {
			continue
		}
		for i, c := range chances {
			logs[i] += math.Log(c)
		}
	}
	best, pvc := math.Inf(-1), math.Inf(-1)
	for i, c := range b.Candidates {
		if c.Polymer == "PVC" {
			pvc = math.Max(pvc, logs[i])
		}
		best = math.Max(best, logs[i])
	}
	return best-pvc >= math.Log(heavyOdds)
}

// closeBy is how near a liquid or a temperature must be to one already tried to
// count as the same test: kg/m³ or K.
const closeBy = 4

// Rank returns the tests not yet tried, the most telling a minute first. Nothing
// is put on hot metal while the piece could be PVC, and on metal hot enough to break
// PVC down only when density has excluded it.
func (b *Book) Rank(shares []float64, tried []Finding) ([]Worth, error) {
	if err := b.fits(shares); err != nil {
		return nil, err
	}
	var all []Worth
	for _, t := range b.Tests {
		if t.Kind == Hot && (!b.MayHeat(shares) || t.At > unstable && !b.DensityClears(tried)) || done(t, tried) {
			continue
		}
		w, err := b.Informs(shares, t)
		if err != nil {
			return nil, err
		}
		all = append(all, w)
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].PerMinute > all[j].PerMinute })
	return all, nil
}

func done(t Test, tried []Finding) bool {
	for _, f := range tried {
		if f.Test == t.Name && math.Abs(f.At-t.At) <= closeBy {
			return true
		}
	}
	return false
}

// LooksOnly reports whether nothing but looks were tried.
func (b *Book) LooksOnly(tried []Finding) bool {
	for _, f := range tried {
		look := false
		for _, t := range b.Tests {
			look = look || t.Name == f.Test && t.Kind == Look
		}
		if !look {
			return false
		}
	}
	return true
}

// Suspect reports whether the shares are enough to take the piece for PVC or
// the like until a licensed person says otherwise.
func (b *Book) Suspect(shares []float64) bool { return b.ByPolymer(shares)["PVC"] >= SuspectShare }

// MayHeat reports whether the piece is so unlikely to be PVC that a corner of it
// may be put on hot metal.
func (b *Book) MayHeat(shares []float64) bool { return b.ByPolymer(shares)["PVC"] < noHeatShare }

// Best returns the polymer with the largest share.
func (b *Book) Best(shares []float64) (name string, share float64) {
	sums := b.ByPolymer(shares)
	for _, c := range b.Candidates {
		if p := sums[c.Polymer]; p > share {
			name, share = c.Polymer, p
		}
	}
	if name == "" {
		name = polymer.Unknown
	}
	return name, share
}
