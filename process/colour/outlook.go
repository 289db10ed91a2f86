package colour

// What unsorted scrap will look like, with its range.

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"hopperful/process"
)

// Scrap is one colour in a heap.
type Scrap struct {
	Colour  Curve   // what it looks like [–], 0 to 1 in each band
	Scatter float64 // how strongly it scatters against the others [–], 1e-3 to 1e3; 1 where nothing is known
	Share   float64 // its share by mass as estimated [–], 0 to 1
	Doubt   float64 // standard deviation of the logarithm of Scatter [–], 0 to 2; 0 draws it as it stands
}

// Heap is unsorted scrap.
type Heap struct {
	Parts   []Scrap
	Surface Surface
	// Counted says how sure the shares are [–], 1 to 1e6: as if so many pieces had
	// been drawn and counted. 10 is a look, 100 a careful count.
	Counted float64
	Draws   int // how many heaps are drawn, 20 to 100000
}

// Look is a colour as it is shown.
type Look struct {
	Curve  Curve // [–]
	Lab    Lab   // two degrees, D65
	Screen RGB   // see RGB.Shown
	Name   string
}

// NamedShare is how often the drawn heaps had a name.
type NamedShare struct {
	Name  string
	Share float64 // of the draws [–], 0 to 1
}

// Band is where four of five draws lie.
type Band struct {
	Low    float64 // a tenth lies below [–]
	Median float64 // [–]
	High   float64 // a tenth lies above [–]
}

// Outlook is what a heap will look like.
type Outlook struct {
	Mixed   Look // melted into one, with the shares as estimated
	Unmixed Look // side by side, with the shares as estimated
	// Apart is the colour difference between the two ends [–].
	Apart float64
	// Spread is the colour difference from Mixed within which nine of ten drawn
	// heaps lie, melted into one [–].
	Spread    float64
	Lightness Band         // L* of the drawn heaps, melted into one
	Chroma    Band         // their chroma
	Names     []NamedShare // their names, the most frequent first
}

// LookOf says how a curve looks.
//
//	c  the curve [–], 0 to 1 in each band
//
// Equation: LabOf for two degrees, ScreenOf and Name.
// Holds for: as these.
// Source: own derivation.
// Errors: RangeError for a curve out of range.
// Checks: Outlook rows of checks.csv (own derivation).
func LookOf(c Curve) (Look, error) {
	lab, err := LabOf(c, TwoDegrees)
	if err != nil {
		return Look{}, err
	}
	rgb, err := ScreenOf(c)
	if err != nil {
		return Look{}, err
	}
	name, err := Name(lab)
	return Look{c, lab, rgb, name}, err
}

// Forecast says what unsorted scrap will look like when it is ground, melted
// and printed.
//
//	h    the heap, see its fields; shares together 1
//	luck the source of chance; the same seed gives the same answer
//
// Equation: shares drawn from a Dirichlet distribution with the weights Counted × share, the scattering of each part log-normal with its Doubt; each heap by Mixed.
// Holds for: shares that are uncertain and colours that are known; a print lies between the ends, nearer to Mixed the better the screw mixes.
// Source: own derivation.
// Errors: RangeError for a heap out of range.
// Checks: Outlook rows of checks.csv (own derivation); the spread of the shares by a test.
func Forecast(h Heap, luck *rand.Rand) (Outlook, error) {
	var o Outlook
	bodies, curves, shares, err := h.prepare()
	if err != nil {
		return o, err
	}
	well, err := Mixed(bodies, shares, h.Surface)
	if err != nil {
		return o, err
	}
	if o.Mixed, err = LookOf(well); err != nil {
		return o, err
	}
	side, err := Unmixed(curves, shares)
	if err != nil {
		return o, err
	}
	if o.Unmixed, err = LookOf(side); err != nil {
		return o, err
	}
	o.Apart = difference(o.Mixed.Lab, o.Unmixed.Lab)
	labs, err := h.draw(bodies, shares, luck)
	if err != nil {
		return o, err
	}
	return o, o.fill(labs)
}

// DrawLabs returns the colours unsorted scrap may have when it is melted into
// one, each as likely as the other [–]; two degrees, D65.
//
//	h    the heap, see its fields; shares together 1
//	luck the source of chance; the same seed gives the same colours
//
// Equation: that of Forecast.
// Holds for: as Forecast.
// Source: own derivation.
// Errors: RangeError for a heap out of range.
// Checks: Outlook rows of checks.csv (own derivation).
func DrawLabs(h Heap, luck *rand.Rand) ([]Lab, error) {
	bodies, curves, shares, err := h.prepare()
	if err != nil {
		return nil, err
	}
	if err := checkShares(shares, len(curves)); err != nil {
		return nil, err
	}
	return h.draw(bodies, shares, luck)
}

func (h Heap) draw(bodies []Body, shares []float64, luck *rand.Rand) ([]Lab, error) {
	labs := make([]Lab, h.Draws)
	drawn, strong := make([]float64, len(shares)), slices.Clone(bodies)
	for i := range labs {
		drawShares(drawn, shares, h.Counted, luck)
		for j, p := range h.Parts {
			if p.Doubt > 0 {
				strong[j] = bodies[j].times(math.Exp(p.Doubt * luck.NormFloat64()))
			}
		}
		var err error
		if labs[i], err = LabOf(mixed(strong, drawn, h.Surface), TwoDegrees); err != nil {
			return nil, err
		}
	}
	return labs, nil
}

// fill tells the range of what was drawn.
func (o *Outlook) fill(labs []Lab) error {
	off := make([]float64, len(labs))
	light, chroma := make([]float64, len(labs)), make([]float64, len(labs))
	names := map[string]int{}
	for i, lab := range labs {
		name, err := Name(lab)
		if err != nil {
			return err
		}
		names[name]++
		off[i], light[i], chroma[i] = difference(o.Mixed.Lab, lab), lab.L, lab.Chroma()
	}
	o.Spread = quantile(off, 0.9)
	o.Lightness, o.Chroma = band(light), band(chroma)
	for name, n := range names {
		o.Names = append(o.Names, NamedShare{name, float64(n) / float64(len(labs))})
	}
	slices.SortFunc(o.Names, func(a, b NamedShare) int {
		switch {
		case a.Share > b.Share:
			return -1
		case a.Share < b.Share:
			return 1
		case a.Name < b.Name:
			return -1
		}
		return 1
	})
	return nil
}

func (h Heap) prepare() (bodies []Body, curves []Curve, shares []float64, err error) {
	if err := process.Within("pieces counted", h.Counted, 1, 1e6, "", judged); err != nil {
		return nil, nil, nil, err
	}
	if err := process.Within("draws", float64(h.Draws), 20, 1e5, "", judged); err != nil {
		return nil, nil, nil, err
	}
	for _, p := range h.Parts {
		if err := process.Within("doubt of the scattering", p.Doubt, 0, 2, "", judged); err != nil {
			return nil, nil, nil, err
		}
		b, err := BodyOf(p.Colour, p.Scatter, h.Surface)
		if err != nil {
			return nil, nil, nil, err
		}
		bodies, curves, shares = append(bodies, b), append(curves, p.Colour), append(shares, p.Share)
	}
	return bodies, curves, shares, nil
}

// times is a body that absorbs and scatters so many times as strongly.
func (b Body) times(strength float64) Body {
	for i := range b.K {
		b.K[i] *= strength
		b.S[i] *= strength
	}
	return b
}

// drawShares draws shares around the estimated ones; a part that is not there
// stays away.
func drawShares(out, shares []float64, counted float64, luck *rand.Rand) {
	sum := 0.0
	for i, c := range shares {
		out[i] = 0
		if c > 0 {
			out[i] = distuv.Gamma{Alpha: counted * c, Beta: 1, Src: luck}.Rand()
		}
		sum += out[i]
	}
	if !(sum > 0) { // all draws so small that they count as nothing
		copy(out, shares)
		return
	}
	for i := range out {
		out[i] /= sum
	}
}

// quantile sorts the draws and takes one; ties and ends as they fall.
func quantile(v []float64, share float64) float64 {
	slices.Sort(v)
	return v[min(len(v)-1, int(share*float64(len(v))))]
}

func band(v []float64) Band { return Band{quantile(v, 0.1), quantile(v, 0.5), quantile(v, 0.9)} }
