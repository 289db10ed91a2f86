package traceability

import (
	"slices"

	"hopperful/figure"
	"hopperful/process/colour"
	"hopperful/quantity"
)

// Doubt is how far the true colour of the melt may lie from the one reckoned.
func (d Drawn) Doubt() (figure.Figure, error) {
	far := make([]float64, 0, len(d.draws))
	for _, x := range d.draws {
		v, err := apartOf(x.mixed, d.mixed)
		if err != nil {
			return figure.Figure{}, err
		}
		far = append(far, v)
	}
	f, err := figure.FromDraws("colour_doubt", "colour.doubt", quantity.Number, far)
	return f.From("colour.how_doubt").Cite("Sharma2005", ""), err
}

// Apart is the colour difference between melted well and side by side.
func (d Drawn) Apart() (figure.Figure, error) {
	mid, err := apartOf(d.mixed, d.unmixed)
	if err != nil {
		return figure.Figure{}, err
	}
	far := make([]float64, 0, len(d.draws))
	for _, x := range d.draws {
		v, err := apartOf(x.mixed, x.unmixed)
		if err != nil {
			return figure.Figure{}, err
		}
		far = append(far, v)
	}
	for i := range far {
		far[i] = unlessRounding(far[i])
	}
	return ranged(figure.Exact("colour_apart", "colour.apart", quantity.Number, unlessRounding(mid), figure.Reckoned), far).
		From("CIEDE2000").Cite("Sharma2005", ""), nil
}

// From is how far both ends are from a colour.
func (d Drawn) From(wanted colour.Lab) (mixed, unmixed figure.Figure, err error) {
	off := func(key, name string, end colour.Curve, of func(drawnMix) colour.Curve) (figure.Figure, error) {
		mid, err := farFrom(end, wanted)
		if err != nil {
			return figure.Figure{}, err
		}
		far := make([]float64, len(d.draws))
		for i, x := range d.draws {
			if far[i], err = farFrom(of(x), wanted); err != nil {
				return figure.Figure{}, err
			}
		}
		return ranged(figure.Exact(key, name, quantity.Number, mid, figure.Reckoned), far).From("CIEDE2000").Cite("Sharma2005", ""), nil
	}
	if mixed, err = off("colour_mixed", "colour.off_melted", d.mixed, func(x drawnMix) colour.Curve { return x.mixed }); err != nil {
		return mixed, unmixed, err
	}
	unmixed, err = off("colour_unmixed", "colour.off_side", d.unmixed, func(x drawnMix) colour.Curve { return x.unmixed })
	return mixed, unmixed, err
}

// Within is the share of the draws whose melt lies within a colour difference of
// a colour.
func (d Drawn) Within(wanted colour.Lab, limit float64) (float64, error) {
	in := 0
	for _, x := range d.draws {
		v, err := farFrom(x.mixed, wanted)
		if err != nil {
			return 0, err
		}
		if v <= limit {
			in++
		}
	}
	return float64(in) / float64(len(d.draws)), nil
}

// unlessRounding is a colour difference, 0 where only the last digits differ.
func unlessRounding(far float64) float64 {
	if far < 1e-6 {
		return 0
	}
	return far
}

// ranged gives a figure the range of its draws; what was reckoned lies in it.
func ranged(f figure.Figure, draws []float64) figure.Figure {
	slices.Sort(draws)
	f.Low, f.High = min(f.Value, figure.Quantile(draws, 0.1)), max(f.Value, figure.Quantile(draws, 0.9))
	return f
}

// apartOf is the colour difference of two curves.
func apartOf(a, b colour.Curve) (float64, error) {
	lab, err := colour.LabOf(b, colour.TwoDegrees)
	if err != nil {
		return 0, err
	}
	return farFrom(a, lab)
}

// farFrom is the colour difference of a curve from a colour.
func farFrom(c colour.Curve, wanted colour.Lab) (float64, error) {
	lab, err := colour.LabOf(c, colour.TwoDegrees)
	if err != nil {
		return 0, err
	}
	return colour.Difference(lab, wanted)
}
