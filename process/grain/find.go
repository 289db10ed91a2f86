package grain

import (
	"math"
	"slices"
)

// Grain is one grain as it lies, in metres. What touches the edge of the field is
// none: its size is not known.
type Grain struct {
	X, Y    float64 // middle, from the field's top left corner [m]
	Area    float64 // seen from above [m²]
	Width   float64 // least distance of two parallel lines that hold it between them [m]
	Length  float64 // at right angles to it [m]
	Across  float64 // extent along the field's width [m]
	Down    float64 // extent along its height [m]
	Solid   float64 // share of its convex hull that it fills [1]
	Level   float64 // how much it differs from the ground [of full scale]
	Split   bool    // parted from a grain it touched
	Outline []Point // around it, from the field's top left corner [m]
}

// Spread is what lies on one picture's field.
type Spread struct {
	Grains   []Grain
	W, H     float64 // of the field [m]
	Pixel    float64 // side of a pixel [m]
	Cover    float64 // share of the field under grains [1]
	Contrast float64 // how much grains differ from the ground, of full scale
	Noise    float64 // the same of the ground itself, standard deviation
	Blur     float64 // standard deviation of the edges' blur [m]
	Touching int     // grains left out because they touch the edge of the field
	Lighter  bool    // than the ground
}

// Field is a raster with its scale.
type Field struct {
	Raster
	Pixel float64 // side of a pixel [m]
	Mask  []bool  // pixels that belong to the field; nil: all
}

const (
	least        = 6    // px², smaller patches are dust of the camera
	leastSplit   = 30   // px², smaller ones are not parted
	smallHole    = 0.10 // of a patch: filled whatever it looks like
	filledSolid  = 0.92 // a patch so solid with its holes filled is one grain with a shine
	solid        = 0.93 // less of its hull filled: perhaps two that touch
	seedShare    = 0.25 // of the usual difference: where looking for grains starts
	seedNoise    = 5.0  // standard deviations of the noise a pixel must differ by to be no noise
	leastStart   = 2.0  // the same, where looking for their usual difference starts
	leastFound   = 2e-4 // share of the field that must differ
	onlyNoise    = 3.0  // the same as leastStart, below which what differs usually is the tail of the noise
	seedClear    = 4.0  // the same of every pixel of it, softened
	roughGround  = 0.05 // of full scale: what varies more is no paper
	whiteNoise   = 0.8  // near pixels that vary less than the whole by this share: it is no noise either
	levelRank    = 0.8  // rank of the pixel that stands for a grain's own difference
	leastTop     = 0.75 // px, prominence that parts two grains
	topShare     = 0.12 // the same, of the top's height
	blurOf       = 10.0 // px, grains this wide show how sharp edges are
	outlineSlack = 0.7  // px
)

// Find tells grains from the ground and measures each.
//
//	f  the field, its brightness in linear light; the raster is used up
//
// Equation: difference d = brightness/ground − 1 (light ground) or brightness − ground
// (dark), of the grains' sign; a grain ends where d is half its own; patches less solid
// than 0.93 are parted by a watershed over the distance from their edge; width and length
// by calipers round the crossings of d with half, between pixels.
// Holds for: grains that lie side by side on plain ground, 1 to 25 % of it covered, 8
// pixels and more wide. What lies on another is one grain with it; a shadow darker than half
// the grain's difference is taken for grain.
// Source: own derivation from known parts: half-height edges, h-maxima watershed (Vincent1993),
// calipers (Toussaint1983).
// Errors: *Refusal: Covered, Faint, Noisy, NoGrains, TooFine, Blurred.
// Checks: own derivation; TestRendered and TestRefusals against rendered truth.
func Find(f Field) (*Spread, error) {
	if f.W < 64 || f.H < 64 {
		return nil, refuse(TooSmall, float64(min(f.W, f.H)), 64, "px")
	}
	g := newFinder(f)
	g.ground()
	if err := g.plain(); err != nil {
		return nil, err
	}
	if err := g.levels(); err != nil {
		return nil, err
	}
	g.patches()
	if err := g.cover(); err != nil {
		return nil, err
	}
	g.part()
	if err := g.measure(); err != nil {
		return nil, err
	}
	return g.out, nil
}

type finder struct {
	Field
	out   *Spread
	near  float64 // noise between near pixels
	seed  float32 // difference at which looking starts
	level []float32
	l     Labels
	boxes []box
	split []bool // by label
	all   int    // pixels of the field
}

func newFinder(f Field) *finder {
	f.Mask = eroded(f.Mask, f.W, f.H)
	return &finder{Field: f, out: &Spread{W: float64(f.W) * f.Pixel, H: float64(f.H) * f.Pixel, Pixel: f.Pixel}}
}

// eroded takes from a mask what the softening mixes with what is outside.
func eroded(mask []bool, w, h int) []bool {
	for range 2 {
		if mask == nil {
			return nil
		}
		out := make([]bool, len(mask))
		for y := 1; y < h-1; y++ {
			for i := y*w + 1; i < (y+1)*w-1; i++ {
				out[i] = mask[i] && mask[i-1] && mask[i+1] && mask[i-w] && mask[i+w]
			}
		}
		mask = out
	}
	return mask
}

// ground takes the ground off.
func (g *finder) ground() {
	noise, near, sign := differ(g.Raster, g.Mask)
	g.near, g.out.Noise, g.out.Lighter = near, noise, sign > 0
}

// plain refuses a field where no ground is to be seen between the grains.
func (g *finder) plain() error {
	if g.out.Noise > roughGround && g.near < whiteNoise*g.out.Noise {
		return refuse(Covered, 1, MostCover, "")
	}
	return nil
}

// levels finds how much grains differ, and refuses what hardly does.
func (g *finder) levels() error {
	noise := g.out.Noise
	g.all = len(g.V)
	if g.Mask != nil {
		g.all = 0
		for _, in := range g.Mask {
			if in {
				g.all++
			}
		}
	}
	if g.all == 0 {
		return refuse(NoGrains, 0, 1, "")
	}
	top := float32(0)
	for i := 0; i < len(g.V); i += 3 {
		top = max(top, g.V[i])
	}
	const bins = 2048
	var count [bins]int
	for _, v := range g.V {
		if v >= 0 && top > 0 {
			count[min(int(v/top*(bins-1)), bins-1)]++
		}
	}
	unit := float64(top) / (bins - 1)
	above := func(from float64) (n, bin int) {
		bin = min(int(from/math.Max(unit, 1e-12)), bins)
		for _, c := range count[bin:] {
			n += c
		}
		return n, bin
	}
	start := math.Max(float64(otsu(count[:]))*unit, leastStart*noise)
	for range 4 {
		n, from := above(start)
		seen := 0
		for k := from; k < bins && 2*seen < n; k++ {
			seen += count[k]
			g.out.Contrast = (float64(k) + 0.5) * unit
		}
		start = math.Max(g.out.Contrast/2, leastStart*noise)
	}
	n, _ := above(seedNoise * noise)
	share, nothing := float64(n)/float64(g.all), g.out.Contrast < onlyNoise*noise
	if (share < leastFound || nothing) && g.out.Contrast < LeastFaint || top <= 0 {
		return refuse(NoGrains, share, leastFound, "")
	}
	return g.tell()
}

// tell refuses grains that are too faint to be measured.
func (g *finder) tell() error {
	// The noise proper, without the ground's slow waves.
	c, noise := g.out.Contrast, math.Min(g.out.Noise, math.Max(g.near, g.out.Noise/3))
	if c < LeastFaint {
		return refuse(Faint, c, LeastFaint, "")
	}
	if c < LeastClear*noise {
		return refuse(Noisy, c/math.Max(noise, 1e-9), LeastClear, "")
	}
	g.seed = float32(math.Max(seedShare*c, math.Min(seedClear*noise, c/2)))
	return nil
}

// otsu parts a histogram in two so that the halves differ most (Otsu1979).
func otsu(count []int) (at int) {
	var n, sum float64
	for k, c := range count {
		n += float64(c)
		sum += float64(k) * float64(c)
	}
	best := math.Inf(-1)
	var below, mass float64
	for k, c := range count {
		below += float64(c)
		mass += float64(k) * float64(c)
		if below == 0 || below == n {
			continue
		}
		d := mass/below - (sum-mass)/(n-below)
		if v := below * (n - below) * d * d; v > best {
			best, at = v, k+1
		}
	}
	return at
}

// patches marks what belongs to grains: first everything that differs, then of
// each patch what differs by half as much as the patch itself.
func (g *finder) patches() {
	l := Label(g.W, g.H, func(i int) bool { return g.V[i] > g.seed }, true)
	boxes := l.boxes()
	half := make([]float32, l.N+1)
	bands(l.N, func(from, to int) {
		var v []float32
		for k := from + 1; k <= to; k++ {
			b := boxes[k]
			if v = v[:0]; b.area < least {
				half[k] = math.MaxFloat32
				continue
			}
			step := max(1, b.area/4096)
			seen := 0
			for y := b.y0; y < b.y1; y++ {
				for i := y*g.W + b.x0; i < y*g.W+b.x1; i++ {
					if l.L[i] == int32(k) {
						if seen%step == 0 {
							v = append(v, g.V[i])
						}
						seen++
					}
				}
			}
			slices.Sort(v)
			half[k] = max(v[int(levelRank*float64(len(v)-1))]/2, g.seed)
		}
	})
	g.l = Label(g.W, g.H, func(i int) bool {
		k := l.L[i]
		return k != 0 && g.V[i] >= half[k]
	}, true)
	g.boxes = g.l.boxes()
	g.level = make([]float32, g.l.N+1)
	for y := range g.H {
		for i := y * g.W; i < (y+1)*g.W; i++ {
			if k := g.l.L[i]; k != 0 {
				g.level[k] = half[l.L[i]]
			}
		}
	}
}

// cover refuses a field under a heap of grains.
func (g *finder) cover() error {
	n := 0
	for k := 1; k <= g.l.N; k++ {
		if g.boxes[k].area >= least {
			n += g.boxes[k].area
		}
	}
	g.out.Cover = float64(n) / float64(g.all)
	if g.out.Cover > MostCover {
		return refuse(Covered, g.out.Cover, MostCover, "")
	}
	return nil
}
