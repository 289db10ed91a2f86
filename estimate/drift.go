package estimate

import (
	"math"
	"slices"
)

// How the break rate has changed with what was ground: a steady slope and a
// random walk, fitted with everything else, so that the trend is a straight sum
// of variables with its own band.

// Worn is the break rate at one point of a mill's life.
type Worn struct {
	Since     float64 // ground since the latest service [kg]
	Rate      float64 // over that at the service [1]
	Low, High float64 // 10–90 %
	Forecast  bool    // beyond what has been ground
}

// Drift is the trend of the break rate since a service.
type Drift struct {
	Points []Worn
	Slope  float64 // change of its logarithm a kilogram [1/kg]
	Spread float64 // standard deviation of Slope
	Told   bool    // the records say something about it
}

// trendPoints is how many points a trend is told at, forecast included.
const trendPoints = 24

// Drift tells the trend of a chapter so far, and half as far again.
func (f *Fitted) Drift(chapter int) Drift {
	var d Drift
	d.Slope, d.Spread = f.slope()
	d.Told = d.Spread < learnedShare*slopeSpread
	reach := f.fit.ledger.span(chapter)
	for i := range trendPoints {
		since := 1.5 * math.Max(reach, 1) * float64(i) / (trendPoints - 1)
		mean, sd := f.wornAt(chapter, since)
		d.Points = append(d.Points, Worn{Since: since, Rate: math.Exp(mean),
			Low: math.Exp(mean - tail*sd), High: math.Exp(mean + tail*sd), Forecast: since > reach})
	}
	return d
}

// wornAt is the logarithm of the rate after since kilograms over that at the
// service, with its standard deviation.
func (f *Fitted) wornAt(chapter int, since float64) (mean, sd float64) {
	c, own := map[int]float64{}, 0.0
	for _, k := range f.fit.ledger.asking().wear(chapter, since) {
		if k.variable < len(f.fit.v) {
			mean += k.c * f.fit.v[k.variable]
		}
		if at, ok := f.fit.place[k.variable]; ok {
			c[at] += k.c
			continue
		}
		own += k.c * k.c
	}
	if f.spread != nil {
		own += f.spread.along(c)
	}
	if reach := f.fit.ledger.span(chapter); since > reach { // the walk goes on unseen
		own += walkSpread * walkSpread * (since - reach)
	}
	return mean, math.Sqrt(own)
}

// slope is the steady change of the logarithm of the break rate with its
// standard deviation [1/kg].
func (f *Fitted) slope() (mean, sd float64) {
	sd = slopeSpread
	n, ok := f.fit.ledger.numbers[steady]
	if !ok || n >= len(f.fit.v) {
		return 0, sd
	}
	if at, told := f.fit.place[n]; told && f.spread != nil {
		sd *= math.Sqrt(f.spread.covariance.At(at, at))
	}
	return slopeSpread * f.fit.v[n], sd
}

// Until is how much more can be ground before the break rate has fallen to a
// share of what it is now [kg], if it goes on as steadily: at the 10 %, 50 % and
// 90 % points; +Inf where it does not fall.
func (f *Fitted) Until(share float64) (low, mid, high float64) {
	mean, sd := f.slope()
	all := make([]float64, 3)
	for i, slope := range [...]float64{mean - tail*sd, mean, mean + tail*sd} {
		all[i] = math.Inf(1)
		if slope < 0 {
			all[i] = math.Log(share) / slope
		}
	}
	slices.Sort(all)
	return all[0], all[1], all[2]
}
