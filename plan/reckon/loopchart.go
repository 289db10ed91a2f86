package reckon

import (
	"math"

	"hopperful/answer"
	"hopperful/fact"
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
	c := answer.Chart{Key: "kept", XName: "axis.round", YName: "axis.over_new", XKind: quantity.Count, YKind: l.kind(), Curves: []answer.Curve{answer.Band("kept", Choice(word), x, all)},
		Summary: "reckon.kept_by_round", Facts: []fact.Fact{aged(word), fact.About("low", l.kind(), answer.Quantile(last, 0.1)), fact.About("high", l.kind(), answer.Quantile(last, 0.9)), fact.Count("n", l.rounds)}}
	if l.flow {
		c.Lines = []answer.Line{{Key: "most", Name: "line.most", Value: l.bound}, {Key: "least", Name: "line.least", Value: 1 / l.bound}}
	} else {
		c.Lines = []answer.Line{{Key: "keep", Name: "line.wanted", Value: l.bound}}
	}
	r.chart(c)
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
	last := answer.Curve{Key: "last", Name: "line.round"}
	settled := answer.Curve{Key: "settled", Name: "line.settled"}
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
	climb := answer.Curve{Key: "mean", Name: "axis.mean_passes"}
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
	round := fact.Count("n", l.rounds)
	r.chart(answer.Chart{Key: "shares", XName: "axis.passes", YName: "axis.share_of_plastic", XKind: quantity.Count, YKind: quantity.Share, Curves: []answer.Curve{settled, last},
		Summary: "reckon.passes_shared", Facts: []fact.Fact{fact.About("one", quantity.Share, settled.Mid[0]), fact.About("three", quantity.Share, math.Min(1, young)), round}})
	r.chart(answer.Chart{Key: "mean", XName: "axis.round", YName: "axis.mean_passes", XKind: quantity.Count, YKind: quantity.Number, Curves: []answer.Curve{climb},
		Lines:   []answer.Line{{Key: "settled", Name: "line.settled", Value: end}},
		Summary: "reckon.passes_climb", Facts: []fact.Fact{fact.About("last", quantity.Number, climb.Mid[len(climb.Mid)-1]), round, fact.About("end", quantity.Number, end)}})
	return nil
}
