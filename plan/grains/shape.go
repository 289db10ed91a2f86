package grains

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"hopperful/plan/sieving"
	"hopperful/process/grain"
	"hopperful/process/sieve"
	"hopperful/shop"
)

func byWidth(all []grain.Weighed) []grain.Weighed {
	sorted := slices.Clone(all)
	slices.SortStableFunc(sorted, func(a, b grain.Weighed) int { return cmp.Compare(a.Width, b.Width) })
	return sorted
}

// leastShapeSpread is what stays open of the shape where the wall is known: the
// section may be a rectangle or rounder. Judgement.
const leastShapeSpread = 0.06

// shapeOf is what is believed of the holes grains of a width fall through: from
// books, narrowed by the wall of the prints, learned from the shop's lots that were
// both sieved and photographed. It says how many those were.
func shapeOf(s *shop.State, plastic grain.Plastic, width float64) (grain.Shape, int, error) {
	prior := grain.PriorShape()
	if plastic.Wall > 0 && width > 0 {
		thick := math.Min(plastic.Wall, width)
		flat, err := grain.HoleRectangular(width, thick)
		round, err2 := grain.HoleElliptic(width, thick)
		if err := errors.Join(err, err2); err != nil {
			return prior, 0, err
		}
		prior = grain.Shape{Median: math.Sqrt(flat*round) / width, Spread: math.Max(leastShapeSpread, math.Log(flat/round)/2)}
	}
	var ratios []float64
	for _, id := range s.Order {
		if r, ok := sievedOverPhotographed(s, id); ok {
			ratios = append(ratios, r)
		}
	}
	learned, err := grain.LearnShape(prior, ratios)
	return learned, len(ratios), err
}

// sievedOverPhotographed compares the newest of both analyses of a lot: d50 on the
// sieves over width at half the mass in the pictures. A pair that can hardly be of
// one material teaches nothing.
func sievedOverPhotographed(s *shop.State, id shop.LotID) (float64, bool) {
	var sieved, pictured float64
	for _, e := range s.Sievings(id) {
		photo := e.Body.Photo
		if photo == nil && sieved > 0 || photo != nil && pictured > 0 {
			continue
		}
		d50, ok := middleOf(s, e.ID)
		switch {
		case !ok:
		case photo == nil:
			sieved = d50
		default:
			pictured = d50 / photo.Shape
		}
	}
	r := sieved / pictured // of one alone nothing, or without end: no ratio that teaches
	return r, r > 0.5 && r < 1.3
}

// middleOf is d50 of a kept analysis, where its sieves tell it.
func middleOf(s *shop.State, id shop.RecordID) (float64, bool) {
	st, err := sieving.StackOf(s, id)
	if err != nil {
		return 0, false
	}
	a, err := sieve.Weigh(st.Stack)
	if err != nil {
		return 0, false
	}
	d, err := a.Distribution(sieve.Bounds{})
	if err != nil {
		return 0, false
	}
	x, err := d.Quantile(0.5)
	return x, err == nil
}

// newestStack is the last analysis on sieves in the shop; nil without one.
func newestStack(s *shop.State) *shop.Sieved {
	for _, r := range s.Records.LatestOf((*shop.Sieved)(nil)) {
		if b, ok := r.Body.(*shop.Sieved); ok && b.Photo == nil {
			return b
		}
	}
	return nil
}

// sieves picks the holes to tell passing shares of: the shop's own sieves, and a
// standard series where it has none or too few that the pictures resolve.
func (j *job) sieves() {
	var own []float64
	if st := newestStack(j.state); st != nil {
		for _, x := range st.Sieves {
			if x.Opening >= j.seen*0.999 {
				own = append(own, x.Opening)
			}
		}
	}
	if j.ask.UnseenBelow > 0 {
		own = append(own, j.ask.UnseenBelow)
	}
	top := 0.0
	for _, g := range j.heap.Grains {
		top = math.Max(top, g.Width*j.shape.Median)
	}
	within := 0
	for _, x := range own {
		if x < top {
			within++
		}
	}
	if within < 3 {
		for _, one := range sieve.Openings(sieve.R20x3) {
			if one.Opening >= j.seen*0.999 && one.Opening < 1.45*top {
				own = append(own, one.Opening)
			}
		}
	}
	coarse := sieve.CoarseRatio * j.screen // what lies above it speaks of a torn screen
	if coarse >= j.seen && j.screen > 0 {
		own = append(own, coarse)
	}
	if len(own) == 0 {
		own = []float64{j.seen}
	}
	slices.SortFunc(own, func(a, b float64) int { return cmp.Compare(b, a) })
	own = slices.CompactFunc(own, func(a, b float64) bool { return math.Abs(a/b-1) < 1e-6 })
	// One sieve above everything is enough.
	for len(own) > 2 && own[1] > top && own[0] != coarse {
		own = own[1:]
	}
	j.holes = own
}
