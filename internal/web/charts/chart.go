package charts

import (
	"math"
	"slices"
	"strconv"

	"hopperful/answer"
	"hopperful/internal/say"
	"hopperful/process/sieve"
	"hopperful/quantity"
)

// View is a chart in workshop units: drawn by assets/chart.js from the
// JSON in the page, and told as a table beside it.
type View struct {
	Key     string          `json:"key"`
	Title   string          `json:"title"`
	Summary string          `json:"summary"`
	X       Axis            `json:"x"`
	Y       Axis            `json:"y"`
	Curves  []Curve         `json:"curves"`
	Lines   []Line          `json:"lines"`
	Zero    bool            `json:"zero"` // the y axis starts at nothing
	Bars    bool            `json:"bars"` // the curves are steps of a histogram
	Points  []answer.Points `json:"points"`
	XTicks  []answer.Tick   `json:"xticks,omitempty"` // in place of the axis's own
	YTicks  []answer.Tick   `json:"yticks,omitempty"`
	Comma   bool            `json:"comma"`
	File    string          `json:"-"` // address of its numbers as CSV; "" for none
	say     *say.Printer
}

// Axis names an axis with its unit.
type Axis struct {
	Name  string    `json:"name"`
	Unit  string    `json:"unit"`
	Log   bool      `json:"log"`
	Ticks []float64 `json:"ticks,omitempty"`
	kind  quantity.Kind
}

// Curve is a median with its band.
type Curve struct {
	Key  string    `json:"key"`
	Name string    `json:"name"`
	Dots bool      `json:"dots"` // measured points, drawn as open circles
	X    []float64 `json:"x"`
	Low  []float64 `json:"low"`
	Mid  []float64 `json:"mid"`
	High []float64 `json:"high"`
}

// Line is a limit.
type Line struct {
	Name  string  `json:"name"`
	Value float64 `json:"value"`
}

// Label is the axis in words: "time [min]".
func (a Axis) Label() string {
	if a.Unit == "" {
		return a.Name
	}
	return a.Name + " [" + a.Unit + "]"
}

// All lays charts out in the words of p.
func All(p *say.Printer, charts []answer.Chart) []View {
	var views []View
	for _, c := range charts {
		views = append(views, Of(p, c))
	}
	return views
}

// Of lays one chart out in the words of p.
func Of(p *say.Printer, c answer.Chart) View {
	c = p.Chart(c)
	v := View{Key: c.Key, Title: c.Title, Summary: c.Summary, say: p, Comma: p.Comma(), Curves: []Curve{}, Lines: []Line{}, Points: []answer.Points{}, Bars: c.Key == "density"}
	var xs, ys []float64
	for _, k := range c.Curves {
		xs, ys = append(xs, k.X...), append(ys, k.High...)
	}
	v.X = Axis{Name: c.XName, Unit: axisUnit(c.XKind, largest(xs)), Log: c.LogX, kind: c.XKind}
	v.Y = Axis{Name: c.YName, Unit: axisUnit(c.YKind, largest(ys)), kind: c.YKind}
	v.Zero = c.YKind != quantity.Temperature && len(c.XTicks) == 0 // 0 °C is not nothing, nor is 0 on a plotting paper
	for _, p := range c.Points {
		v.Points = append(v.Points, answer.Points{Key: p.Key, Name: p.Name, X: v.X.all(p.X), Y: v.Y.all(p.Y)})
	}
	v.XTicks, v.YTicks = ticksIn(p, c.XTicks), ticksIn(p, c.YTicks)
	for _, k := range c.Curves {
		v.Curves = append(v.Curves, Curve{Key: k.Key, Name: k.Name, X: v.X.all(k.X), Low: v.Y.all(k.Low), Mid: v.Y.all(k.Mid), High: v.Y.all(k.High)})
	}
	for _, l := range c.Lines {
		v.Lines = append(v.Lines, Line{l.Name, v.Y.one(l.Value)})
	}
	if c.LogX {
		v.X.Ticks = sieveTicks(xs, v.X)
	}
	return v
}

// ticksIn are a plotting paper's marks with the shop's decimal sign.
func ticksIn(p *say.Printer, all []answer.Tick) []answer.Tick {
	var out []answer.Tick
	for _, t := range all {
		out = append(out, answer.Tick{At: t.At, Label: p.Number(t.Label)})
	}
	return out
}

func largest(values []float64) float64 {
	most := 0.0
	for _, v := range values {
		most = math.Max(most, math.Abs(v))
	}
	return most
}

// axisUnit picks the unit that keeps an axis's numbers short.
func axisUnit(k quantity.Kind, most float64) string {
	const hour, minute, kilo = 3600, 60, 1
	switch {
	case k == quantity.Duration && most >= 4*hour:
		return "h"
	case k == quantity.Duration && most >= 3*minute:
		return "min"
	case k == quantity.Duration:
		return "s"
	case k == quantity.Mass && most >= kilo:
		return "kg"
	}
	return k.Default()
}

// one turns an SI value into the axis's unit. A unit of the kind's own list
// always fits; what does not stays SI rather than being lost.
func (a Axis) one(si float64) float64 {
	if a.Unit == "" {
		return si
	}
	v, err := a.kind.In(si, a.Unit)
	if err != nil {
		return si
	}
	return v
}

func (a Axis) all(si []float64) []float64 {
	out := make([]float64, len(si))
	for i, v := range si {
		// Six digits are more than the screen shows and halve the page.
		out[i], _ = strconv.ParseFloat(strconv.FormatFloat(a.one(v), 'g', 6, 64), 64)
	}
	return out
}

// mostTicks keeps the names of sieve openings from running into one another.
const mostTicks = 9

// sieveTicks are the openings of the standard sieves within the axis's range,
// every second or third one if there are many.
func sieveTicks(xs []float64, a Axis) []float64 {
	lo, hi := math.Inf(1), 0.0
	for _, x := range xs {
		if x > 0 {
			lo, hi = math.Min(lo, x), math.Max(hi, x)
		}
	}
	var within []float64
	for _, o := range sieveOpenings() {
		if o >= lo && o <= hi {
			within = append(within, a.one(o))
		}
	}
	step := (len(within) + mostTicks - 1) / mostTicks
	var ticks []float64
	for i := 0; i < len(within); i += max(1, step) {
		ticks = append(ticks, within[i])
	}
	return ticks
}

// tableRows is how many rows a chart's table shows; the file has them all.
const tableRows = 24

// tableRow is one point of a curve.
type tableRow struct{ X, Low, Mid, High string }

// Exact reports whether a curve is one line without a band.
func (c Curve) Exact() bool { return slices.Equal(c.Low, c.Mid) && slices.Equal(c.High, c.Mid) }

// Tabled are the curves the table shows, and the points no curve goes through.
// A plotting paper has none: its numbers are logarithms.
func (v View) Tabled() []Curve {
	if len(v.XTicks) > 0 {
		return nil
	}
	all := slices.Clone(v.Curves)
	for _, p := range v.Points {
		if !slices.ContainsFunc(v.Curves, func(c Curve) bool { return c.Key == p.Key }) {
			all = append(all, Curve{Key: p.Key, Name: p.Name, X: p.X, Low: p.Y, Mid: p.Y, High: p.Y})
		}
	}
	return all
}

// Rows are a curve's numbers for the table, thinned evenly.
func (v View) Rows(c Curve) []tableRow {
	n := len(c.X)
	step := max(1, (n+tableRows-1)/tableRows)
	var rows []tableRow
	for i := 0; i < n; i += step {
		rows = append(rows, v.row(c, i))
	}
	if n > 0 && (n-1)%step != 0 {
		rows = append(rows, v.row(c, n-1))
	}
	return rows
}

func (v View) row(c Curve, i int) tableRow {
	return tableRow{v.short(c.X[i]), v.short(c.Low[i]), v.short(c.Mid[i]), v.short(c.High[i])}
}

// short writes a number with three digits.
func (v View) short(x float64) string {
	n, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 3, 64), 64)
	return v.say.Number(strconv.FormatFloat(n, 'f', -1, 64))
}

// sieveOpenings are the openings of the principal series of test sieves, finest
// first [m].
func sieveOpenings() []float64 {
	all := sieve.Openings(sieve.R20x3)
	openings := make([]float64, 0, len(all))
	for i := len(all) - 1; i >= 0; i-- {
		openings = append(openings, all[i].Opening)
	}
	return openings
}

// Drawn reports whether a chart has anything to draw.
func (v View) Drawn() bool {
	for _, c := range v.Curves {
		if len(c.X) > 1 {
			return true
		}
	}
	return len(v.Points) > 0
}
