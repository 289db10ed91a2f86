package identify

import "math"

// MostOdds is the most that all findings together may speak for one candidate
// against another, and the most that is ever said for the best against all the
// rest. Findings on one piece are not independent; beyond this their product
// says more than they know. A judgement.
const MostOdds = 500

// mostByDensity is the same of the findings about density, which ask for one thing only
// and of a chip that is known to be solid. A judgement.
const mostByDensity = 5000

// Weigh returns the shares after the findings, in whatever order they came:
// prior times the chance of every finding, their odds capped at [MostOdds], those of
// densities by themselves, made
// to sum to one. Shares come as the book's candidates do.
func (b *Book) Weigh(prior []float64, findings []Finding) ([]float64, error) {
	if err := b.fits(prior); err != nil {
		return nil, err
	}
	logs, dense := make([]float64, len(prior)), make([]float64, len(prior))
	for _, f := range findings {
		chances, err := b.ofPiece(f)
		if err != nil {
			return nil, err
		}
		into := logs
		if f.ofDensity() {
			into = dense
		}
		for i, c := range chances {
			into[i] += math.Log(c) // chances lie off 0 and 1 by the lapse or the book's bounds
		}
	}
	shares := product(product(prior, capLogs(logs, MostOdds)), capLogs(dense, mostByDensity))
	return capped(shares), nil
}

// ofDensity reports whether a finding tells of density.
func (f Finding) ofDensity() bool { return f.Test == "floats" || f.Test == Weighed }

// capLogs turns logarithms of likelihoods into likelihoods of at most 1, none
// further below the best than the cap.
func capLogs(logs []float64, most float64) []float64 {
	best := math.Inf(-1)
	for _, l := range logs {
		best = math.Max(best, l)
	}
	out := make([]float64, len(logs))
	for i, l := range logs {
		out[i] = math.Exp(math.Max(l-best, -math.Log(most)))
	}
	return out
}

// product is prior times likelihood, made to sum to one.
func product(prior, chances []float64) []float64 {
	out, sum := make([]float64, len(prior)), 0.0
	for i := range prior {
		out[i] = prior[i] * chances[i]
		sum += out[i]
	}
	for i := range out {
		out[i] /= sum // above 0: the prior sums to one and no chance is 0
	}
	return out
}

// capped holds the best against all the rest to the cap.
func capped(shares []float64) []float64 {
	best := 0
	for i, p := range shares {
		if p > shares[best] {
			best = i
		}
	}
	const most = MostOdds / (MostOdds + 1.0)
	rest := 1 - shares[best]
	if shares[best] <= most || rest <= 0 {
		return shares
	}
	out := make([]float64, len(shares))
	for i, p := range shares {
		out[i] = p * (1 - most) / rest
	}
	out[best] = most
	return out
}
