package plan

import (
	"fmt"
	"math"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/figure"
	"hopperful/process/breakage"
	"hopperful/quantity"
	"hopperful/shop"
)

// Wear is how the break rate has changed since the blade was last seen to.
type Wear struct {
	Ground  figure.Figure  `json:"ground"`         // since then
	Now     figure.Figure  `json:"now"`            // break rate over that after the service
	Chart   answer.Chart   `json:"chart"`          // over what was ground, and half as far again
	Left    *figure.Figure `json:"left,omitempty"` // until a campaign takes half as long again; nil: not in sight
	Verdict string         `json:"verdict"`        // in a sentence
	Longer  float64        `json:"share_then"`     // share of the break rate at which it does
}

// longer is how much longer a campaign may take before the blade is due.
const longer = 1.5

// wearOf tells the wear of the blade that is in the mill.
func wearOf(log *logbook, f *estimate.Fitted, m shop.Mill) (Wear, error) {
	trend := f.Drift(log.chapter)
	w := Wear{Ground: figure.Exact("ground_since", "ground since the blade was seen to", quantity.Mass, log.since, figure.Reckoned)}
	w.Chart = answer.Chart{Key: "wear", Title: "How the blade wears", XName: "ground since the blade was seen to", YName: "break rate over the first",
		XKind: quantity.Mass, YKind: quantity.Share, XUnit: quantity.Mass.SI(), YUnit: quantity.Share.SI()}
	past, ahead := answer.Curve{Key: "rate", Name: "so far"}, answer.Curve{Key: "forecast", Name: "if it goes on like this"}
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
	w.Now = figure.Figure{Key: "rate_now", Name: "break rate over that of the fresh blade", Kind: quantity.Share,
		Value: now.Rate, Low: now.Low, High: now.High, Basis: figure.Reckoned}
	if trend.Told {
		w.Now = w.Now.LearnedFrom(len(log.runs))
	}
	var err error
	if w.Longer, err = slowShare(log, f, m); err != nil {
		return w, err
	}
	w.Chart.Lines = []answer.Line{{Key: "due", Name: "a campaign takes half as long again", Value: w.Longer}}
	w.judge(trend, f)
	w.Chart.Summary = w.Verdict
	return w, nil
}

// farAhead is the forecast beyond which nothing is said [kg]. Judgement.
const farAhead = 500

// judge says when the blade will be due.
func (w *Wear) judge(trend estimate.Drift, f *estimate.Fitted) {
	low, mid, high := f.Until(w.Longer)
	switch {
	case !trend.Told:
		w.Verdict = "The records do not yet say whether the blade wears."
	case mid > farAhead:
		w.Verdict = fmt.Sprintf("After %s no wear shows that would matter within %s.", w.Ground.Shown(), quantity.Mass.Rough(farAhead))
	default:
		left := figure.Figure{Key: "until_due", Name: "until a campaign takes half as long again", Kind: quantity.Mass,
			Value: mid, Low: low, High: math.Min(high, farAhead), Basis: figure.Reckoned}
		left.High = math.Max(left.High, mid)
		w.Left = &left
		w.Verdict = fmt.Sprintf("The break rate changes by %s a kilogram; if it goes on, a campaign takes half as long again after about %s more (%s at the earliest).",
			quantity.Share.Rough(math.Expm1(trend.Slope)), quantity.Mass.Rough(mid), quantity.Mass.Rough(low))
	}
}

// slowShare is the share of the break rate at which the usual charge takes half
// as long again to pass its usual share.
func slowShare(log *logbook, f *estimate.Fitted, m shop.Mill) (float64, error) {
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
