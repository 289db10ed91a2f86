package plan

import (
	"fmt"
	"math"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/quantity"
)

// mostPoints bounds the points of a curve: more than a screen can show.
const mostPoints = 600

// moments are the times of a campaign that a chart shows: start, some points
// and stop of every run. skip leaves charges out of very long campaigns.
func moments(t campaign) (x []float64, skip int) {
	per := t.k + 2
	skip = (t.charges*per + mostPoints - 1) / mostPoints
	for c := 0; c < t.charges; c += skip {
		start := t.upTo(float64(c+1)) - t.run()
		x = append(x, start)
		for q := range t.k + 1 {
			x = append(x, start+t.at[q])
		}
	}
	return x, skip
}

// temperatureChart shows charge and wall over the campaign against the limit.
func (j *job) temperatureChart(g *Grinding, t campaign) error {
	b := j.bench
	x, skip := moments(t)
	charge, wall := answer.Moments(len(x), len(b.rows)), answer.Moments(len(x), len(b.rows))
	per := t.k + 2
	for i := range b.rows {
		b.follow(t, i, func(c, q int, tc, tw float64) {
			if c%skip == 0 {
				m := c/skip*per + q + 1
				charge[m][i], wall[m][i] = b.room+tc, b.room+tw
			}
		}, func(c int, tc, tw float64) bool {
			if c%skip == 0 {
				charge[c/skip*per][i], wall[c/skip*per][i] = b.room+tc, b.room+tw
			}
			return true
		})
	}
	limit := b.beliefs[estimate.Softening].Median
	chart := answer.Chart{Key: "temperature", Title: "How warm it gets", XName: "time from the first start", YName: "temperature",
		XKind: quantity.Duration, YKind: quantity.Temperature,
		Curves: []answer.Curve{answer.Band("charge", "charge", x, charge), answer.Band("wall", "wall of the pot", x, wall)},
		Lines: []answer.Line{{Key: "softening", Name: "softening", Value: limit},
			{Key: "limit", Name: fmt.Sprintf("%g K below softening", b.bounds.margin), Value: limit - b.bounds.margin},
			{Key: "room", Name: "room", Value: b.room}}}
	top := 0.0
	for _, v := range chart.Curves[0].High {
		top = math.Max(top, v)
	}
	chart.Summary = fmt.Sprintf("The charge climbs during each run and stays below %s in nine of ten cases; %s softens at about %s.",
		quantity.Temperature.Rough(top), j.polymer.Name, quantity.Temperature.Rough(limit))
	g.add(chart)
	return nil
}

// yieldChart shows the granulate made over time against the need.
func (j *job) yieldChart(g *Grinding, t campaign) error {
	b := j.bench
	x, skip := moments(t)
	made := answer.Moments(len(x), len(b.rows))
	per := t.k + 2
	for i, row := range b.rows {
		sum := 0.0
		for c := range t.charges {
			v := t.link(i, c)
			if c%skip == 0 {
				m := c / skip * per
				made[m][i] = sum
				for q := range t.k + 1 {
					made[m+q+1][i] = sum + v.passed[q]*(1-row[estimate.Dust])
				}
			}
			sum += v.passed[t.k] * (1 - row[estimate.Dust])
		}
	}
	if last := made[len(made)-1]; skip == 1 {
		for i := range last { // the last charge is what is left of the scrap
			last[i] -= math.Max(0, float64(t.charges)*t.mass-b.available)
		}
	}
	need := answer.Quantile(b.wanted, 0.5)
	chart := answer.Chart{Key: "yield", Title: "How much has come out", XName: "time from the first start", YName: "granulate",
		XKind: quantity.Duration, YKind: quantity.Mass,
		Curves: []answer.Curve{answer.Band("product", "granulate", x, made)}, Lines: []answer.Line{{Key: "need", Name: "need", Value: need}}}
	chart.Summary = fmt.Sprintf("After %s about %s has come out; %s is wanted.",
		quantity.Duration.Rough(t.total()), g.Product.Shown(), quantity.Mass.Rough(need))
	g.add(chart)
	return nil
}

// sizeChart shows the expected size distribution of the product.
func (j *job) sizeChart(g *Grinding, t campaign) error {
	b := j.bench
	hole := b.beliefs[estimate.Hole].Median
	var x []float64
	for c := b.grid.Classes() - 1; c >= 0 && (len(x) == 0 || x[len(x)-1] < 1.01*hole); c-- {
		x = append(x, b.grid.Upper(c))
	}
	shares := answer.Moments(len(x), len(b.rows))
	passing := make([]float64, len(x))
	for i := range b.rows {
		if err := b.grid.Passing(b.product(t, i), larger(x, t.offBy(t.k, i, ofSizes)), passing); err != nil {
			return err
		}
		for m, p := range passing {
			shares[m][i] = p
		}
	}
	chart := answer.Chart{Key: "sizes", Title: "How coarse it is", XName: "sieve opening", YName: "share that passes",
		XKind: quantity.Length, YKind: quantity.Share, LogX: true,
		Curves: []answer.Curve{answer.Band("product", "granulate", x, shares)}}
	for _, f := range g.Figures {
		if f.Key == "d50" {
			chart.Summary = fmt.Sprintf("Half of the granulate is finer than %s; the screen's holes are %s.", f.Shown(), quantity.Length.Plain(hole))
		}
	}
	g.add(chart)
	return nil
}

// add puts a chart's units in and keeps it.
func (g *Grinding) add(c answer.Chart) {
	c.XUnit, c.YUnit = c.XKind.SI(), c.YKind.SI()
	g.Charts = append(g.Charts, c)
}
