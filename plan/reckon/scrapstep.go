package reckon

// Leaving out more and more of a heap: one dark lot of several wins little, all of
// them much.

import (
	"fmt"
	"slices"

	"hopperful/answer"
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
func (r *reckoning) advise(g goal, now []float64, steps []step) (string, error) {
	gain := func(s step) float64 { return g.sign * (answer.Quantile(s.far, 0.5) - answer.Quantile(now, 0.5)) }
	most := 0.0
	for _, s := range steps {
		most = max(most, gain(s))
	}
	if most < 2 { // less is seen only at a careful look
		return " Leaving out any of it wins little.", nil
	}
	s := steps[slices.IndexFunc(steps, func(s step) bool { return gain(s) >= most/2 })]
	names := s.names
	if len(names) > 4 {
		names = append(slices.Clone(names[:3]), fmt.Sprintf("%d more", len(names)-3))
	}
	told := "without " + answer.List(names)
	if i := slices.IndexFunc(r.out.Swatches, func(x Swatch) bool { return x.Name == told }); i >= 0 { // it stands there already
		return leaveOut(names, s, r.out.Swatches[i]), nil
	}
	shown, err := r.swatch("rest", told, s.curve, 1-s.out)
	if err != nil {
		return "", err
	}
	r.drawn("rest", g.name+" "+told, quantity.Number, s.far, "the rest, its shares scaled up; the fewest parts that win half of what leaving out can")
	r.add("left_out", "of the heap left out for that", quantity.Share, s.out, "their shares together")
	return leaveOut(names, s, shown), nil
}

func leaveOut(names []string, s step, shown Swatch) string {
	return fmt.Sprintf(" Leave out %s, %s of it, first: the rest becomes %s.", answer.List(names), quantity.Share.Rough(s.out), shown.Shown())
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
	k := answer.Band("rest", "the rest", x, all)
	n := len(x) - 1
	c := answer.Chart{Key: "leave", Title: "Leaving out more and more", XName: "left out", YName: g.name, XKind: quantity.Share, YKind: quantity.Number, XUnit: quantity.Share.SI(), YUnit: quantity.Number.SI(), Curves: []answer.Curve{k}}
	c.Summary = fmt.Sprintf("In the order %s: from %.0f with all of it to %.0f with %s of it left out.", answer.List(steps[n-1].names), k.Mid[0], k.Mid[n], quantity.Share.Rough(x[n]))
	r.out.Charts = append(r.out.Charts, c)
}
