// The ground the grains lie on: its brightness from place to place, and how much
// a grain differs from it.

package grain

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

const (
	tile         = 32   // px, side of the squares whose middle brightness stands for the ground
	fineTile     = 8    // px, of the last fit
	bigTile      = 64   // px, of the second way, squares that a grain does not fill
	rounds       = 8    // of fitting and leaving out what is no ground
	unevenRest   = 0.05 // of the brightness: more than a curved surface is wrong by
	blackRest    = 0.01 // of full scale: on black a share of next to nothing asks too much
	darkGround   = 0.25 // below this brightness light is taken off, not divided by
	spreadOfMAD  = 1.4826
	sampleStride = 4
)

// surface is the brightness of the ground over a raster, on a grid of squares.
type surface struct {
	nx, ny, side int
	v            []float64
	poly         *[6]float64 // where it is a curved surface
	w, h         float64
}

// at fills one row of the ground's brightness.
func (s surface) row(y int, out []float32) {
	if p := s.poly; p != nil {
		v := float64(y)/s.h - 0.5
		a, b := p[0]+p[2]*v+p[5]*v*v, p[1]+p[4]*v
		for x := range out {
			u := float64(x)/s.w - 0.5
			out[x] = float32(a + (b+p[3]*u)*u)
		}
		return
	}
	fy := math.Min(math.Max((float64(y)+0.5)/float64(s.side)-0.5, 0), float64(s.ny-1))
	y0 := int(fy)
	y1 := min(y0+1, s.ny-1)
	for x := range out {
		fx := math.Min(math.Max((float64(x)+0.5)/float64(s.side)-0.5, 0), float64(s.nx-1))
		x0 := int(fx)
		x1 := min(x0+1, s.nx-1)
		tx, ty := fx-float64(x0), fy-float64(y0)
		out[x] = float32((1-ty)*((1-tx)*s.v[y0*s.nx+x0]+tx*s.v[y0*s.nx+x1]) + ty*((1-tx)*s.v[y1*s.nx+x0]+tx*s.v[y1*s.nx+x1]))
	}
}

// tiles are the middle brightness of each square of the raster; NaN where the
// mask leaves nothing.
func tiles(r Raster, mask []bool, side int) surface {
	s := surface{nx: (r.W + side - 1) / side, ny: (r.H + side - 1) / side, side: side, w: float64(r.W), h: float64(r.H)}
	s.v = make([]float64, s.nx*s.ny)
	bands(s.ny, func(from, to int) {
		sample := make([]float32, 0, side*side)
		for ty := from; ty < to; ty++ {
			for tx := range s.nx {
				sample = sample[:0]
				for y := ty * side; y < min((ty+1)*side, r.H); y += sampleStride {
					for x := tx * side; x < min((tx+1)*side, r.W); x += sampleStride {
						if mask == nil || mask[y*r.W+x] {
							sample = append(sample, r.V[y*r.W+x])
						}
					}
				}
				s.v[ty*s.nx+tx] = math.NaN()
				if len(sample) > 0 {
					s.v[ty*s.nx+tx] = float64(middle(sample))
				}
			}
		}
	})
	return s
}

// middle is the median; it changes the order. Of an even number it is the mean of the two in the
// middle: of the four of a fine square, the upper one alone lies 0.3 standard deviations high.
func middle(v []float32) float32 {
	half := len(v) / 2
	upper := ranked(v, half)
	if len(v)%2 == 1 {
		return upper
	}
	return (slices.Max(v[:half]) + upper) / 2
}

// ranked is the value at place k were v sorted; nothing larger then lies before it. It parts v
// round a value again and again and goes on with the part that holds k; values in an order
// that this is slow for are sorted.
func ranked(v []float32, k int) float32 {
	lo, hi := 0, len(v)-1
	for range 64 {
		if lo >= hi {
			return v[k]
		}
		pivot, i, j := v[lo+(hi-lo)/2], lo, hi
		for i <= j {
			for v[i] < pivot {
				i++
			}
			for pivot < v[j] {
				j--
			}
			if i <= j {
				v[i], v[j] = v[j], v[i]
				i, j = i+1, j-1
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return v[k]
		}
	}
	slices.Sort(v[lo : hi+1])
	return v[k]
}

// groundOf finds the ground: a curved surface through the squares that are
// ground, or, where that is too far off, the squares themselves.
func groundOf(r Raster, mask []bool) surface {
	s := tiles(r, mask, tile)
	use := s.near()
	rest := make([]float64, 0, len(s.v))
	for range rounds {
		poly, ok := s.fit(use)
		if !ok {
			break
		}
		s.poly = &poly
		rest = rest[:0]
		for i, v := range s.v {
			if use[i] {
				rest = append(rest, math.Abs(v-s.value(i)))
			}
		}
		slices.Sort(rest)
		limit := 3 * spreadOfMAD * rest[len(rest)/2]
		for i, v := range s.v {
			use[i] = !math.IsNaN(v) && math.Abs(v-s.value(i)) <= max(limit, 1e-3)
		}
	}
	if s.poly != nil && len(rest) > 0 && spreadOfMAD*rest[len(rest)/2] <= math.Max(unevenRest*math.Abs(s.poly[0]), blackRest) {
		return s
	}
	return smoothed(tiles(r, mask, bigTile))
}

// near are the squares not far from the middle of all: a card on black would pull
// the first surface up so far that nothing stood out of it. Light that falls off
// spreads them evenly, which leaves all in.
func (s surface) near() []bool {
	var all []float64
	for _, v := range s.v {
		if !math.IsNaN(v) {
			all = append(all, v)
		}
	}
	use := make([]bool, len(s.v))
	if len(all) == 0 {
		return use
	}
	slices.Sort(all)
	at := all[len(all)/2]
	for i := range all {
		all[i] = math.Abs(all[i] - at)
	}
	slices.Sort(all)
	limit := 3 * spreadOfMAD * all[len(all)/2]
	for i, v := range s.v {
		use[i] = math.Abs(v-at) <= limit // false for NaN
	}
	return use
}

// value is the curved surface in the middle of a square.
func (s surface) value(i int) float64 {
	t := s.terms(i)
	sum := 0.0
	for k, c := range s.poly {
		sum += c * t[k]
	}
	return sum
}

func (s surface) terms(i int) [6]float64 {
	x := (float64(i%s.nx)+0.5)*float64(s.side)/s.w - 0.5
	y := (float64(i/s.nx)+0.5)*float64(s.side)/s.h - 0.5
	return [6]float64{1, x, y, x * x, x * y, y * y}
}

// fit lays the curved surface through the squares in use by least squares.
func (s surface) fit(use []bool) ([6]float64, bool) {
	a, b := mat.NewSymDense(6, nil), mat.NewVecDense(6, nil)
	n := 0
	for i, ok := range use {
		if !ok {
			continue
		}
		n++
		t := s.terms(i)
		for p := range 6 {
			b.SetVec(p, b.AtVec(p)+t[p]*s.v[i])
			for q := p; q < 6; q++ {
				a.SetSym(p, q, a.At(p, q)+t[p]*t[q])
			}
		}
	}
	var c mat.Cholesky
	var out mat.VecDense
	if n < 12 || !c.Factorize(a) || c.SolveVecTo(&out, b) != nil {
		return [6]float64{}, false
	}
	return [6]float64(out.RawVector().Data), true
}

// smoothed takes of each square the middle of the nine around it, so that one
// full of grains does not count as ground.
func smoothed(s surface) surface {
	out := s
	out.v = make([]float64, len(s.v))
	near := make([]float64, 0, 9)
	whole := 0.0
	for _, v := range s.v {
		if !math.IsNaN(v) {
			whole = v
		}
	}
	for i := range s.v {
		near = near[:0]
		if v := s.v[i]; !math.IsNaN(v) {
			near = append(near, v)
		}
		around(s.nx, s.ny, i, func(j int) {
			if !math.IsNaN(s.v[j]) {
				near = append(near, s.v[j])
			}
		})
		out.v[i] = whole
		if len(near) > 0 {
			slices.Sort(near)
			out.v[i] = near[len(near)/2]
		}
	}
	return out
}

// differ turns a raster into how much each pixel differs from the ground, the way
// grains do: positive for grains, whether they are darker or lighter. It returns
// the standard deviation of the ground, that of the noise between near pixels, and
// +1 where grains are lighter.
//
// On light ground the brightness is divided by the ground's, so that a grain in
// the dim corner counts like one in the light; on dark ground, where that would
// divide by almost nothing, the ground is taken off.
func differ(r Raster, mask []bool) (noise, near, sign float64) {
	soften(r)
	s := groundOf(r, mask)
	sign = heavier(r, mask, s)
	if s.poly != nil {
		s = s.settle(tiles(r, mask, fineTile), sign)
	}
	ground := make([]float32, r.W)
	s.row(r.H/2, ground)
	divide := ground[r.W/2] > darkGround
	f := float32(sign)
	bands(r.H, func(from, to int) {
		ground := make([]float32, r.W)
		for y := from; y < to; y++ {
			s.row(y, ground)
			row := r.row(y)
			for x, g := range ground {
				switch {
				case mask != nil && !mask[y*r.W+x]:
					row[x] = 0
				case divide:
					row[x] = f * (row[x]/max(g, 1e-3) - 1)
				default:
					row[x] = f * (row[x] - g)
				}
			}
		}
	})
	var off []float32 // on the side where no grains are
	for i := 0; i < len(r.V); i += 7 * thin(r) {
		if v := r.V[i]; v < 0 && (mask == nil || mask[i]) {
			off = append(off, -v)
		}
	}
	if len(off) == 0 {
		return 0, 0, sign
	}
	return spreadOfMAD * float64(middle(off)), nearNoise(r, mask), sign
}

// heavier is +1 where more light lies above the ground than is missing below it.
func heavier(r Raster, mask []bool, s surface) float64 {
	var off []float32
	ground := make([]float32, r.W)
	for y := 0; y < r.H; y += sampleStride * thin(r) {
		s.row(y, ground)
		for x := y / sampleStride % sampleStride; x < r.W; x += sampleStride {
			if mask == nil || mask[y*r.W+x] {
				off = append(off, r.V[y*r.W+x]-ground[x])
			}
		}
	}
	if len(off) == 0 {
		return 1
	}
	slices.Sort(off)
	at := (off[(len(off)-1)/2] + off[len(off)/2]) / 2
	sum := 0.0
	limit := 4 * (at - off[len(off)/4]) // the lower quarter ends 0.67 standard deviations below
	limit = max(limit, 4*(off[len(off)*3/4]-at))
	for _, v := range off {
		if d := v - at; d > limit || d < -limit {
			sum += float64(d)
		}
	}
	if sum == 0 { // no tails: the side on which more lies
		for _, v := range off {
			sum += float64(v - at)
		}
	}
	if sum < 0 {
		return -1
	}
	return 1
}

// settle fits the surface anew to fine squares, leaving out on the side of the
// grains more than on the other, so that it comes to lie on the ground even
// where grains cover much of it.
func (s surface) settle(fine surface, sign float64) surface {
	fine.poly = s.poly
	use := make([]bool, len(fine.v))
	for range rounds {
		off := make([]float32, 0, len(fine.v))
		for i, v := range fine.v {
			if d := sign * (v - fine.value(i)); d < 0 {
				off = append(off, float32(-d))
			}
		}
		if len(off) == 0 {
			break
		}
		sd := math.Max(spreadOfMAD*float64(middle(off)), 1e-4)
		for i, v := range fine.v {
			d := sign * (v - fine.value(i))
			use[i] = d < 2*sd && d > -3*sd // false for squares outside the field too
		}
		poly, ok := fine.fit(use)
		if !ok {
			break
		}
		fine.poly = &poly
	}
	return fine
}

// thin is how much sparser a large raster is looked at for its statistics.
func thin(r Raster) int { return 1 + len(r.V)/(1<<20) }

// nearNoise is the standard deviation of the noise, from pixels four apart, which
// the softening does not tie together and a grain seldom parts.
func nearNoise(r Raster, mask []bool) float64 {
	var off []float32
	for i := 0; i+4 < len(r.V); i += 11 * thin(r) {
		if mask == nil || mask[i] && mask[i+4] {
			off = append(off, float32(math.Abs(float64(r.V[i]-r.V[i+4]))))
		}
	}
	if len(off) == 0 {
		return 0
	}
	return spreadOfMAD / math.Sqrt2 * float64(middle(off))
}
