package reckon

import (
	"fmt"
	"math"

	"hopperful/answer"
	"hopperful/process/ageing"
	"hopperful/quantity"
)

// rounds follows the property round by round, draws the chart of it, and returns
// where the last round stands.
func (r *reckoning) rounds(l loop, draws []history) (last []float64, err error) {
	word := r.out.Words["property"]
	x, all := make([]float64, l.rounds), answer.Moments(l.rounds, len(draws))
	for b, a := range l.ages {
		x[b] = float64(b + 1)
		mean, err := a.Mean()
		if err != nil {
			return nil, err
		}
		for i, h := range draws {
			if all[b][i], err = l.at(a, mean, h); err != nil {
				return nil, err
			}
		}
	}
	last = all[l.rounds-1]
	c := answer.Chart{Key: "kept", Title: answer.Capital(word) + " round by round", XName: "round", YName: "over a new print's", XKind: quantity.Count, YKind: l.kind(),
		XUnit: quantity.Count.SI(), YUnit: l.kind().SI(), Curves: []answer.Curve{answer.Band("kept", word, x, all)}}
	if l.flow {
		c.Lines = []answer.Line{{Key: "most", Name: "most", Value: l.bound}, {Key: "least", Name: "least", Value: 1 / l.bound}}
	} else {
		c.Lines = []answer.Line{{Key: "keep", Name: "wanted", Value: l.bound}}
	}
	c.Summary = fmt.Sprintf("From 1 in the first round to %s in round %d.", l.kind().Span(answer.Quantile(last, 0.1), answer.Quantile(last, 0.9)), l.rounds)
	r.out.Charts = append(r.out.Charts, c)
	return last, nil
}

// at is the property of a round over that of the first.
func (l loop) at(a ageing.Age, mean float64, h history) (float64, error) {
	kept := ageing.Retained
	if l.flow {
		kept = ageing.RetainedLog
	}
	v, err := kept(a, h.factor)
	return v / h.factor * l.damp(h, mean), err
}

// settledShares draws how the plastic is shared out by passes, and how the mean
// climbs there.
func (r *reckoning) settledShares(l loop) error {
	classes := len(l.ages[l.rounds-1].Shares) - 1
	last := answer.Curve{Key: "last", Name: fmt.Sprintf("round %d", l.rounds)}
	settled := answer.Curve{Key: "settled", Name: "settled"}
	shown := min(max(classes, 4), 30)
	for n := 1; n <= shown; n++ {
		share, err := ageing.SteadyShare(l.regrind, n)
		if err != nil {
			return err
		}
		settled.X, settled.Mid = append(settled.X, float64(n)), append(settled.Mid, share)
		in := 0.0
		if n <= classes {
			in = l.ages[l.rounds-1].Shares[n]
		}
		last.X, last.Mid = append(last.X, float64(n)), append(last.Mid, in)
	}
	climb := answer.Curve{Key: "mean", Name: "mean passes"}
	for b, a := range l.ages {
		mean, err := a.Mean()
		if err != nil {
			return err
		}
		climb.X, climb.Mid = append(climb.X, float64(b+1)), append(climb.Mid, mean)
	}
	end, err := ageing.SteadyMean(l.regrind)
	if err != nil {
		return err
	}
	for _, c := range []*answer.Curve{&last, &settled, &climb} {
		c.Low, c.High = c.Mid, c.Mid
	}
	young := 0.0
	for _, v := range settled.Mid[:3] {
		young += v
	}
	r.out.Charts = append(r.out.Charts, answer.Chart{Key: "shares", Title: "How often the plastic was melted", XName: "passes", YName: "share of the plastic", XKind: quantity.Count, YKind: quantity.Share,
		XUnit: quantity.Count.SI(), YUnit: quantity.Share.SI(), Curves: []answer.Curve{settled, last},
		Summary: fmt.Sprintf("Settled, %s has one pass and %s at most three.", quantity.Share.Rough(settled.Mid[0]), quantity.Share.Rough(math.Min(1, young)))},
		answer.Chart{Key: "mean", Title: "Mean passes round by round", XName: "round", YName: "mean passes", XKind: quantity.Count, YKind: quantity.Number,
			XUnit: quantity.Count.SI(), YUnit: quantity.Number.SI(), Curves: []answer.Curve{climb}, Lines: []answer.Line{{Key: "settled", Name: "settled", Value: end}},
			Summary: fmt.Sprintf("From 1 in the first round to %.3g in round %d; it settles at %.3g.", climb.Mid[len(climb.Mid)-1], l.rounds, end)})
	return nil
}
