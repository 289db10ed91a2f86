package fit

import (
	"fmt"
	"math"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/plan/lineage"
	"hopperful/quantity"
	"hopperful/shop"
)

// Whether a part of it will hold: what passes and water left of its strength, by
// the lot's age.

// age finds how old the lot is, and what the studies say of a pass.
func (j *job) age() error {
	ages, err := lineage.NewAger(j.state)
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
	f, err := j.over("strength", "strength kept against a fresh print", quantity.Share, func(r run) float64 { return r.strength })
	if err != nil {
		return Item{}, err
	}
	passes, err := j.strength.Age.Mean()
	if err != nil {
		return Item{}, err
	}
	passes.Key, passes.Name = "passes", "times it was melted before"
	keeps := beliefFigure(j.beliefs[fKeeps])
	for _, s := range j.strength.Studies[min(1, len(j.strength.Studies)):] {
		keeps = keeps.Cite(s.Source, s.Place)
	}
	chains, err := j.strength.Chains()
	if err != nil {
		return Item{}, err
	}
	how, from := "sum of the shares, each × strength kept per pass to the power of its passes", []figure.Figure{keeps, passes}
	if chains != nil && passes.High > 0 {
		how += ", × what water left"
		from = append(from, *chains, beliefFigure(j.beliefs[fBrittle]))
	}
	f = f.From(how, from...)
	need := *j.req.Strength
	x := j.item(question{"strength", "Is it still strong enough?", func(r run) bool { return r.strength >= need }, j.facts.ran > 0 || j.lot.Class == shop.Virgin, f,
		figure.Limit{Name: "what the part must keep", Value: need, Side: figure.Over},
		fmt.Sprintf("%s it keeps about %s of a fresh print's strength; the part must keep %s.", pastWords(j.strength.Age, passes, chains), f.Shown(), quantity.Share.Plain(need))})
	switch {
	case x.Verdict == answer.Yes:
	case !x.Known:
		x.Change = measure(1200, "Print a small bar, and one of fresh material, and break both by hand.")
	default:
		x.Change = treat(0, nil, "Blend it half and half with fresh material of the same polymer.")
	}
	return x, nil
}

// pastWords is what the lot went through before this print.
func pastWords(age lineage.Spread, passes figure.Figure, chains *figure.Figure) string {
	if passes.High == 0 {
		return "Never printed before,"
	}
	how := "by the records"
	switch judged := age.Judged(); {
	case judged > 0.995:
		how = fmt.Sprintf("%.2g to %.2g, judged: nobody counted them", passes.Low, passes.High)
	case judged > 0:
		how = fmt.Sprintf("%.2g to %.2g, judged for the %s that came from outside", passes.Low, passes.High, quantity.Share.Rough(judged))
	}
	water := ""
	if lineage.Wet(chains) {
		water = " and the water it was melted with"
	}
	unit := "passes"
	if math.Abs(passes.Value-1) < 0.005 {
		unit = "pass"
	}
	return fmt.Sprintf("After %.2g %s before this print (%s)%s", passes.Value, unit, how, water)
}
