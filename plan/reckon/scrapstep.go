package reckon

// Leaving out more and more of a heap: one dark lot of several wins little, all of
// them much.

import (
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/process/colour"
	"hopperful/quantity"
)

// step is a heap after one more part was left out.
type step struct {
	names []string // all that is left out by now
	out   float64  // their share of the heap
	far   []float64
	curve colour.Curve
}

// steps leave out one part after another, each time the one without which the
// rest stands best.
func (g goal) steps(parts []heapPart, known float64) ([]step, error) {
	var all []step
	rest, out := slices.Clone(parts), 0.0
	var names []string
	for len(rest) > 1 {
		best, most := 0, 0.0
		for i := range rest {
			v, err := g.stands(slices.Delete(slices.Clone(rest), i, i+1))
			if err != nil {
				return nil, err
			}
			if v *= g.sign; i == 0 || v > most {
				best, most = i, v
			}
		}
		names, out = append(names, rest[best].name), out+rest[best].share
		rest = slices.Delete(rest, best, best+1)
		s := step{names: slices.Clone(names), out: min(1, out)}
		var err error
		if s.far, s.curve, err = g.of(rest, known); err != nil {
			return nil, err
		}
		all = append(all, s)
	}
	return all, nil
}

// stands is where a heap as estimated stands.
func (g goal) stands(parts []heapPart) (float64, error) {
	c, err := meltOf(heapOf(parts, 1, 20))
	if err != nil {
		return 0, err
	}
	lab, err := colour.LabOf(c, colour.TwoDegrees)
	if err != nil || g.wanted == nil {
		return lab.L, err
	}
	return colour.Difference(*g.wanted, lab)
}

// advise says what to leave out first: the fewest steps that win half of what all
// of them could.
func (r *reckoning) advise(g goal, now []float64, steps []step) (advice fact.Saying, err error) {
	gain := func(s step) float64 { return g.sign * (answer.Quantile(s.far, 0.5) - answer.Quantile(now, 0.5)) }
	most := 0.0
	for _, s := range steps {
		most = max(most, gain(s))
	}
	if most < 2 { // less is seen only at a careful look
		return fact.Say("reckon.wins_little"), nil
	}
	s := steps[slices.IndexFunc(steps, func(s step) bool { return gain(s) >= most/2 })]
	names := s.names
	if len(names) > 4 {
		names = names[:3]
	}
	told := fact.Names("names", names)
	if len(s.names) > len(names) {
		told.Parts = append(told.Parts, fact.Say("reckon.more", fact.Count("n", len(s.names)-len(names))))
	}
	alone := func(x Swatch) bool { return len(names) == 1 && x.Name.Text("names") == names[0] }
	if i := slices.IndexFunc(r.out.Swatches, alone); i >= 0 { // it stands there already
		return leaveOut(told, s, r.out.Swatches[i]), nil
	}
	shown, err := r.swatch("rest", fact.Say("swatch.without", told), s.curve, 1-s.out)
	if err != nil {
		return advice, err
	}
	r.drawn("rest", quantity.Number, s.far).about(g.rest, "")
	r.add("left_out", quantity.Share, s.out)
	return leaveOut(told, s, shown), nil
}

func leaveOut(told fact.Fact, s step, shown Swatch) fact.Saying {
	return fact.Say("reckon.leave_out", told, fact.About("share", quantity.Share, s.out), shown.fact("colour"))
}

// stepChart draws what leaving out more and more does.
func (r *reckoning) stepChart(g goal, now []float64, steps []step) {
	if len(steps) < 2 {
		return
	}
	x, all := []float64{0}, [][]float64{now}
	for _, s := range steps {
		x, all = append(x, s.out), append(all, s.far)
	}
	k := answer.Band("rest", "line.rest", x, all)
	n := len(x) - 1
	r.chart(answer.Chart{Key: "leave", XName: "axis.left_out", YName: g.axis, XKind: quantity.Share, YKind: quantity.Number, Curves: []answer.Curve{k},
		Summary: "reckon.in_order", Facts: []fact.Fact{fact.Names("names", steps[n-1].names), fact.About("first", quantity.Number, k.Mid[0]), fact.About("last", quantity.Number, k.Mid[n]), fact.About("share", quantity.Share, x[n])}})
}
