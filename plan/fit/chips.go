package fit

import (
	"cmp"
	"math"
	"slices"

	"hopperful/process/metal"
)

// leastChips is the rate of blocking chips from which a blocked nozzle can
// teach, where the model sees none [1/kg]; judgement: one in ten tonnes.
const leastChips = 1e-4

// openMind is what the model's word weighs where nozzles blocked of which it saw nothing coming: as so much printed
// [kg]; the records then speak all but alone, from Jeffreys' prior of a rate. Judgement.
const openMind = 0.1

// learnChips lets the prints on record speak: so many nozzles blocked in so many
// kilograms. Where the model sees no chips and some came, they speak all but alone;
// else what the draws say of the rate is taken for a gamma distribution with the same
// median and 90 % point, updated by the Poisson count. Every draw keeps its rank; the
// metal in it moves with the rate.
func (j *job) learnChips(runs []run) error {
	found := len(j.facts.blocked)
	if found == 0 && j.facts.printed == 0 {
		return nil
	}
	order := make([]int, len(runs))
	rates := make([]float64, len(runs))
	for i, r := range runs {
		order[i], rates[i] = i, math.Max(r.rate, leastChips)
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(runs[a].rate, runs[b].rate) })
	slices.Sort(rates)
	if found == 0 && rates[len(rates)-1] <= leastChips {
		return nil // none expected, none found
	}
	n := len(rates)
	prior := metal.Rate{Shape: 0.5, Exposure: openMind}
	if rates[n-1] > leastChips {
		var err error
		if prior, err = gammaOf(rates[n/2], rates[min(n-1, n*9/10)]); err != nil {
			return err
		}
	}
	after, err := metal.Learn(prior, found, j.facts.printed)
	if err != nil {
		return err
	}
	for k, i := range order {
		rate, err := after.Quantile((float64(k) + 0.5) / float64(n))
		if err != nil {
			return err
		}
		// Half of the surprise, on the logarithm, is put down to the metal, half to
		// how readily a chip blocks; judgement. A draw in which none could says
		// nothing.
		if runs[i].rate > leastChips {
			runs[i].metal = math.Min(runs[i].metal*math.Sqrt(rate/runs[i].rate), 0.5)
		}
		runs[i].rate = rate
	}
	return nil
}

// gammaOf is the gamma distribution of a rate with that median and 90 % point.
func gammaOf(median, high float64) (metal.Rate, error) {
	want := math.Max(high/median, 1.01)
	ratio := func(shape float64) (float64, float64, error) {
		r := metal.Rate{Shape: shape, Exposure: 1}
		mid, err := r.Quantile(0.5)
		if err != nil {
			return 0, 0, err
		}
		top, err := r.Quantile(0.9)
		return top / mid, mid, err
	}
	lo, hi := math.Log(0.15), math.Log(2e4) // the ratio falls as the shape rises
	var mid float64
	for range 60 {
		at := (lo + hi) / 2
		got, m, err := ratio(math.Exp(at))
		if err != nil {
			return metal.Rate{}, err
		}
		mid = m
		if got > want {
			lo = at
		} else {
			hi = at
		}
	}
	return metal.Rate{Shape: math.Exp((lo + hi) / 2), Exposure: mid / median}, nil
}
