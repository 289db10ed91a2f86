package sieving

import (
	"slices"
	"strconv"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/process/sieve"
	"hopperful/quantity"
)

// nth is a number as a name, from some number on.
func nth(n, from int) string {
	if n < from {
		return ""
	}
	return strconv.Itoa(n)
}

// worry notes what could spoil the analysis.
func (f *sifting) worry(weight float64, what, remedy fact.Saying) {
	w := answer.Found(what, remedy)
	w.Weight = weight
	f.out.Spoilers = append(f.out.Spoilers, w)
}

// warned says what a warning means, and how bad it is.
func (f *sifting) warned(of sieve.Code) {
	a := f.a
	n := len(a.Sieves)
	missing, allowed, by := fact.Measured("share", quantity.Share, max(a.LossShare, -a.LossShare)), fact.Set("allowed", quantity.Share, a.Allowance.Share), fact.Parts("by", f.allowed)
	switch of {
	case sieve.Gain:
		if len(a.Doubts) == 0 { // else the doubt explains it
			f.worry(0.8, fact.Say("sieving.gained", missing, allowed, by), fact.Say("sieving.weigh_empty_again"))
		}
	case sieve.Loss:
		f.worry(0.7, fact.Say("sieving.lost", missing, allowed, by), fact.Say("sieving.brush"))
	case sieve.MixedForms:
		f.worry(0.5, fact.Say("sieving.mixed_forms"), fact.Say("sieving.one_form"))
	case sieve.CoarseTop:
		f.worry(0.4, fact.Say("sieving.coarse_top", fact.About("share", quantity.Share, a.Retained[0]/a.Recovered)), fact.Say("sieving.add_coarser"))
	case sieve.FullPan:
		f.worry(0.4, fact.Say("sieving.full_pan", fact.About("share", quantity.Share, a.Retained[n]/a.Recovered)), fact.Say("sieving.add_finer"))
	case sieve.ChargeUnknown:
		f.worry(0.2, fact.Say("sieving.charge_unknown"), fact.Say("sieving.weigh_the_charge"))
	}
}

// doubts gathers what could spoil the analysis, worst first. What does not make
// the three goes among the notes.
func (f *sifting) doubts() {
	for _, d := range f.a.Doubts {
		f.worry(1, fact.Say("sieving.tare_forgotten", fact.Measured("over", quantity.Mass, f.a.Recovered-f.a.Charge), fact.Count("n", d.Rows), fact.About("tare", quantity.Mass, d.Value)),
			fact.Say("sieving.enter_both"))
	}
	wide := false
	for _, w := range f.a.Warnings {
		f.warned(w)
		wide = wide || w == sieve.WideStep
	}
	if at, next, gap := f.widest(); wide && gap {
		f.worry(0.3, fact.Say("sieving.wide_step", fact.Set("above", quantity.Length, at), fact.Set("below", quantity.Length, next)), fact.Say("sieving.put_between"))
	}
	if f.out.Simple {
		f.worry(0.25, fact.Say("sieving.simple"), fact.Say("sieving.sieve_through_three"))
	}
	all := f.out.Spoilers
	slices.SortStableFunc(all, func(a, b answer.Finding) int {
		switch {
		case a.Weight > b.Weight:
			return -1
		case a.Weight < b.Weight:
			return 1
		}
		return 0
	})
	if len(all) > answer.MostSpoilers {
		for _, w := range all[answer.MostSpoilers:] {
			f.notes = append(append(f.notes, w.Saying), w.Remedies...)
		}
		f.out.Spoilers = all[:answer.MostSpoilers]
	}
}

// widest are the two sieves furthest apart.
func (f *sifting) widest() (above, below float64, ok bool) {
	for i := 1; i < len(f.a.Sieves); i++ {
		if one, next := f.a.Sieves[i-1].Opening, f.a.Sieves[i].Opening; !ok || one/next > above/below {
			above, below, ok = one, next, true
		}
	}
	return above, below, ok
}
