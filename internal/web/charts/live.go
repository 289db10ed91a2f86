package charts

import (
	"hopperful/answer"
	"hopperful/internal/say"
)

// Live is the curve that grows while the masses are typed; assets/stack.js
// fills it.
type Live struct{ Say *say.Printer }

// Chart is the empty picture.
func (l Live) Chart() View {
	p := l.Say
	return View{Key: "live", Title: p.Line("form.what_passes"), Summary: p.Line("form.curve_live"), say: p, Comma: p.Comma(), Zero: true, Lines: []Line{}, Points: []answer.Points{},
		Curves: []Curve{{Key: "product", Name: p.Line("form.this_sample"), Dots: true, X: []float64{}, Low: []float64{}, Mid: []float64{}, High: []float64{}}},
		X:      Axis{Name: p.Line("form.sieve_opening"), Unit: "mm", Log: true}, Y: Axis{Name: p.Line("form.share_that_passes"), Unit: "%"}}
}
