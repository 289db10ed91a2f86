package upkeep

import (
	"math"
	"strconv"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/upkeep"
	"hopperful/quantity"
	"hopperful/shop"
)

// Lives are the lives of parts kept elsewhere: in one unit of the user's own.
type Lives struct {
	Failed, Running []float64
}

// mostLives bounds a list of lives; far above any workshop's.
const mostLives = 100_000

// OfLives says how long parts last whose lives somebody kept: by the likeliest Weibull
// and log-normal laws, and how long the next one may last.
func OfLives(l Lives) (answer.Document, error) {
	if n := len(l.Failed) + len(l.Running); n > mostLives || len(l.Failed) < 2 {
		return answer.Document{}, shop.Refuse(shop.Invalid, "lives", fact.Say("upkeep.few_lives", fact.Count("n", len(l.Failed))), fact.Say("upkeep.two_lives"))
	}
	w, err := upkeep.FitWeibull(upkeep.Lives(l))
	if err != nil {
		return answer.Document{}, shop.Refuse(shop.Invalid, "lives", fact.Say("upkeep.alike"), fact.Say("upkeep.two_lives"))
	}
	n, err := upkeep.FitLogNormal(upkeep.Lives(l))
	if err != nil {
		return answer.Document{}, err
	}
	var windows []upkeep.Window
	for _, t := range l.Failed {
		windows = append(windows, upkeep.Window{From: t, To: t})
	}
	for _, t := range l.Running {
		windows = append(windows, upkeep.Window{From: t, To: math.Inf(1)})
	}
	b, err := upkeep.Believe(upkeep.Prior{Shape: 1.5, ShapeSpread: 0.8, Scale: w.Scale, ScaleSpread: 1.5}, windows)
	if err != nil {
		return answer.Document{}, err
	}
	number := func(key, name string, v, low, high float64) figure.Figure {
		return figure.Figure{Key: key, Name: name, Kind: quantity.Number, Value: v, Low: min(v, low), High: max(v, high), Basis: figure.Learned, Runs: len(l.Failed)}
	}
	var lows, highs [2]float64
	if lows[0], lows[1], err = b.Law(0.1); err != nil {
		return answer.Document{}, err
	}
	if highs[0], highs[1], err = b.Law(0.9); err != nil {
		return answer.Document{}, err
	}
	q, err := b.Remaining(0, 0.1, 0.5, 0.9)
	if err != nil {
		return answer.Document{}, err
	}
	shape := number("shape", "upkeep.shape", w.Shape, lows[0], highs[0]).Cite("MeekerEscobar1998", "from memory")
	scale := number("scale", "upkeep.scale", w.Scale, lows[1], highs[1]).Cite("MeekerEscobar1998", "from memory")
	next := number("next_life", "upkeep.next_life", q[1], q[0], q[2]).From("S = exp(−(t/η)^β)", shape, scale)
	d := answer.Document{Head: answer.Found(fact.Say("upkeep.lives_head", fact.Figure("life", next), fact.Count("failed", len(l.Failed)), fact.Count("running", len(l.Running)))),
		Figures: []figure.Figure{shape, scale, next}}
	if len(l.Failed) < 10 {
		d.Spoilers = append(d.Spoilers, answer.Found(fact.Say("upkeep.few_failed", fact.Count("n", len(l.Failed)))))
	}
	median := figure.Exact("median", "upkeep.median", quantity.Number, n.Median, figure.Learned)
	sigma := figure.Exact("sigma", "upkeep.sigma", quantity.Number, n.Sigma, figure.Learned)
	better := figure.Exact("difference", "upkeep.difference", quantity.Number, w.LogLikelihood-n.LogLikelihood, figure.Reckoned).From("ln L_W − ln L_N", shape, scale, median, sigma)
	note := fact.Say("upkeep.weibull_nearer")
	if better.Value < 0 {
		note = fact.Say("upkeep.lognormal_nearer")
	}
	d.Reasons = append(d.Reasons, answer.Section{Key: "upkeep_laws", Notes: []fact.Saying{fact.Say("upkeep.likeliest", fact.Name("shape", digits(w.Shape)), fact.Name("scale", digits(w.Scale))), note}, Figures: []figure.Figure{median, sigma, better}})
	return d, nil
}

// digits is a value as tables of laws print it, to be held against them: more of it
// than is known.
func digits(v float64) string {
	decimals := max(0, 3-int(math.Floor(math.Log10(v))))
	return strconv.FormatFloat(v, 'f', decimals, 64)
}
