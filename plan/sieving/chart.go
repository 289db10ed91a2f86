package sieving

import (
	"math"
	"slices"
	"strings"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/process/sieve"
	"hopperful/quantity"
	"hopperful/shop"
)

// exactly is a curve without a band.
func exactly(key, name string, x, y []float64) answer.Curve {
	return answer.Curve{Key: key, Name: name, X: x, Low: y, Mid: y, High: y}
}

// charts draws the analysis.
func (f *sifting) charts() error {
	cumulative, others, err := f.cumulative()
	if err != nil {
		return err
	}
	f.out.Charts = append(f.out.Charts, cumulative)
	if len(f.a.Sieves) > 1 { // one sieve has no class between two
		f.out.Charts = append(f.out.Charts, f.histogram())
	}
	if net, ok := f.net(others); ok {
		f.out.Charts = append(f.out.Charts, net)
	}
	return nil
}

// rising are the sieves of an analysis from the finest, with their shares.
func rising(a sieve.Analysis) (x, q []float64) {
	for i := len(a.Sieves) - 1; i >= 0; i-- {
		x, q = append(x, a.Sieves[i].Opening), append(q, a.Passing[i])
	}
	return x, q
}

// cumulative is the passing curve on a logarithmic size axis, with the forecast
// of the run under it and other lots beside it.
func (f *sifting) cumulative() (answer.Chart, []answer.Points, error) {
	x, q := rising(f.a)
	name := orThis(f.stack.Lot)
	c := answer.Chart{Key: "passing", Title: "grains.chart", XName: "grains.chart_x", YName: "grains.chart_y",
		XKind: quantity.Length, YKind: quantity.Share, LogX: true, XUnit: quantity.Length.SI(), YUnit: quantity.Share.SI()}
	measured := answer.Curve{Key: "measured", Name: name, X: x, Mid: q}
	for i := range x {
		all := make([]float64, len(f.draws))
		for k, d := range f.draws {
			v, err := d.Cumulative(x[i])
			if err != nil {
				return c, nil, refusal(err)
			}
			all[k] = v
		}
		measured.Low = append(measured.Low, math.Min(q[i], answer.Quantile(all, 0.1)))
		measured.High = append(measured.High, math.Max(q[i], answer.Quantile(all, 0.9)))
	}
	said := fact.Name("against", "")
	forecast, why, err := f.forecast(x)
	switch {
	case err != nil:
		return c, nil, err
	case !why.Empty():
		f.notes = append(f.notes, why)
	case forecast != nil:
		c.Curves = append(c.Curves, *forecast)
		said = fact.Parts("against", against(measured, *forecast))
	}
	c.Curves = append(c.Curves, measured)
	if f.judged.Fits() {
		law, err := f.lawCurve(x)
		if err != nil {
			return c, nil, err
		}
		c.Curves = append(c.Curves, law)
	}
	c.Points = []answer.Points{{Key: "measured", Name: name, X: x, Y: q}}
	others, err := f.others()
	if err != nil {
		return c, nil, err
	}
	for _, o := range others {
		c.Curves = append(c.Curves, exactly(o.Key, o.Name, o.X, o.Y))
		c.Points = append(c.Points, o)
	}
	last := len(x) - 1
	c.Summary, c.Facts = "sieving.chart_passing", []fact.Fact{fact.About("low", quantity.Share, q[0]), fact.Set("fine", quantity.Length, x[0]),
		fact.About("high", quantity.Share, q[last]), fact.Set("coarse", quantity.Length, x[last]), said}
	return c, others, nil
}

// lawCurve is the best law over the sieves' sizes.
func (f *sifting) lawCurve(at []float64) (answer.Curve, error) {
	const steps = 40
	lo, hi := at[0]/math.Sqrt2, at[len(at)-1]
	var x, q []float64
	for k := range steps + 1 {
		size := lo * math.Pow(hi/lo, float64(k)/steps)
		share, err := f.judged.Best.Distribution.Cumulative(size)
		if err != nil {
			return answer.Curve{}, refusal(err)
		}
		x, q = append(x, size), append(q, share)
	}
	return exactly("fit", string(f.judged.Best.Law), x, q), nil
}

// against says how the measured curve lies to the forecast.
func against(measured, forecast answer.Curve) fact.Saying {
	coarser, finer := 0, 0
	for i, q := range measured.Mid {
		k := slices.Index(forecast.X, measured.X[i])
		switch {
		case k < 0:
		case q < forecast.Low[k]:
			coarser++
		case q > forecast.High[k]:
			finer++
		}
	}
	n := len(measured.Mid)
	switch {
	case coarser == 0 && finer == 0:
		return fact.Say("sieving.within_band")
	case finer == 0:
		return fact.Say("sieving.coarser_than_band", fact.Count("n", coarser), fact.Name("of", nth(n, 0)))
	case coarser == 0:
		return fact.Say("sieving.finer_than_band", fact.Count("n", finer), fact.Name("of", nth(n, 0)))
	}
	return fact.Say("sieving.outside_band", fact.Count("n", coarser+finer), fact.Name("of", nth(n, 0)))
}

// others are the newest analyses of the lots to lay over it.
func (f *sifting) others() ([]answer.Points, error) {
	var all []answer.Points
	for _, id := range f.opt.With {
		st, err := NewestStack(f.state, id)
		if err != nil {
			return nil, err
		}
		if st.Record == f.stack.Record && st.Record != 0 {
			continue
		}
		a, err := sieve.Weigh(st.Stack)
		if err != nil {
			return nil, refusal(err)
		}
		x, q := rising(a)
		all = append(all, answer.Points{Key: "lot_" + strings.ToLower(string(id)), Name: string(id), X: x, Y: q})
	}
	return all, nil
}

// histogram is the density over the logarithm of size: how much of the mass lies
// within a doubling of size. The pan and what stays on the top sieve have no
// width and are told in words.
func (f *sifting) histogram() answer.Chart {
	x, q := rising(f.a)
	c := answer.Chart{Key: "density", Title: "sieving.chart_density", Summary: "sieving.density_summary", XName: "sieving.grain_size", YName: "sieving.mass_per_doubling",
		XKind: quantity.Length, YKind: quantity.Share, LogX: true, XUnit: quantity.Length.SI(), YUnit: quantity.Share.SI()}
	var edges, heights []float64
	top, from, to := 0.0, fact.Name("from", ""), fact.Name("to", "")
	for i := 1; i < len(x); i++ {
		h := (q[i] - q[i-1]) / math.Log2(x[i]/x[i-1])
		edges, heights = append(edges, x[i-1], x[i]), append(heights, h, h)
		if h > top {
			top, from, to = h, fact.Set("from", quantity.Length, x[i-1]), fact.Set("to", quantity.Length, x[i])
		}
	}
	c.Curves = []answer.Curve{exactly("measured", orThis(f.stack.Lot), edges, heights)}
	c.Facts = []fact.Fact{from, to, fact.About("pan", quantity.Share, q[0]), fact.About("top", quantity.Share, 1-q[len(q)-1])}
	return c
}

// orThis names a curve by its lot.
func orThis(lot shop.LotID) string {
	if lot == "" {
		return "sieving.this_sample"
	}
	return string(lot)
}
