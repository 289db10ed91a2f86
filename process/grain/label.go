package grain

// Labels number the patches of a raster: 0 is ground.
type Labels struct {
	W, H int
	L    []int32
	N    int // the highest number
}

// run is a piece of a row that is set.
type run struct {
	y, from, to int32 // to is the first pixel after it
	label       int32
}

// forest joins labels that turn out to be one patch.
type forest []int32

func (f forest) root(a int32) int32 {
	for f[a] != a {
		f[a] = f[f[a]]
		a = f[a]
	}
	return a
}

// join makes one patch of two; the lower number stays.
func (f forest) join(a, b int32) int32 {
	a, b = f.root(a), f.root(b)
	if a > b {
		a, b = b, a
	}
	f[b] = a
	return a
}

// Label numbers the patches of set pixels in the order in which their first
// pixel is met, row by row.
//
//	w, h   size of the raster
//	set    whether a pixel belongs to a patch
//	eight  whether pixels that touch at a corner belong together
//
// Pieces of rows are joined to those above them with union-find, so that each
// pixel is looked at twice whatever its patch looks like.
func Label(w, h int, set func(i int) bool, eight bool) Labels {
	out := Labels{W: w, H: h, L: make([]int32, w*h)}
	reach := int32(0)
	if eight {
		reach = 1
	}
	var runs []run
	var up forest
	above, here := 0, 0 // where the rows above and here start in runs
	for y := range h {
		above, here = here, len(runs)
		k := above
		for x := 0; x < w; x++ {
			if !set(y*w + x) {
				continue
			}
			r := run{y: int32(y), from: int32(x), label: -1}
			for x < w && set(y*w+x) {
				x++
			}
			r.to = int32(x)
			for k < here && runs[k].to+reach <= r.from {
				k++
			}
			for j := k; j < here && runs[j].from < r.to+reach; j++ {
				if r.label < 0 {
					r.label = up.root(runs[j].label)
				} else {
					r.label = up.join(r.label, runs[j].label)
				}
			}
			if r.label < 0 {
				r.label = int32(len(up))
				up = append(up, r.label)
			}
			runs = append(runs, r)
		}
	}
	out.number(runs, up)
	return out
}

// number writes the patches' final numbers, from 1 without gaps.
func (l *Labels) number(runs []run, up forest) {
	final := make([]int32, len(up))
	for _, r := range runs {
		root := up.root(r.label)
		if final[root] == 0 {
			l.N++
			final[root] = int32(l.N)
		}
		row := l.L[int(r.y)*l.W:]
		for x := r.from; x < r.to; x++ {
			row[x] = final[root]
		}
	}
}

// box is the smallest upright rectangle around a patch; x1 and y1 are beyond it.
type box struct{ x0, y0, x1, y1, area int }

// boxes are the rectangles of all patches, by number.
func (l Labels) boxes() []box {
	all := make([]box, l.N+1)
	for y := range l.H {
		for x, k := range l.L[y*l.W : (y+1)*l.W] {
			if k == 0 {
				continue
			}
			b := &all[k]
			if b.area == 0 {
				*b = box{x, y, x + 1, y + 1, 1}
				continue
			}
			b.x0, b.x1, b.y1 = min(b.x0, x), max(b.x1, x+1), y+1
			b.area++
		}
	}
	return all
}

func (b box) w() int { return b.x1 - b.x0 }
func (b box) h() int { return b.y1 - b.y0 }
