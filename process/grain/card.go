// Where there is no sheet: a bank card beside the grains.

package grain

import (
	"math"
)

const (
	cardError  = 0.006 // of lengths near a card, its corners a pixel off; from rendered pictures
	cardReach  = 0.07  // m round the card that is still measured
	cardKeep   = 0.004 // m round the card that is not: its shadow and its rim
	leastCard  = 0.01  // of the picture's area
	mostCard   = 0.5
	cardSolid  = 0.93
	cardRounds = 4
)

// card is a card in a picture.
type card struct {
	Standing
}

// FindCard looks for a card of the size of a bank card that lies beside the grains.
//
//	g  the picture's luma
//
// Equation: the patch that differs from the ground whose hull is a quadrilateral; straight
// lines through its four sides, away from the round corners, and the homography of where
// they meet.
// Holds for: a card that differs from the paper on all sides, grains within 70 mm of it,
// a camera within about 25° of upright.
// Source: the sizes of ISO/IEC 7810 ID-1 (ISOCard2003); own derivation.
// Errors: *Refusal Unscaled without a card, Tilted.
// Checks: own derivation; TestCard.
func FindCard(g Gray) (card, error) {
	none := refuse(Unscaled, 0, 4, "")
	k := max(1, (max(g.W, g.H)+looking-1)/looking)
	small := shrink(g, k)
	r := NewRaster(small.W, small.H)
	for i, v := range small.V {
		r.V[i] = linear[v]
	}
	noise, _, sign := differ(r, nil)
	for _, s := range [2]float32{1, -1} { // grains may be darker than the paper and the card lighter
		limit := float32(math.Max(6*noise, 0.06))
		l := Label(r.W, r.H, func(i int) bool { return s*r.V[i] > limit }, true)
		boxes := l.boxes()
		at, most := 0, leastCard*float64(r.W*r.H)
		for i := 1; i <= l.N; i++ {
			if n := float64(boxes[i].w() * boxes[i].h()); n > most && n < mostCard*float64(r.W*r.H) {
				at, most = i, n
			}
		}
		if at == 0 {
			continue
		}
		light := float64(s)*sign > 0
		if c, ok := g.card(l, int32(at), boxes[at], float64(k), light); ok {
			return c, nil
		}
	}
	return card{}, none
}

// card judges the largest patch of a picture.
func (g Gray) card(l Labels, k int32, b box, times float64, light bool) (card, bool) {
	points := edge(l, k, b, make([]float32, len(l.L)), 1, nil)
	hull := Hull(points)
	q, ok := fourCorners(hull)
	if !ok || areaOf(q[:]) < cardSolid*0.97*areaOf(hull) {
		return card{}, false
	}
	for i := range q {
		q[i] = q[i].times(times)
	}
	if light { // the edge finder looks for dark within light
		g = negative(g)
	}
	for range cardRounds {
		var lines [4][2]Point
		for i := range 4 {
			if lines[i], ok = g.near(q[i], q[(i+1)%4], 8*times+4); !ok {
				return card{}, false
			}
		}
		for i := range 4 {
			p, ok := meet(lines[(i+3)%4], lines[i])
			if !ok {
				return card{}, false
			}
			q[i] = p
		}
	}
	return cardOn(q)
}

// near is the straight edge of a card's side, looked for close to where it should be.
func (g Gray) near(a, b Point, reach float64) ([2]Point, bool) {
	if a.to(b) < 40 {
		return [2]Point{}, false
	}
	return g.edgeBy(a, b, reach, 2*crossProbes)
}

func negative(g Gray) Gray {
	out := Gray{g.W, g.H, make([]uint8, len(g.V))}
	for i, v := range g.V {
		out.V[i] = 255 - v
	}
	return out
}

// cardOn lays a card under four corners. Its long side is the longer pair.
func cardOn(q [4]Point) (card, bool) {
	long := q[0].to(q[1]) + q[2].to(q[3])
	short := q[1].to(q[2]) + q[3].to(q[0])
	if long < short {
		q[0], q[1], q[2], q[3] = q[1], q[2], q[3], q[0]
		long, short = short, long
	}
	if ratio := long / short; ratio < CardW/CardH*0.85 || ratio > CardW/CardH*1.18 {
		return card{}, false
	}
	ideal := []Point{{-CardW / 2, -CardH / 2}, {CardW / 2, -CardH / 2}, {CardW / 2, CardH / 2}, {-CardW / 2, CardH / 2}}
	h, err := FitHomography(ideal, q[:])
	if err != nil {
		return card{}, false
	}
	s, err := Standing{Homography: h, Card: true, Error: cardError}.levelled(CardW+2*cardReach, CardH+2*cardReach)
	return card{s}, err == nil
}

// both is the mask of a field: inside the picture, and not under the card.
func both(f Field, c *card, s Standing) []bool {
	if c == nil {
		return f.Mask
	}
	mask := f.Mask
	if mask == nil {
		mask = make([]bool, f.W*f.H)
		for i := range mask {
			mask[i] = true
		}
	}
	x, y := CardW/2+cardKeep, CardH/2+cardKeep
	for j := range f.H {
		for i := range f.W {
			px, py := s.Field[0]+(float64(i)+0.5)*f.Pixel, s.Field[1]+(float64(j)+0.5)*f.Pixel
			if math.Abs(px) < x && math.Abs(py) < y {
				mask[j*f.W+i] = false
			}
		}
	}
	return mask
}
