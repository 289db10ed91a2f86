package answer

import (
	"slices"

	"hopperful/fact"
	"hopperful/figure"
	"hopperful/quantity"
)

// Chart is a picture's numbers, drawn and tabled by the edges. Its titles and
// names are codes of the catalogue of words, filled with its facts, or names as
// people gave them.
type Chart struct {
	Key     string        `json:"key"`
	Title   string        `json:"title"`
	Summary string        `json:"summary"` // the picture in a sentence, for who cannot see it
	XName   string        `json:"x_name"`
	YName   string        `json:"y_name"`
	XKind   quantity.Kind `json:"-"`
	YKind   quantity.Kind `json:"-"`
	XUnit   string        `json:"x_unit"` // SI
	YUnit   string        `json:"y_unit"` // SI
	LogX    bool          `json:"log_x,omitempty"`
	Curves  []Curve       `json:"curves"`
	Lines   []Line        `json:"lines,omitempty"`   // limits and needs, drawn dashed with their name
	Points  []Points      `json:"points,omitempty"`  // measurements, drawn as open circles
	XTicks  []Tick        `json:"x_ticks,omitempty"` // in place of the axis's own
	YTicks  []Tick        `json:"y_ticks,omitempty"`
	Facts   []fact.Fact   `json:"-"`
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

// Curve is one quantity over X, as a band with its median.
type Curve struct {
	Key  string    `json:"key"` // "charge", "wall": the same colour everywhere
	Name string    `json:"name"`
	X    []float64 `json:"x"`
	Low  []float64 `json:"low"`  // 10 %
	Mid  []float64 `json:"mid"`  // median
	High []float64 `json:"high"` // 90 %
}

// Line is a horizontal limit in a chart.
type Line struct {
	Key   string  `json:"key"`
	Name  string  `json:"name"`
	Value float64 `json:"value"`
}

// Band turns draws at every moment, all[m][i], into a curve.
func Band(key, name string, x []float64, all [][]float64) Curve {
	c := Curve{Key: key, Name: name, X: x}
	for _, draws := range all {
		c.Low = append(c.Low, Quantile(draws, 0.1))
		c.Mid = append(c.Mid, Quantile(draws, 0.5))
		c.High = append(c.High, Quantile(draws, 0.9))
	}
	return c
}

// Moments makes room for n moments of m draws.
func Moments(n, m int) [][]float64 {
	flat := make([]float64, n*m)
	rows := make([][]float64, n)
	for i := range rows {
		rows[i] = flat[i*m : (i+1)*m]
	}
	return rows
}

// Quantile is the value below which a share of the draws lies.
func Quantile(draws []float64, share float64) float64 {
	return figure.Quantile(slices.Sorted(slices.Values(draws)), share)
}
