package traceability

import (
	"hash/fnv"
	"math"
	"math/rand/v2"

	"hopperful/process/colour"
	"hopperful/shop"
)

// colourDraws is how many colours a mix might have are drawn.
const colourDraws = 120

// Portion is what one lot gives to a mix that is asked about.
type Portion struct {
	Lot   *shop.Lot
	Share float64 // by mass [1]
}

// drawnMix is one way the colours of the parts and their strengths may truly be.
type drawnMix struct{ mixed, unmixed colour.Curve }

// Drawn is what a mix may look like: as reckoned, and as drawn from what nobody
// knows for sure: how far the colours of the parts are off, and how strongly
// each of them tints.
type Drawn struct {
	mixed, unmixed colour.Curve
	draws          []drawnMix
}

// Ends are both ends as reckoned.
func (d Drawn) Ends() (mixed, unmixed colour.Curve) { return d.mixed, d.unmixed }

// Drawn draws a mix of lots; false where the colour of a part is not known. The
// same lots give the same draws, in whatever order they are named.
func (w *Tinter) Drawn(portions []Portion) (Drawn, bool, error) {
	var parts []tintPart
	var body colour.Body
	var curves []colour.Curve
	var shares []float64
	sides := map[shop.LotID]float64{}
	for _, p := range portions {
		t, err := w.Of(p.Lot)
		if err != nil || t.Basis == ColourUnknown {
			return Drawn{}, false, err
		}
		for b := range body.K {
			body.K[b] += p.Share * t.Body.K[b]
			body.S[b] += p.Share * t.Body.S[b]
		}
		for _, x := range t.parts {
			parts = addPart(parts, tintPart{x.lot, x.share * p.Share})
		}
		curves, shares = append(curves, t.Unmixed), append(shares, p.Share)
		if t.grains { // its grains were looked at themselves
			sides[p.Lot.ID] += p.Share
			continue
		}
		for _, x := range t.parts {
			sides[x.lot] += x.share * p.Share
		}
	}
	return w.drawn(parts, sides, body, curves, shares)
}

func (w *Tinter) drawn(parts []tintPart, sides map[shop.LotID]float64, body colour.Body, curves []colour.Curve, shares []float64) (Drawn, bool, error) {
	var d Drawn
	var err error
	if d.mixed, err = colour.Mixed([]colour.Body{body}, []float64{1}, colour.PhotoSurface()); err != nil {
		return d, false, err
	}
	if d.unmixed, err = colour.Unmixed(curves, shares); err != nil {
		return d, false, err
	}
	d.draws = make([]drawnMix, colourDraws)
	melts := make([]colour.Body, colourDraws)
	for _, p := range parts {
		if err := w.drawPart(p, melts); err != nil {
			return d, false, err
		}
	}
	// Streaks and grains are drawn by how the parts are off; the middle stays.
	for id, share := range sides {
		own := w.own[id]
		if own == nil {
			continue
		}
		level, tilt := wobble(own.curve, own.errs())
		for i := range d.draws {
			c := own.off(id, i, level, tilt)
			for b := range c {
				d.draws[i].unmixed[b] += share * (c[b] - own.curve[b])
			}
		}
	}
	for i := range d.draws {
		if d.draws[i].mixed, err = colour.Mixed(melts[i:i+1], []float64{1}, colour.PhotoSurface()); err != nil {
			return d, false, err
		}
		for b := range d.unmixed {
			d.draws[i].unmixed[b] = min(1, max(0, d.unmixed[b]+d.draws[i].unmixed[b]))
		}
	}
	return d, true, nil
}

// drawPart adds a part to each drawn melt.
func (w *Tinter) drawPart(p tintPart, melts []colour.Body) error {
	own := w.own[p.lot]
	level, tilt := wobble(own.curve, own.errs())
	for i := range melts {
		body, err := bodyOf(own.off(p.lot, i, level, tilt), w.drawnScatter(w.s.Lots.At(p.lot), i))
		if err != nil {
			return err
		}
		for b := range body.K {
			melts[i].K[b] += p.share * body.K[b]
			melts[i].S[b] += p.share * body.S[b]
		}
	}
	return nil
}

// drawnScatter is how strongly a lot scatters in one draw.
func (w *Tinter) drawnScatter(l *shop.Lot, draw int) float64 {
	sum := 0.0
	for _, p := range w.origins(l) {
		sum += p.share * w.learned.drawn(p.lot, draw)
	}
	return sum
}

// drawn is the strength of a lot from outside in one draw.
func (s *scatters) drawn(id shop.LotID, draw int) float64 {
	i, ok := s.at[id]
	if !ok {
		return math.Exp(priorScatter * luckOf(id, draw).NormFloat64())
	}
	luck := luckOf("", draw) // one for all lots: they were learned together
	z := make([]float64, len(s.runs))
	for k := range z {
		z[k] = luck.NormFloat64()
	}
	return math.Exp(min(mostScatter, max(-mostScatter, s.mean[i]+dot(s.spread.RawRowView(i), z))))
}

// luckOf is the chance of one lot in one draw, so that a lot is off alike
// wherever it goes.
func luckOf(id shop.LotID, draw int) *rand.Rand {
	sum := fnv.New64a()
	sum.Write([]byte(id))
	return rand.New(rand.NewPCG(sum.Sum64(), uint64(draw)))
}

// off is the curve as it may truly be: lighter or darker throughout, and warmer
// or cooler, as a wrong exposure and a coloured light make it.
func (o *ownTint) off(id shop.LotID, draw int, level, tilt float64) colour.Curve {
	luck := luckOf(id+"~", draw)
	a, b := level*luck.NormFloat64(), tilt*luck.NormFloat64()
	return shifted(o.curve, a, b)
}

// shifted is a curve with its light multiplied, unevenly from violet to red.
func shifted(c colour.Curve, level, tilt float64) colour.Curve {
	for i, r := range c {
		t := 2*float64(i)/(colour.Bands-1) - 1
		c[i] = min(lightest, max(darkest, r*math.Exp(min(2, max(-2, level+tilt*t)))))
	}
	return c
}

// wobble is how far level and tilt move a curve by half of an error each, so that
// together they make the colour difference errs, as a root mean square.
func wobble(c colour.Curve, errs float64) (level, tilt float64) {
	at, err := colour.LabOf(c, colour.TwoDegrees)
	if err != nil {
		return 0, 0
	}
	const try = 0.1
	by := func(level, tilt float64) float64 {
		lab, err := colour.LabOf(shifted(c, level, tilt), colour.TwoDegrees)
		if err != nil {
			return 0
		}
		far, err := colour.Difference(at, lab)
		if err != nil || far < 1e-6 {
			return 0
		}
		return min(1, try*errs/math.Sqrt2/far)
	}
	return by(-try, 0), by(0, try)
}
