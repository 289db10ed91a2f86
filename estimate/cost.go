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

// most is the largest weight: that of no error at all.
const mostWeight = (freedom + 1) / freedom / (tScale * tScale)

// odd is minus the log likelihood of an error of x standard deviations, 0 for
// none.
func odd(x float64) float64 {
	return (freedom + 1) / 2 * math.Log1p(x*x/(freedom*tScale*tScale))
}

// error is how far a forecast lies from a reading, in standard deviations.
func (f *fit) misses(i, k int, o *outlook) float64 {
	return (o.values[k] - f.readings[i][k].value) / (f.spreads[i][k] * f.scale[f.readings[i][k].of])
}

// stallChance is the chance that run i stalls.
func (f *fit) stallChance(i int, o *outlook) float64 {
	z := *f.runs[i].StallOdds + StallSpread*o.row[StallShift]
	return 1 / (1 + math.Exp(-z))
}

// cost is minus the log of the posterior, but for a constant.
func (f *fit) cost(all []outlook, v []float64) float64 {
	sum := 0.0
	for i := range all {
		for k := range f.readings[i] {
			sum += odd(f.misses(i, k, &all[i]))
		}
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

// spreadOut works out how well each reading is held to, at the current
// forecasts.
func (f *fit) spreadOut() {
	for i := range f.runs {
		f.spreads[i] = make([]float64, len(f.readings[i]))
		for k, q := range f.readings[i] {
			f.spreads[i][k] = f.runs[i].spread(q, f.now[i].residue)
		}
	}
}
