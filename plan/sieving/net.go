package sieving

import (
	"math"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/process/sieve"
	"hopperful/quantity"
)

// The RRSB net: over lg(size) the share is drawn as lg(ln(1/(1 − Q))), which
// makes the law a straight line with slope n that crosses 63.2 % at x'. Both
// coordinates are ready to draw on plain axes; the ticks say what they mean.

// netShares are the horizontal lines of the paper.
var netShares = []float64{0.001, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.3, 0.5, 1 - 1/math.E, 0.8, 0.9, 0.95, 0.99, 0.999}

func netY(q float64) float64 { return math.Log10(-math.Log1p(-q)) }

// onNet takes points onto the paper; shares of 0 and 1 lie beyond it.
func onNet(p answer.Points) answer.Points {
	out := answer.Points{Key: p.Key, Name: p.Name}
	for i, q := range p.Y {
		if q > 0 && q < 1 {
			out.X, out.Y = append(out.X, math.Log10(p.X[i])), append(out.Y, netY(q))
		}
	}
	return out
}

// net draws the RRSB net, if there is a line to draw on it.
func (f *sifting) net(others []answer.Points) (answer.Chart, bool) {
	x, q := rising(f.a)
	here := onNet(answer.Points{Key: "measured", Name: orThis(f.stack.Lot), X: x, Y: q})
	if len(here.X) < 2 {
		return answer.Chart{}, false
	}
	c := answer.Chart{Key: "rrsb_net", Title: "sieving.chart_net", Summary: "sieving.net_summary", XName: "sieving.grain_size", YName: "grains.chart_y",
		XKind: quantity.Number, YKind: quantity.Number, Curves: []answer.Curve{}, Points: []answer.Points{here}}
	for _, o := range others {
		if p := onNet(o); len(p.X) > 0 {
			c.Points = append(c.Points, p)
		}
	}
	for _, fit := range f.out.Fits {
		if fit.Law != sieve.LawRRSB {
			continue
		}
		key, name := "fit", "sieving.by_squares"
		if fit.Method == sieve.Linearised {
			key, name = "line", "sieving.by_line"
		} else {
			c.Summary = "sieving.net_fitted"
			c.Facts = []fact.Fact{fact.About("size", quantity.Length, fit.Scale.Value), fact.About("slope", quantity.Number, fit.Shape.Value), fact.About("miss", quantity.Share, fit.Miss.Value)}
		}
		ends := []float64{here.X[0], here.X[len(here.X)-1]}
		at := func(lx float64) float64 { return fit.Shape.Value * (lx - math.Log10(fit.Scale.Value)) }
		c.Curves = append(c.Curves, exactly(key, name, ends, []float64{at(ends[0]), at(ends[1])}))
	}
	c.XTicks, c.YTicks = netTicks(c.Points)
	return c, true
}

// netTicks are the sizes 1-2-5 and the usual shares within what is drawn.
func netTicks(all []answer.Points) (x, y []answer.Tick) {
	lox, hix, loy, hiy := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, p := range all {
		for i := range p.X {
			lox, hix = math.Min(lox, p.X[i]), math.Max(hix, p.X[i])
			loy, hiy = math.Min(loy, p.Y[i]), math.Max(hiy, p.Y[i])
		}
	}
	for power := math.Floor(lox) - 1; power <= hix+1; power++ {
		for _, step := range []float64{1, 2, 5} {
			at := power + math.Log10(step)
			if at >= lox-0.31 && at <= hix+0.31 { // one tick beyond each end
				x = append(x, answer.Tick{At: at, Label: quantity.Length.Plain(math.Pow(10, at))})
			}
		}
	}
	for _, q := range netShares {
		if at := netY(q); at >= loy-0.5 && at <= hiy+0.5 {
			y = append(y, answer.Tick{At: at, Label: quantity.Share.Plain(math.Round(q*1e4) / 1e4)})
		}
	}
	return x, y
}
