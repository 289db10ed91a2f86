package grain

// How the pixels of a rendered picture are filled.

import "math"

// brush lays light on a raster that a camera sees.
type brush struct {
	r    Raster
	cam  camera
	back Homography // from pixels to the sheet
}

// perSide is how many places of a pixel's side are asked what they show.
const perSide = 4

// fill lays what is at a place on the sheet, no farther from it than reach, as light tells: how
// bright, and whether anything is there. alike is a distance round a place within which light
// tells the same throughout: a pixel that no edge runs through is asked once.
func (b brush) fill(reach float64, at Point, light func(Point) (float64, bool), alike func(Point) float64) {
	lo, hi := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, d := range []Point{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		q := b.cam.sees(at.plus(d.times(reach * 1.05)))
		lo, hi = Point{min(lo.X, q.X), min(lo.Y, q.Y)}, Point{max(hi.X, q.X), max(hi.Y, q.Y)}
	}
	left, right := max(int(lo.X)-1, 0), min(int(hi.X)+1, b.cam.w-1)
	line := func(corners []Point, y int) []Point { // of its pixels, on the sheet
		for x := left; x <= right+1; x++ {
			corners = append(corners, b.cam.place(b.back, Point{float64(x), float64(y)}))
		}
		return corners
	}
	top := max(int(lo.Y)-1, 0)
	upper, lower := line(nil, top), []Point(nil)
	for y := top; y <= min(int(hi.Y)+1, b.cam.h-1); y++ {
		lower = line(lower[:0], y+1)
		for x := left; x <= right; x++ {
			i := x - left
			sum, n := seen([4]Point{upper[i], upper[i+1], lower[i], lower[i+1]}, light, alike)
			if v := &b.r.V[y*b.cam.w+x]; n > 0 {
				*v += float32((sum - n*float64(*v)) / (perSide * perSide))
			}
		}
		upper, lower = lower, upper
	}
}

// seen is the light of a pixel, given by its corners on the sheet, summed over its places, and of
// how many of them something is.
func seen(c [4]Point, light func(Point) (float64, bool), alike func(Point) float64) (sum, n float64) {
	middle := c[0].plus(c[3]).times(0.5)
	half := 0.0
	for _, corner := range c {
		d := corner.minus(middle)
		half = max(half, d.dot(d))
	}
	if a := alike(middle); a > 0 && a*a > 1.01*half {
		if v, in := light(middle); in {
			return v * perSide * perSide, perSide * perSide
		}
		return 0, 0
	}
	for k := range perSide * perSide {
		u, v := (float64(k%perSide)+0.5)/perSide, (float64(k/perSide)+0.5)/perSide
		p := c[0].times((1 - u) * (1 - v)).plus(c[1].times(u * (1 - v))).plus(c[2].times((1 - u) * v)).plus(c[3].times(u * v))
		if v, in := light(p); in {
			sum, n = sum+v, n+1
		}
	}
	return sum, n
}

// unknown is the alike of what has edges nobody worked out.
func unknown(Point) float64 { return 0 }
