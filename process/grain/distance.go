package grain

import "math"

// Distance returns for each set pixel how far the nearest pixel is that is not
// set, centre to centre [px]; 0 for pixels that are not set, and +Inf
// throughout where all are.
//
//	w, h  size of the raster
//	set   whether each pixel is set, row by row
//
// Equation: d(p) = min |p − q| over pixels q that are not set; in two passes, over columns
// and rows, each the lower envelope of parabolas.
// Holds for: any raster; exact.
// Source: Felzenszwalb2012, section 2.
// Errors: none.
// Checks: SciPy2023, distance_transform_edt on six rasters; TestSecondLibrary.
func Distance(w, h int, set []bool) []float64 {
	d := make([]float64, w*h)
	far := math.Inf(1)
	for i, s := range set {
		if s {
			d[i] = far
		}
	}
	n := max(w, h)
	p := parabolas{line: make([]float64, n), out: make([]float64, n), at: make([]int, n), from: make([]float64, n+1)}
	for x := range w {
		for y := range h {
			p.line[y] = d[y*w+x]
		}
		p.lower(h)
		for y := range h {
			d[y*w+x] = p.out[y]
		}
	}
	for y := range h {
		copy(p.line, d[y*w:(y+1)*w])
		p.lower(w)
		for x := range w {
			d[y*w+x] = math.Sqrt(p.out[x])
		}
	}
	return d
}

// parabolas holds one line while its lower envelope is taken.
type parabolas struct {
	line, out []float64
	at        []int     // tops of the parabolas in the envelope
	from      []float64 // where each of them begins to be the lowest
}

// lower sets out[q] to the least of (q−p)² + line[p] over all p.
func (p *parabolas) lower(n int) {
	k := -1
	for q := range n {
		if math.IsInf(p.line[q], 1) {
			continue
		}
		s := math.Inf(-1)
		for k >= 0 {
			v := p.at[k]
			s = ((p.line[q] + float64(q*q)) - (p.line[v] + float64(v*v))) / float64(2*(q-v))
			if s > p.from[k] {
				break
			}
			k--
			s = math.Inf(-1)
		}
		k++
		p.at[k], p.from[k] = q, s
	}
	if k < 0 {
		for q := range n {
			p.out[q] = math.Inf(1)
		}
		return
	}
	last := k
	k = 0
	for q := range n {
		for k < last && p.from[k+1] < float64(q) {
			k++
		}
		v := p.at[k]
		p.out[q] = float64((q-v)*(q-v)) + p.line[v]
	}
}
