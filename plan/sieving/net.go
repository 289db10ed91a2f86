package sieving

import (
	"fmt"
	"math"

	"hopperful/answer"
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
func onNet(p Points) Points {
	out := Points{Key: p.Key, Name: p.Name}
	for i, q := range p.Y {
		if q > 0 && q < 1 {
			out.X, out.Y = append(out.X, math.Log10(p.X[i])), append(out.Y, netY(q))
		}
	}
	return out
}

// net draws the RRSB net, if there is a line to draw on it.
func (f *sifting) net(others []Points) (Chart, bool) {
	x, q := rising(f.a)
	here := onNet(Points{"measured", orThis(string(f.stack.Lot)), x, q})
	if len(here.X) < 2 {
		return Chart{}, false
	}
	c := Chart{Chart: answer.Chart{Key: "rrsb_net", Title: "On the RRSB net", XName: "grain size", YName: "share that passes",
		XKind: quantity.Number, YKind: quantity.Number, Curves: []answer.Curve{}}, Points: []Points{here}}
	for _, o := range others {
		if p := onNet(o); len(p.X) > 0 {
			c.Points = append(c.Points, p)
		}
	}
	c.Summary = "A straight line here is an RRSB distribution."
	for _, fit := range f.out.Fits {
		if fit.Law != names[sieve.LawRRSB].law {
			continue
		}
		key, name := "fit", "least squares"
		if fit.Method == string(sieve.Linearised) {
			key, name = "line", "straight line"
		} else {
			c.Summary = fmt.Sprintf("A straight line here is an RRSB distribution; the fitted one crosses 63 %% at %s with slope %.2f and misses the shares by %s.",
				quantity.Length.Rough(fit.Scale.Value), fit.Shape.Value, quantity.Share.Rough(fit.Miss.Value))
		}
		ends := []float64{here.X[0], here.X[len(here.X)-1]}
		at := func(lx float64) float64 { return fit.Shape.Value * (lx - math.Log10(fit.Scale.Value)) }
		c.Curves = append(c.Curves, exactly(key, name, ends, []float64{at(ends[0]), at(ends[1])}))
	}
	c.XTicks, c.YTicks = netTicks(c.Points)
	return c, true
}

// netTicks are the sizes 1-2-5 and the usual shares within what is drawn.
func netTicks(all []Points) (x, y []Tick) {
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
				x = append(x, Tick{at, quantity.Length.Plain(math.Pow(10, at))})
			}
		}
	}
	for _, q := range netShares {
		if at := netY(q); at >= loy-0.5 && at <= hiy+0.5 {
			y = append(y, Tick{at, quantity.Share.Plain(math.Round(q*1e4) / 1e4)})
		}
	}
	return x, y
}
