package drawing

import (
	"fmt"
	"hash/fnv"
	"html/template"
	"math"
	"math/rand/v2"
	"strings"

	"hopperful/shop"
)

// A lot is drawn as a heap in its own colour. All heaps share one scale: the
// drawn area follows the mass, the grain size on the screen follows the grain
// size in the bin, both compressed so that 1 g and 20 kg, 0.3 mm and 300 mm fit
// one shelf. Nothing is read off it; the numbers stand beside it.
const (
	heapWidth  = 200.0
	heapHeight = 104.0
	heapFloor  = 99.0
	mostGrains = 240 // of one heap, to keep a full shelf light
	fewGrains  = 24  // of a heap among many
)

// The sizes drawn where nobody said how coarse a lot is [m]. Judgement.
const (
	usualScrap  = 0.06
	usualGrain  = 0.004
	usualPellet = 0.003
)

// heap is a drawing in the making.
type heap struct {
	out    strings.Builder
	chance *rand.Rand
	fill   RGB
	grain  float64 // on the screen
	class  shop.Class
	pieces int
	most   int // grains
}

// newHeap is a lot's heap before the first grain; the same lot always looks
// the same.
func newHeap(l *shop.Lot, grain float64, fill RGB, most int) *heap {
	sum := fnv.New64a()
	sum.Write([]byte(l.ID))
	return &heap{chance: rand.New(rand.NewPCG(sum.Sum64(), 7)), fill: fill, class: l.Class,
		grain: grainOnScreen(l.Class, grain), most: most}
}

// SmallHeap draws a lot where many lots share a picture: few and therefore
// large grains. It is a group in the coordinates of a heap, without its frame.
func SmallHeap(l *shop.Lot, grain float64, fill RGB) string {
	return drawFew(l, grain, fill, fewGrains)
}

func drawFew(l *shop.Lot, grain float64, fill RGB, most int) string {
	h := newHeap(l, grain, fill, most)
	if l.Mass > 0 {
		half, top := heapSize(l.Mass, h.grain)
		h.grain = max(h.grain, math.Sqrt(half*top*1.25/float64(most)))
		h.pile(l.Mass)
	}
	fmt.Fprintf(&h.out, `<line class="floor" x1="2" x2="%g" y1="%g" y2="%g"/>`, heapWidth-2, heapFloor+1.5, heapFloor+1.5)
	return h.out.String()
}

// sideGrains are of a heap that only stands beside what is said of the lot.
const sideGrains = 30

// HeapAside draws a lot beside a text, with grains as few and large as sideGrains wants.
func HeapAside(l *shop.Lot, grain float64, fill RGB) template.HTML {
	return template.HTML(fmt.Sprintf(`<svg class="heap" viewBox="0 0 %.0f %.0f" aria-hidden="true">%s</svg>`, heapWidth, heapHeight, drawFew(l, grain, fill, sideGrains)))
}

// Heap draws a lot in a colour; grain is how coarse it is [m], 0 when nobody
// said. Seen from near it fills its frame.
func Heap(l *shop.Lot, grain float64, fill RGB, near bool) template.HTML {
	h := newHeap(l, grain, fill, mostGrains)
	if l.Mass > 0 {
		h.pile(l.Mass)
	}
	x, y, w, high := 0.0, 0.0, heapWidth, heapHeight
	if near && l.Mass > 0 {
		half, top := heapSize(l.Mass, h.grain)
		x, y = heapWidth/2-half-h.grain, heapFloor-top-h.grain*0.7
		w, high = 2*(half+h.grain), top+h.grain*0.7+4
	}
	fmt.Fprintf(&h.out, `<line class="floor" x1="%.0f" x2="%.0f" y1="%g" y2="%g"/></svg>`, x+2, x+w-2, heapFloor+1.5, heapFloor+1.5)
	return template.HTML(fmt.Sprintf(`<svg class="heap" viewBox="%.0f %.0f %.0f %.0f" aria-hidden="true">`, x, y, w, high) + h.out.String())
}

// heapSize is half the width and the height of a heap.
func heapSize(mass, grain float64) (half, top float64) {
	size := min(1, max(0.34, 0.8*math.Pow(mass, 0.23))) // 1 kg takes 0.8 of the width
	return size * (heapWidth/2 - 4), max(grain, size*(heapHeight-12))
}

// grainOnScreen compresses the true size: 1 mm is drawn 4.4 wide, 100 mm 26.
func grainOnScreen(c shop.Class, grain float64) float64 {
	if grain <= 0 {
		switch c {
		case shop.Scrap, shop.Print:
			grain = usualScrap
		case shop.Virgin:
			grain = usualPellet
		default:
			grain = usualGrain
		}
	}
	return min(30, max(3.4, 4.4*math.Pow(grain*1000, 0.385)))
}

// pile fills a mound row by row from the back and top to the front and floor.
func (h *heap) pile(mass float64) {
	half, top := heapSize(mass, h.grain)
	step := h.grain * 0.74
	if n := half * top * 1.25 / (step * step); n > float64(h.most) {
		step = math.Sqrt(half * top * 1.25 / float64(h.most))
	}
	for y := top - h.grain/2; y > -step/2; y -= step * 0.8 {
		level := max(0, y) / top
		reach := half * math.Pow(1-min(1, level), 0.62)
		for x := -reach + h.grain*0.3; x <= reach-h.grain*0.3; x += step {
			jx, jy := (h.chance.Float64()-0.5)*step*0.5, (h.chance.Float64()-0.5)*step*0.4
			cy := min(heapFloor-h.grain*0.42, heapFloor-h.grain*0.42-max(0, y)+jy)
			h.piece(heapWidth/2+x+jx, cy)
		}
	}
	if h.pieces == 0 {
		h.piece(heapWidth/2, heapFloor-h.grain*0.42)
	}
}

// piece draws one grain: chunks of prints with their layers, pellets, or chips.
func (h *heap) piece(x, y float64) {
	h.pieces++
	shade := h.fill.toward(RGB{255, 255, 255}, h.chance.Float64()*0.22)
	if h.chance.Float64() < 0.5 {
		shade = h.fill.toward(RGB{}, h.chance.Float64()*0.2)
	}
	size := h.grain * (0.72 + 0.5*h.chance.Float64())
	switch h.class {
	case shop.Scrap, shop.Print:
		h.chunk(x, y, size, shade)
	case shop.Virgin:
		fmt.Fprintf(&h.out, `<ellipse class="grain" cx="%.1f" cy="%.1f" rx="%.1f" ry="%.1f" fill="%s"/>`, x, y, h.grain*0.52, h.grain*0.42, shade)
	default:
		h.chip(x, y, size, shade)
	}
}

// chip is an irregular splinter.
func (h *heap) chip(x, y, size float64, fill RGB) {
	n := 5 + h.chance.IntN(2)
	turn := h.chance.Float64() * 2 * math.Pi
	fmt.Fprintf(&h.out, `<path class="grain" fill="%s" d="`, fill)
	for i := range n {
		a := turn + (float64(i)+0.55*h.chance.Float64())*2*math.Pi/float64(n)
		r := size * (0.38 + 0.24*h.chance.Float64())
		fmt.Fprintf(&h.out, "%s%.1f %.1f", move(i), x+r*math.Cos(a), y+r*0.86*math.Sin(a))
	}
	h.out.WriteString(`Z"/>`)
}

// chunk is a broken piece of a print: a crooked block with its layers.
func (h *heap) chunk(x, y, size float64, fill RGB) {
	turn := (h.chance.Float64() - 0.5) * 1.6
	w, t := size*(0.5+0.25*h.chance.Float64()), size*(0.3+0.2*h.chance.Float64())
	sin, cos := math.Sincos(turn)
	at := func(u, v float64) (float64, float64) { return x + u*cos - v*sin, y + u*sin + v*cos }
	corners := [][2]float64{{-w, -t}, {w * (0.6 + 0.4*h.chance.Float64()), -t}, {w, t * h.chance.Float64()}, {w * 0.8, t}, {-w * (0.7 + 0.3*h.chance.Float64()), t}}
	fmt.Fprintf(&h.out, `<path class="grain" fill="%s" d="`, fill)
	for i, c := range corners {
		px, py := at(c[0], c[1])
		fmt.Fprintf(&h.out, "%s%.1f %.1f", move(i), px, py)
	}
	h.out.WriteString(`Z`)
	for v := -t * 0.4; v < t*0.8; v += max(2.2, t*0.5) {
		ax, ay := at(-w*0.78, v)
		bx, by := at(w*0.62, v)
		fmt.Fprintf(&h.out, "M%.1f %.1fL%.1f %.1f", ax, ay, bx, by)
	}
	h.out.WriteString(`"/>`)
}

func move(i int) string {
	if i == 0 {
		return "M"
	}
	return "L"
}
