package fit

import (
	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/traceability"
	"hopperful/quantity"
	"hopperful/shop"
)

// Whether a part of it will hold: what passes and water left of its strength, by
// the lot's age.

// age finds how old the lot is, and what the studies say of a pass.
func (j *job) age() error {
	ages, err := traceability.NewAger(j.state)
	if err != nil {
		return err
	}
	if j.strength, err = ages.StrengthOf(j.lot); err != nil {
		return err
	}
	if studies := j.strength.Studies; len(studies) > 0 { // else the wide range stands
		one, q := &j.beliefs[fKeeps], j.strength.PerPass
		one.Median, one.Low, one.High, one.Assumed = q.Median, q.Low, q.High, false
		one.Source.Key, one.Source.Place = studies[0].Source, studies[0].Place
	}
	return nil
}

func (j *job) strongEnough(row []float64, r *run) (err error) {
	r.strength, err = j.strength.Kept(row[fOlder]/answer.Ninety, min(max(row[fKeeps], 0.05), 20), min(max(row[fBrittle], 0.01), 0.9))
	return err
}

func (j *job) holdsStill() (Item, error) {
	f, err := j.over("strength", "fit.strength_kept", quantity.Share, func(r run) float64 { return r.strength })
	if err != nil {
		return Item{}, err
	}
	passes, err := j.strength.Age.Mean()
	if err != nil {
		return Item{}, err
	}
	passes.Key, passes.Name = "passes", "fit.passes"
	keeps := beliefFigure(j.beliefs[fKeeps])
	for _, s := range j.strength.Studies[min(1, len(j.strength.Studies)):] {
		keeps = keeps.Cite(s.Source, s.Place)
	}
	chains, err := j.strength.Chains()
	if err != nil {
		return Item{}, err
	}
	how, from := "how.strength", []figure.Figure{keeps, passes}
	if chains != nil && passes.High > 0 {
		how = "how.strength_wet"
		from = append(from, *chains, beliefFigure(j.beliefs[fBrittle]))
	}
	f = f.From(how, from...)
	need := *j.req.Strength
	x := j.item(question{"strength", fact.Say("fit.strength"), func(r run) bool { return r.strength >= need }, j.facts.ran > 0 || j.lot.Class == shop.Virgin, f,
		figure.Limit{Name: j.called(shop.LeastStrength), Value: need, Side: figure.Over},
		fact.Say("fit.says_strength", fact.Figure("kept", f), fact.Set("need", quantity.Share, need), past("past", j.strength.Age, passes, chains))})
	switch {
	case x.Verdict == answer.Yes:
	case !x.Known:
		x.Change = measure(1200, fact.Say("fit.break_bars"))
	default:
		x.Change = treat(0, nil, fact.Say("fit.half_fresh"))
	}
	return x, nil
}

// past is what the lot went through before this print.
func past(name string, age traceability.Spread, passes figure.Figure, chains *figure.Figure) fact.Fact {
	if passes.High == 0 {
		return fact.Parts(name, fact.Say("fit.past_none"))
	}
	mid, low, high := fact.About("passes", quantity.Number, passes.Value), fact.About("low", quantity.Number, passes.Low), fact.About("high", quantity.Number, passes.High)
	said := fact.Say("fit.past_counted", mid.As("passes"))
	switch judged := age.Judged(); {
	case judged > 0.995:
		said = fact.Say("fit.past_judged", mid.As("passes"), low.As("low"), high.As("high"))
	case judged > 0:
		said = fact.Say("fit.past_part_judged", mid.As("passes"), low.As("low"), high.As("high"), fact.About("judged", quantity.Share, judged))
	}
	if traceability.Wet(chains) {
		return fact.Parts(name, said, fact.Say("fit.past_wet"))
	}
	return fact.Parts(name, said)
}
