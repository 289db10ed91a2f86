// Rasters of brightness, and the work on them shared out among the cores.

package grain

import (
	"math"
	"runtime"
	"slices"
	"sync"
)

// Raster is brightness, row by row from the top left, in linear light: 0 is
// black, 1 the brightest the camera tells apart.
type Raster struct {
	W, H int
	V    []float32
}

// NewRaster is a black raster.
//
//	w, h  its size in pixels
func NewRaster(w, h int) Raster { return Raster{w, h, make([]float32, w*h)} }

// row is one line of the raster.
func (r Raster) row(y int) []float32 { return r.V[y*r.W : (y+1)*r.W] }

// bands shares the rows of a raster out among the cores. Bands do not see each
// other, so the answer does not depend on how many there are.
func bands(h int, work func(from, to int)) {
	n := bandsOf(h)
	if n == 1 {
		work(0, h)
		return
	}
	var all sync.WaitGroup
	for k := range n {
		all.Go(func() { work(k*h/n, (k+1)*h/n) })
	}
	all.Wait()
}

// bandsOf is into how many bands so many rows are cut.
func bandsOf(h int) int { return min(runtime.GOMAXPROCS(0), 8, max(1, h/64)) }

// linear is the brightness behind the 256 codes of an sRGB picture (IEC
// 61966-2-1), so that averages are of light and not of codes.
var linear = func() (t [256]float32) {
	for i := range t {
		v := float64(i) / 255
		if v <= 0.04045 {
			t[i] = float32(v / 12.92)
		} else {
			t[i] = float32(math.Pow((v+0.055)/1.055, 2.4))
		}
	}
	return t
}()

// soften lays the kernel ¼ ½ ¼ over a raster both ways: a blur of 0.7 pixels,
// which quiets noise and leaves edges where they are. It works in place, line by
// line, for a second raster of a large picture is much memory.
func soften(r Raster) {
	w := r.W
	if w < 3 || r.H < 3 {
		return
	}
	n := bandsOf(r.H)
	rims := make([][2][]float32, n) // of each band, as they were: the line above it and that below
	for k := range n {
		from, to := k*r.H/n, (k+1)*r.H/n
		rims[k] = [2][]float32{slices.Clone(r.row(max(from-1, 0))), slices.Clone(r.row(min(to, r.H-1)))}
	}
	bands(r.H, func(from, to int) {
		k := 0
		for k*r.H/n != from {
			k++
		}
		up, here, line := rims[k][0], slices.Clone(r.row(from)), make([]float32, w)
		for y := from; y < to; y++ {
			down := rims[k][1]
			if y+1 < to {
				down = r.row(y + 1)
			}
			for x := range line {
				line[x] = 0.25*(up[x]+down[x]) + 0.5*here[x]
			}
			up, here = here, up
			copy(here, down)
			o := r.row(y)
			o[0], o[w-1] = 0.75*line[0]+0.25*line[1], 0.75*line[w-1]+0.25*line[w-2]
			for x := 1; x < w-1; x++ {
				o[x] = 0.25*(line[x-1]+line[x+1]) + 0.5*line[x]
			}
		}
	})
}
