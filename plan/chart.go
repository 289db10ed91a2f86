package plan

import (
	"math"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/figure"
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
	chart := answer.Chart{Key: "temperature", Title: "plan.chart_temperature", XName: "plan.chart_time", YName: "plan.chart_degrees",
		XKind: quantity.Duration, YKind: quantity.Temperature,
		Curves: []answer.Curve{answer.Band("charge", "plan.chart_charge", x, charge), answer.Band("wall", "plan.chart_wall", x, wall)},
		Lines: []answer.Line{{Key: "softening", Name: "plan.chart_softening", Value: limit},
			{Key: "limit", Name: "plan.chart_limit", Value: limit - b.bounds.margin},
			{Key: "room", Name: "plan.room", Value: b.room}}}
	top := 0.0
	for _, v := range chart.Curves[0].High {
		top = math.Max(top, v)
	}
	chart.Summary = "plan.chart_temperature_says"
	if s := belief(&b.beliefs, estimate.Softening).Standing(); s == figure.Guessed || s == figure.Assumed {
		chart.Summary = "plan.chart_temperature_guesses"
	}
	chart.Facts = []fact.Fact{fact.About("top", quantity.Temperature, top), fact.Name("polymer", j.polymer.Name), fact.About("softening", quantity.Temperature, limit), fact.Set("margin", quantity.TemperatureDifference, b.bounds.margin)}
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
	chart := answer.Chart{Key: "yield", Title: "plan.chart_yield", XName: "plan.chart_time", YName: "plan.chart_granulate",
		XKind: quantity.Duration, YKind: quantity.Mass,
		Curves: []answer.Curve{answer.Band("product", "plan.chart_granulate", x, made)}, Lines: []answer.Line{{Key: "need", Name: "plan.chart_need", Value: need}}}
	chart.Summary = "plan.chart_yield_says"
	chart.Facts = []fact.Fact{fact.About("time", quantity.Duration, t.total()), fact.Figure("product", g.Product), fact.About("need", quantity.Mass, need)}
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
	passing, modelled := make([]float64, len(x)), make([]float64, len(x))
	for i := range b.rows {
		for m, size := range x {
			modelled[m] = t.modelled(t.k, i, size)
		}
		if err := b.grid.Passing(b.product(t, i), modelled, passing); err != nil {
			return err
		}
		for m, p := range passing {
			shares[m][i] = p
		}
	}
	chart := answer.Chart{Key: "sizes", Title: "plan.chart_sizes", XName: "plan.chart_opening", YName: "plan.chart_passes",
		XKind: quantity.Length, YKind: quantity.Share, LogX: true,
		Curves: []answer.Curve{answer.Band("product", "plan.chart_granulate", x, shares)}}
	for _, f := range g.Figures {
		if f.Key == "d50" {
			chart.Summary = "plan.chart_sizes_says"
			chart.Facts = []fact.Fact{fact.Figure("half", f), fact.Set("hole", quantity.Length, hole)}
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
