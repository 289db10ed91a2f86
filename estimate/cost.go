package estimate

import "math"

// How likely the records are. Readings err by Student's t with four degrees of
// freedom, so that a typing slip pulls less the farther off it is.
const (
	freedom = 4.0
	// tScale makes the t fit clean normal errors of unit spread best: the t
	// nearest to the normal by maximum likelihood (own derivation, by
	// quadrature).
	tScale = 0.8310034937777946
	// tWorth brings a weight of the t to what a clean reading is worth in an
	// interval that covers: the sandwich variance under normal errors is 1.1202,
	// the mean weight 1.4481 (own derivation, by quadrature).
	tWorth = 1 / (1.1202145481797243 * 1.4480858192718848)
)

// StallSpread turns a unit of the stall shift into log odds.
const StallSpread = 1.5

// weigh returns the pull of an error x, in standard deviations, as a weight on
// its square.
func weigh(x float64) float64 {
	return (freedom + 1) / (freedom + x*x/(tScale*tScale)) / (tScale * tScale)
}

// worth is what a reading with an error x counts for in the posterior.
func worth(x float64) float64 { return tWorth * weigh(x) }

// most is the largest weight: that of no error at all.
const mostWeight = (freedom + 1) / freedom / (tScale * tScale)

// stallChance is the chance that run i stalls.
func (f *fit) stallChance(i int, o *outlook) float64 {
	z := *f.runs[i].StallOdds + StallSpread*o.row[StallShift]
	return 1 / (1 + math.Exp(-z))
}

// cost is minus the log of the posterior with the covariances held, but for a
// constant.
func (f *fit) cost(all []outlook, v []float64) float64 {
	sum := 0.0
	for _, b := range f.blocks {
		for _, x := range f.missed(b, all) {
			sum += x * x / 2
		}
	}
	for i := range all {
		if f.runs[i].StallOdds != nil {
			p := f.stallChance(i, &all[i])
			if !f.runs[i].Stalled {
				p = 1 - p
			}
			sum -= math.Log(math.Max(p, 1e-300))
		}
	}
	for _, z := range v {
		sum += z * z / 2
	}
	return sum
}

// spreadOut works out how well each reading is read, at the current forecasts.
func (f *fit) spreadOut() {
	for i := range f.runs {
		f.spreads[i] = make([]float64, len(f.readings[i]))
		for k, q := range f.readings[i] {
			f.spreads[i][k] = f.runs[i].spread(q, f.now[i].residue)
		}
	}
}

// fewRuns is up to how many runs a slip cannot be told from the truth by the
// others. Judgement, from mills outside the models: five cannot.
const fewRuns = 5

// believed reports whether a reading is taken at its word for want of others to
// hold it against: where it is on the dangerous side, hotter or fuller than
// thought.
func (f *fit) believed(i, k int) bool {
	if len(f.runs) > fewRuns {
		return false
	}
	q := f.readings[i][k]
	over := q.value - f.now[i].values[k]
	switch q.of {
	case OfWall, OfCharge, OfLeft, OfCooling:
		return over > 0
	case OfProduct:
		return over < 0
	}
	return false
}
