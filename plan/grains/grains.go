// Package grains says how fine a lot is from photographs of its grains.
package grains

import (
	"math"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/sieving"
	"hopperful/process/grain"
	"hopperful/process/sieve"
	"hopperful/quantity"
	"hopperful/shop"
)

// Ask is what was photographed.
type Ask struct {
	Lot      shop.LotID     // may be empty
	Run      shop.RecordID  // of the mill it came out of; 0: not said
	Samples  []grain.Sample // one, or one a class that was sieved out and weighed
	Pictures []*grain.Measured
	Ruled    bool // the printed line was measured
	Struck   int  // grains struck out by hand
	Parted   int  // grains parted by hand
	// Unseen is what fell through a finer sieve and was weighed [kg], and that
	// sieve's hole [m].
	Unseen, UnseenBelow float64
}

// Result is the answer, and the size analysis to keep.
type Result struct {
	Document answer.Document
	Body     *shop.Sieved
}

const (
	threadShape = 5    // times as long as wide: a thread
	goodRange   = 0.10 // of d50, at 95 of 100: good enough
	wanted      = 0.05 // of d50, at 95 of 100
	minute      = 1e-3 // kg, reckoned where nothing was weighed and nothing adds up
)

// job is a [Result] on its way.
type job struct {
	state   *shop.State
	ask     Ask
	plastic grain.Plastic
	density figure.Figure
	wall    *figure.Figure
	shape   grain.Shape
	learned int // lots the shape was learned from
	heap    grain.Heap
	sizes   grain.Sizes
	holes   []float64 // sieves, coarsest first
	seen    float64   // hole of the finest grain that is seen [m]
	screen  float64   // hole of the mill's screen it came through [m]; 0: not known
	doc     answer.Document
}

// Of says how fine what was photographed is. Pictures in which no grain is left are
// a *grain.Refusal.
func Of(s *shop.State, ask Ask) (Result, error) {
	j := &job{state: s, ask: ask}
	if err := j.material(); err != nil {
		return Result{}, err
	}
	var err error
	if j.heap, err = grain.Weigh(ask.Samples, j.plastic); err != nil {
		return Result{}, err
	}
	if j.shape, j.learned, err = shapeOf(s, j.plastic, j.middle()); err != nil {
		return Result{}, err
	}
	j.see()
	if hole, ok := sieving.HoleThrough(s, ask.Lot, ask.Run); ok {
		j.screen = hole
	}
	j.sieves()
	scale := 0.0
	for _, m := range ask.Pictures {
		scale = math.Max(scale, m.Standing.Error)
	}
	if j.sizes, err = grain.Sizing(j.heap, grain.Ask{Shape: j.shape, Sieves: j.holes, Unseen: ask.Unseen, UnseenBelow: ask.UnseenBelow, Scale: scale, Seed: 13}); err != nil {
		return Result{}, err
	}
	body := j.body(math.Hypot(j.shape.Spread, scale))
	j.figures()
	j.spoilers()
	j.head()
	j.table()
	j.chart()
	j.reasons()
	return Result{j.doc, body}, nil
}

// material finds density and wall of what the lot is made of.
func (j *job) material() error {
	g, err := sieving.DensityOf(j.state, j.ask.Lot)
	if err != nil {
		return err
	}
	j.density, j.plastic.Density = g, g.Value
	if wall := wallOf(j.state, j.ask.Lot, 0); wall > 0 {
		j.plastic.Wall = wall
		f := figure.Exact("wall", "grains.wall", quantity.Length, wall, figure.Entered)
		j.wall = &f
	}
	return nil
}

const generations = 8 // back to the scrap a lot came from

// wallOf is the wall of the prints a lot came from, the thickest of its parents'.
func wallOf(s *shop.State, id shop.LotID, depth int) float64 {
	lot, ok := s.Lot(id)
	if !ok || depth > generations {
		return 0
	}
	if lot.Pieces.Wall != nil {
		return *lot.Pieces.Wall
	}
	wall := 0.0
	for _, p := range lot.Parents {
		w := wallOf(s, p.Lot, depth+1)
		if w == 0 {
			return 0 // one whose walls nobody knows
		}
		wall = math.Max(wall, w)
	}
	return wall
}

// middle is the width of the grain at half the mass.
func (j *job) middle() float64 {
	sum, half := 0.0, 0.0
	order := byWidth(j.heap.Grains)
	for _, g := range order {
		sum += g.Mass
	}
	for _, g := range order {
		if half += g.Mass; 2*half >= sum {
			return g.Width
		}
	}
	return order[len(order)-1].Width
}

// see finds the finest hole the pictures still tell: eight pixels of the coarsest
// picture.
func (j *job) see() {
	pixel := 0.0
	for _, s := range j.ask.Samples {
		for _, p := range s.Spreads {
			pixel = math.Max(pixel, p.Pixel)
		}
	}
	j.seen = grain.LeastPixels * pixel * j.shape.Median
}

// body is the size analysis as it is kept: what would have lain on the sieves.
func (j *job) body(spread float64) *shop.Sieved {
	mass := j.heap.Mass + j.ask.Unseen
	weighed := true
	for _, s := range j.ask.Samples {
		weighed = weighed && (s.Mass > 0 || s.Of > 0)
	}
	if lot, ok := j.state.Lot(j.ask.Lot); ok && !weighed && mass > lot.Mass {
		mass = math.Min(lot.Mass, minute) // reckoned from areas: no reason to doubt the lot
	}
	b := &shop.Sieved{Lot: j.ask.Lot, Run: j.ask.Run, Charge: mass, Series: shop.OwnSet, Holes: shop.WovenWire}
	if st := newestStack(j.state); st != nil {
		b.Holes = st.Holes
	}
	above := 1.0
	for i, hole := range j.holes {
		q := j.sizes.Passing[i].Value
		b.Sieves = append(b.Sieves, shop.OnSieve{Opening: hole, Mass: math.Max(0, above-q) * mass})
		above = q
	}
	b.Pan = above * mass
	b.Photo = &shop.Photographed{Pictures: max(1, len(j.ask.Pictures)), Grains: len(j.heap.Grains), Effective: math.Max(1, j.sizes.Effective), Largest: j.sizes.LargestShare,
		Shape: j.shape.Median, Spread: spread, Seen: j.seen, Weighed: weighed, Struck: j.ask.Struck, Parted: j.ask.Parted}
	if j.screen > 0 {
		long := j.long()
		b.LongFound = &long
	}
	for _, m := range j.ask.Pictures {
		b.Photo.Card = b.Photo.Card || m.Standing.Card
	}
	return b
}

// long counts the grains longer than two holes of the mill's screen, as an eye does
// that looks for them; it tells a torn screen. Threads do not count: a sound screen
// lets them through end first.
func (j *job) long() int {
	n := 0
	for _, s := range j.ask.Samples {
		for _, p := range s.Spreads {
			for _, g := range p.Grains {
				if g.Length > sieve.LongRatio*j.screen && g.Length <= threadShape*g.Width {
					n++
				}
			}
		}
	}
	return n
}

// head is the answer.
func (j *job) head() {
	d50, _ := j.figure("d50")
	name := fact.Name("lot", string(j.ask.Lot))
	if j.ask.Lot == "" {
		j.doc.Head = answer.Found(fact.Say("grains.half_of_it", fact.Figure("d50", d50), fact.Count("n", len(j.heap.Grains))))
		return
	}
	j.doc.Head = answer.Found(fact.Say("grains.half_of_lot", name, fact.Figure("d50", d50), fact.Count("n", len(j.heap.Grains))))
}

func (j *job) figure(key string) (figure.Figure, bool) {
	for _, f := range j.doc.Figures {
		if f.Key == key {
			return f, true
		}
	}
	return figure.Figure{}, false
}
