package sieving

import (
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/sieve"
	"hopperful/quantity"
)

// pool takes the stack together with the other analyses of its lot on the same
// sieves, where that was asked for, and says how far the samples lie apart.
func (f *sifting) pool() error {
	if !f.opt.Pool || f.stack.Lot == "" {
		return nil
	}
	all := []sieve.Analysis{f.a}
	for _, e := range f.state.Sievings(f.stack.Lot) {
		if e.ID == f.stack.Record {
			continue
		}
		other, err := stackOn(e.ID, e.Body)
		if err != nil {
			return err
		}
		a, err := sieve.Weigh(other.Stack)
		if err != nil {
			return refusal(err)
		}
		if _, err := sieve.Pool(f.a, a); err == nil { // else on other sieves: no repetition
			all = append(all, a)
			f.records = append(f.records, int64(e.ID))
		}
	}
	if len(all) < 2 {
		f.notes = append(f.notes, fact.Say("sieving.stands_alone", fact.Lot("lot", string(f.stack.Lot), "")))
		return nil
	}
	together, err := sieve.Pool(all...)
	if err != nil {
		return refusal(err)
	}
	f.a = together.Analysis
	f.notes = append(f.notes, fact.Say("sieving.together", fact.Lot("lot", string(f.stack.Lot), ""), fact.Count("n", together.Samples)))
	widest := 0.0
	for _, s := range together.Spread {
		widest = max(widest, s)
	}
	f.out.Sizes = append(f.out.Sizes, f.mine(figure.Exact("sample_spread", "sieving.sample_spread", quantity.Share, widest, figure.Reckoned)).
		From("sieving.how_spread"))
	return nil
}
