package plan

import (
	"math"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/breakage"
	"hopperful/quantity"
	"hopperful/shop"
)

// Wear is how the break rate has changed since the blade was last seen to.
type Wear struct {
	Ground  figure.Figure  // since then
	Now     figure.Figure  // break rate over that after the service
	Chart   answer.Chart   // over what was ground, and half as far again
	Left    *figure.Figure // until a campaign takes half as long again; nil: not in sight
	Verdict fact.Saying
	Longer  float64 // share of the break rate at which it does
}

// longer is how much longer a campaign may take before the blade is due.
const longer = 1.5

// wearOf tells the wear of the blade that is in the mill.
func wearOf(log *logbook, f *estimate.Fitted, m shop.Mill) (Wear, error) {
	trend := f.Drift(log.chapter)
	w := Wear{Ground: figure.Exact("ground_since", "learn.ground_since", quantity.Mass, log.since, figure.Reckoned)}
	w.Chart = answer.Chart{Key: "wear", Title: "learn.wear", XName: "learn.ground_since", YName: "learn.rate_now",
		XKind: quantity.Mass, YKind: quantity.Share, XUnit: quantity.Mass.SI(), YUnit: quantity.Share.SI()}
	past, ahead := answer.Curve{Key: "rate", Name: "learn.so_far"}, answer.Curve{Key: "forecast", Name: "learn.goes_on"}
	var now estimate.Worn
	for _, p := range trend.Points {
		c := &past
		if p.Forecast {
			c = &ahead
		} else {
			now = p
		}
		c.X, c.Low, c.Mid, c.High = append(c.X, p.Since), append(c.Low, p.Low), append(c.Mid, p.Rate), append(c.High, p.High)
	}
	w.Chart.Curves = []answer.Curve{past, ahead}
	w.Now = figure.Figure{Key: "rate_now", Name: "learn.rate_now", Kind: quantity.Share,
		Value: now.Rate, Low: now.Low, High: now.High, Basis: figure.Reckoned}
	if trend.Told {
		w.Now = w.Now.LearnedFrom(len(log.runs))
	}
	var err error
	if w.Longer, err = slowShare(log, f); err != nil {
		return w, err
	}
	w.Chart.Lines = []answer.Line{{Key: "due", Name: "learn.half_as_long", Value: w.Longer}}
	w.judge(trend, f)
	w.Chart.Summary, w.Chart.Facts = w.Verdict.Code, w.Verdict.Facts
	return w, nil
}

// farAhead is the forecast beyond which nothing is said [kg]. Judgement.
const farAhead = 500

// judge says when the blade will be due.
func (w *Wear) judge(trend estimate.Drift, f *estimate.Fitted) {
	low, mid, high := f.Until(w.Longer)
	switch {
	case !trend.Told:
		w.Verdict = fact.Say("learn.no_wear_yet")
	case mid > farAhead:
		w.Verdict = fact.Say("learn.no_wear", fact.Figure("ground", w.Ground), fact.About("ahead", quantity.Mass, farAhead))
	default:
		left := figure.Figure{Key: "until_due", Name: "learn.until_due", Kind: quantity.Mass,
			Value: mid, Low: low, High: math.Min(high, farAhead), Basis: figure.Reckoned}
		left.High = math.Max(left.High, mid)
		w.Left = &left
		w.Verdict = fact.Say("learn.wears", fact.About("slope", quantity.Share, math.Expm1(trend.Slope)), fact.Figure("left", left))
	}
}

// slowShare is the share of the break rate at which the usual charge takes half
// as long again to pass its usual share.
func slowShare(log *logbook, f *estimate.Fitted) (float64, error) {
	if len(log.runs) == 0 {
		return 1 / longer, nil // breaking alone sets the time
	}
	r := log.runs[len(log.runs)-1]
	for i := len(log.runs) - 1; i >= 0 && r.Load.Watts == 0; i-- {
		r = log.runs[i]
	}
	if r.Load.Watts == 0 {
		return 1 / longer, nil
	}
	beliefs := f.Beliefs(log.setup.Priors[r.Polymer], estimate.Target{Polymer: r.Polymer, Screen: r.Screen, Chapter: log.chapter, Since: log.since})
	row := beliefs.Medians()
	row[estimate.PowerScale] = f.ScaleAt(log.setup.Priors[r.Polymer], r.Load).Median
	grid, err := breakage.NewGrid(r.Largest)
	if err != nil {
		return 0, err
	}
	passed, err := passes(grid, row, r, r.Time, 1)
	if err != nil || passed <= 0 {
		return 1 / longer, err
	}
	lo, hi := 0.05, 1.0
	for range 30 {
		mid := math.Sqrt(lo * hi)
		p, err := passes(grid, row, r, longer*r.Time, mid)
		if err != nil {
			return 0, err
		}
		if p < passed {
			lo = mid
		} else {
			hi = mid
		}
	}
	return math.Sqrt(lo * hi), nil
}

// passes is the mass through the screen in a time, at a share of the break
// rate.
func passes(grid breakage.Grid, row []float64, r estimate.Run, time, share float64) (float64, error) {
	kernel := estimate.Kernel(row)
	kernel.Rate *= share
	mill, err := breakage.NewMill(grid, kernel, estimate.Screen(row), estimate.Power(row, r.Load), planTolerance)
	if err != nil {
		return 0, err
	}
	c := breakage.NewCharge(grid)
	if err := breakage.AddFeed(grid, c.Held, r.Charge, r.Largest, estimate.TypicalPiece(row, r.Largest, r.Thickness), r.Thickness); err != nil {
		return 0, err
	}
	err = mill.Run(c, time, nil)
	return c.PassedMass(), err
}
