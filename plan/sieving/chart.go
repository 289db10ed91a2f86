package sieving

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hopperful/answer"
	"hopperful/process/sieve"
	"hopperful/quantity"
)

// Chart is a chart with the measurements as points, and, where its axes are
// those of a plotting paper, with ticks of their own.
type Chart struct {
	answer.Chart
	Points []Points `json:"points,omitempty"`  // measurements, drawn as open circles
	XTicks []Tick   `json:"x_ticks,omitempty"` // in place of the axis's own
	YTicks []Tick   `json:"y_ticks,omitempty"`
}

// Points are measurements of one thing.
type Points struct {
	Key  string    `json:"key"`
	Name string    `json:"name"`
	X    []float64 `json:"x"`
	Y    []float64 `json:"y"`
}

// Tick is a mark of an axis in transformed coordinates, with what it means.
type Tick struct {
	At    float64 `json:"at"`
	Label string  `json:"label"`
}

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
func (f *sifting) cumulative() (Chart, []Points, error) {
	x, q := rising(f.a)
	name := orThis(string(f.stack.Lot))
	c := Chart{Chart: answer.Chart{Key: "passing", Title: "How fine it is", XName: "sieve opening", YName: "share that passes",
		XKind: quantity.Length, YKind: quantity.Share, LogX: true, XUnit: quantity.Length.SI(), YUnit: quantity.Share.SI()}}
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
	said := ""
	forecast, why, err := f.forecast(x)
	switch {
	case err != nil:
		return c, nil, err
	case why != "":
		f.out.Notes = append(f.out.Notes, why)
	case forecast != nil:
		c.Curves = append(c.Curves, *forecast)
		said = " " + against(measured, *forecast)
	}
	c.Curves = append(c.Curves, measured)
	if f.out.Verdict != nil && f.out.Verdict.Word != "does not fit" {
		law, err := f.lawCurve(x)
		if err != nil {
			return c, nil, err
		}
		c.Curves = append(c.Curves, law)
	}
	c.Points = []Points{{"measured", name, x, q}}
	others, err := f.others()
	if err != nil {
		return c, nil, err
	}
	for _, o := range others {
		c.Curves = append(c.Curves, exactly(o.Key, o.Name, o.X, o.Y))
		c.Points = append(c.Points, o)
	}
	c.Summary = fmt.Sprintf("From %s passing %s to %s passing %s.%s", quantity.Share.Rough(q[0]), quantity.Length.Plain(x[0]),
		quantity.Share.Rough(q[len(q)-1]), quantity.Length.Plain(x[len(x)-1]), said)
	return c, others, nil
}

// lawCurve is the best law over the sieves' sizes.
func (f *sifting) lawCurve(at []float64) (answer.Curve, error) {
	const steps = 40
	lo, hi := at[0]/math.Sqrt2, at[len(at)-1]
	var x, q []float64
	for k := range steps + 1 {
		size := lo * math.Pow(hi/lo, float64(k)/steps)
		share, err := f.best.Distribution.Cumulative(size)
		if err != nil {
			return answer.Curve{}, refusal(err)
		}
		x, q = append(x, size), append(q, share)
	}
	return exactly("fit", names[f.best.Law].law, x, q), nil
}

// against says how the measured curve lies to the forecast.
func against(measured, forecast answer.Curve) string {
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
		return "It lies within the forecast's band at every sieve."
	case finer == 0:
		return fmt.Sprintf("At %d of %d sieves it is coarser than the forecast's band.", coarser, n)
	case coarser == 0:
		return fmt.Sprintf("At %d of %d sieves it is finer than the forecast's band.", finer, n)
	}
	return fmt.Sprintf("At %d of %d sieves it lies outside the forecast's band.", coarser+finer, n)
}

// others are the newest analyses of the lots to lay over it.
func (f *sifting) others() ([]Points, error) {
	var all []Points
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
		all = append(all, Points{"lot_" + strings.ToLower(string(id)), string(id), x, q})
	}
	return all, nil
}

// histogram is the density over the logarithm of size: how much of the mass lies
// within a doubling of size. The pan and what stays on the top sieve have no
// width and are told in words.
func (f *sifting) histogram() Chart {
	x, q := rising(f.a)
	c := Chart{Chart: answer.Chart{Key: "density", Title: "Where the mass is", XName: "grain size", YName: "share of the mass per doubling of size",
		XKind: quantity.Length, YKind: quantity.Share, LogX: true, XUnit: quantity.Length.SI(), YUnit: quantity.Share.SI()}}
	var edges, heights []float64
	top, where := 0.0, ""
	for i := 1; i < len(x); i++ {
		h := (q[i] - q[i-1]) / math.Log2(x[i]/x[i-1])
		edges, heights = append(edges, x[i-1], x[i]), append(heights, h, h)
		if h > top {
			top, where = h, fmt.Sprintf("%s to %s", quantity.Length.Plain(x[i-1]), quantity.Length.Plain(x[i]))
		}
	}
	c.Curves = []answer.Curve{exactly("measured", orThis(string(f.stack.Lot)), edges, heights)}
	c.Summary = fmt.Sprintf("Not drawn: %s in the pan, %s above the top sieve.", quantity.Share.Rough(q[0]), quantity.Share.Rough(1-q[len(q)-1]))
	if where != "" {
		c.Summary = fmt.Sprintf("Most mass for its width lies between %s. %s", where, c.Summary)
	}
	return c
}
