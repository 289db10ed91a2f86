package family

import "math"

// The sizes of the picture, in pixels of the screen. A card is wide enough for
// three to stand on a phone, and high enough for a thumb.
const (
	cardWide  = 104.0
	cardHigh  = 132.0
	stripHigh = 12.0 // under the lot's own card: what came in, as one bar
	boxHigh   = 50.0
	kinGap    = 8.0  // between two boxes of a generation
	LeastDrop = 62.0 // between two generations: room for a band and its mass
	mostDrop  = 120.0
	kinEdge   = 6.0 // around the whole picture
	mostBand  = 92.0
)

// place gives every box its place and every band its ends. Each lot's branches
// stand side by side and never reach under another's; bands leave a box in the
// order of where they go, so that none crosses another.
func (k *Tree) place() {
	k.Scale = mostBand / k.heaviest()
	k.Lot.W, k.Lot.H = cardWide, cardHigh+stripHigh
	k.Lot.X = -cardWide / 2
	k.generations(k.Up, true)
	k.generations(k.Down, false)
	k.frame()
	k.bands(k.Up, k.Lot, 0, true)
	k.bands(k.Down, k.Lot, k.wide(k.Lot.Lot.OnHand), false)
}

// heaviest is the most mass that passes one side of a box.
func (k *Tree) heaviest() float64 {
	most := k.In
	for _, list := range [][]*Box{k.Up, k.Down} {
		sum := 0.0
		for _, b := range list {
			sum += b.Mass
		}
		most = math.Max(most, sum)
	}
	k.Each(func(b, _ *Box, _ bool) {
		sum := 0.0
		for _, n := range b.Next {
			sum += n.Mass
		}
		most = math.Max(most, math.Max(sum, b.Mass))
	})
	if most <= 0 {
		return 1
	}
	return most
}

// generations places one direction around the middle: first across, then, now
// that it is known how far aside each generation's bands reach, up or down. The
// farther they reach, the more room they get, so that they do not lie flat.
func (k *Tree) generations(list []*Box, up bool) {
	abreast(list)
	stand(list, k.Lot)
	aside := map[int]float64{}
	reach(list, k.Lot, aside)
	level(list, k.Lot, aside, up)
}

// stripe is how far the boxes of one generation reach.
type stripe struct{ left, right float64 }

// abreast places boxes side by side, each with all beyond it, as near as their
// generations let it. It leaves in X how far the middle of each is from the
// middle of the one they hang on, and returns how far each generation reaches.
func abreast(list []*Box) []stripe {
	var all []stripe
	for i, b := range list {
		b.W, b.H = cardWide, cardHigh
		if b.Kind != KinLot {
			b.H = boxHigh
		}
		own := append([]stripe{{-b.W / 2, b.W / 2}}, abreast(b.Next)...)
		if b.X = 0; i > 0 {
			b.X = math.Inf(-1)
			for j := range min(len(own), len(all)) {
				b.X = math.Max(b.X, all[j].right+kinGap-own[j].left)
			}
		}
		for j, s := range own {
			s = stripe{s.left + b.X, s.right + b.X}
			if j == len(all) {
				all = append(all, s)
			}
			all[j] = stripe{math.Min(all[j].left, s.left), math.Max(all[j].right, s.right)}
		}
	}
	if len(list) == 0 {
		return nil
	}
	mid := (list[0].X + list[len(list)-1].X) / 2
	for _, b := range list {
		b.X -= mid
	}
	for j := range all {
		all[j] = stripe{all[j].left - mid, all[j].right - mid}
	}
	return all
}

// stand turns distances into places.
func stand(list []*Box, on *Box) {
	for _, b := range list {
		b.X += on.X + on.W/2 - b.W/2
		stand(b.Next, b)
	}
}

// reach finds how far aside the bands of each generation go.
func reach(list []*Box, on *Box, aside map[int]float64) {
	for _, b := range list {
		aside[b.Level] = math.Max(aside[b.Level], math.Abs(b.X-on.X))
		reach(b.Next, b, aside)
	}
}

// level places boxes above or below the one they hang on. Those of a generation
// stand in a row, since all they hang on do and are of one height.
func level(list []*Box, on *Box, aside map[int]float64, up bool) {
	for _, b := range list {
		drop := math.Min(mostDrop, math.Max(LeastDrop, aside[b.Level]/3))
		if b.Y = on.Y + on.H + drop; up {
			b.Y = on.Y - drop - b.H
		}
		level(b.Next, b, aside, up)
	}
}

// frame shifts the picture so that it begins at its edge, and measures it.
func (k *Tree) frame() {
	left, top, right, low := k.Lot.X, k.Lot.Y, k.Lot.X+k.Lot.W, k.Lot.Y+k.Lot.H
	k.Each(func(b, _ *Box, _ bool) {
		left, top = math.Min(left, b.X), math.Min(top, b.Y)
		right, low = math.Max(right, b.X+b.W), math.Max(low, b.Y+b.H)
	})
	dx, dy := kinEdge-left, kinEdge-top
	k.Lot.X, k.Lot.Y = k.Lot.X+dx, k.Lot.Y+dy
	k.Each(func(b, _ *Box, _ bool) { b.X, b.Y = b.X+dx, b.Y+dy })
	k.Wide, k.High = right-left+2*kinEdge, low-top+2*kinEdge
}

// bands gives the bands of the boxes that hang on one their ends, beginning
// after what stays in it.
func (k *Tree) bands(list []*Box, on *Box, kept float64, up bool) {
	sum := kept
	for _, b := range list {
		sum += k.wide(b.Mass)
	}
	at := on.X + on.W/2 - sum/2 + kept
	for _, b := range list {
		w := k.wide(b.Mass)
		b.Band = kinBand{NearX: at, NearY: on.Y + on.H, FarX: b.X + b.W/2 - w/2, FarY: b.Y, Wide: w}
		if up {
			b.Band.NearY, b.Band.FarY = on.Y, b.Y+b.H
		}
		at += w
		k.bands(b.Next, b, 0, up)
	}
}
