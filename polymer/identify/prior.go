package identify

import (
	"fmt"
	"math"

	"hopperful/polymer"
	"hopperful/process"
)

// bookWeight is how many pieces of a shop's own the book's priors are worth. A
// judgement.
const bookWeight = 20

// How often a label is right [1]. Judgement.
const (
	SupplierLabel = 0.97 // a label with a supplier and a lot
	HandLabel     = 0.90 // written by hand
)

// Prior returns the book's shares before anything is known about the piece.
func (b *Book) Prior() []float64 {
	prior := make([]float64, len(b.Candidates))
	for i, c := range b.Candidates {
		prior[i] = c.Prior
	}
	return prior
}

// WithCounts returns the book's priors moved towards what a shop has had: how
// many of its lots were of each polymer. The book counts as much as 20 of them.
// Counts are ≥ 0; a polymer the book does not list counts as other.
func (b *Book) WithCounts(counts map[string]float64) ([]float64, error) {
	prior, total := b.Prior(), 0.0
	shares := b.ByPolymer(prior)
	own := map[string]float64{}
	for name, n := range counts {
		if err := process.Within("count of "+clip(name), n, 0, 1e9, "", "own derivation"); err != nil {
			return nil, err
		}
		if _, listed := shares[name]; !listed {
			name = polymer.Unknown
		}
		own[name] += n
	}
	for _, c := range b.Candidates { // in the book's order, so that sums do not depend on a map's
		total += own[c.Polymer] * c.Prior / shares[c.Polymer]
	}
	for i, c := range b.Candidates {
		prior[i] = (bookWeight*c.Prior + own[c.Polymer]*c.Prior/shares[c.Polymer]) / (bookWeight + total)
	}
	return prior, nil
}

// WithLabel returns the prior of a piece with a label: right with the chance
// given, else as without one. right lies above 0 and below 1.
func (b *Book) WithLabel(prior []float64, name string, right float64) ([]float64, error) {
	if err := process.Within("label's chance", right, 0.01, 0.99, "", "judgement"); err != nil {
		return nil, err
	}
	if err := b.fits(prior); err != nil {
		return nil, err
	}
	shares := b.ByPolymer(prior)
	if _, listed := shares[name]; !listed {
		name = polymer.Unknown
	}
	of := shares[name]
	if !(of > 0 && of < 1) {
		return nil, fmt.Errorf("the prior holds %g of %s: a label cannot move it", of, name)
	}
	out := make([]float64, len(prior))
	for i, c := range b.Candidates {
		if c.Polymer == name {
			out[i] = right * prior[i] / of
		} else {
			out[i] = (1 - right) * prior[i] / (1 - of)
		}
	}
	return out, nil
}

// ByPolymer adds the shares of the grades of each polymer.
func (b *Book) ByPolymer(shares []float64) map[string]float64 {
	sums := map[string]float64{}
	for i, c := range b.Candidates {
		sums[c.Polymer] += shares[i]
	}
	return sums
}

// fits reports shares that are none of this book: a wrong number of them, one
// outside 0 to 1, or a sum that is not 1.
func (b *Book) fits(shares []float64) error {
	if len(shares) != len(b.Candidates) {
		return fmt.Errorf("%d shares for %d candidates", len(shares), len(b.Candidates))
	}
	sum := 0.0
	for i, p := range shares {
		if err := process.Within("share of "+b.Candidates[i].Name, p, 0, 1, "", "own derivation"); err != nil {
			return err
		}
		sum += p
	}
	if math.Abs(sum-1) > 1e-9 { // sums of twenty shares are good to 1e-15
		return fmt.Errorf("the shares sum to %g, not to 1", sum)
	}
	return nil
}
