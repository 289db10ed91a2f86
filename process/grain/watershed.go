package grain

import (
	"cmp"
	"container/heap"
	"slices"
)

// Tops numbers the hilltops of a height map that stand out by at least their
// prominence; the others are 0. A top is as prominent as it is higher than the
// highest saddle that leads to a higher one.
//
//	w, h        size of the raster
//	height      of each pixel [any unit]; 0 and less is no hill
//	prominence  what a top of this height needs to stand by itself
//
// Equation: pixels are taken from the highest down; where two hills meet at level s,
// the lower top t stays when t − s ≥ prominence(t), else its hill joins the other.
// Holds for: any height map; what is left are the maxima of the h-maxima transform
// when prominence is constant.
// Source: own derivation, after the dynamics of a minimum (Grimaud1992).
// Errors: none.
// Checks: own derivation; TestTops and TestSecondLibrary.
func Tops(w, h int, height []float64, prominence func(top float64) float64) []int32 {
	order := make([]int32, 0, len(height))
	for i, v := range height {
		if v > 0 {
			order = append(order, int32(i))
		}
	}
	slices.SortFunc(order, func(a, b int32) int {
		return cmp.Or(cmp.Compare(height[b], height[a]), cmp.Compare(a, b))
	})
	hill := make([]int32, len(height)) // 1 + the hill's number
	var up forest
	var top []int32 // the pixel of each hill's top
	for _, i := range order {
		mine := int32(-1)
		around(w, h, int(i), func(j int) {
			if hill[j] == 0 {
				return
			}
			other := up.root(hill[j] - 1)
			switch {
			case mine < 0:
				mine = other
			case mine != other:
				a, b := mine, other // a the higher
				if height[top[b]] > height[top[a]] {
					a, b = b, a
				}
				if t := height[top[b]]; t-height[i] >= prominence(t) {
					mine = a
					return
				}
				keep := top[a]
				mine = up.join(a, b)
				top[mine] = keep
			}
		})
		if mine < 0 {
			mine = int32(len(up))
			up, top = append(up, mine), append(top, i)
		}
		hill[i] = mine + 1
	}
	out := make([]int32, len(height))
	n := int32(0)
	for k := range up {
		if up.root(int32(k)) == int32(k) {
			n++
			out[top[k]] = n
		}
	}
	return out
}

// around visits the eight neighbours of a pixel.
func around(w, h, i int, visit func(j int)) {
	x, y := i%w, i/w
	for dy := -1; dy <= 1; dy++ {
		for dx := -1; dx <= 1; dx++ {
			if (dx != 0 || dy != 0) && x+dx >= 0 && x+dx < w && y+dy >= 0 && y+dy < h {
				visit(i + dy*w + dx)
			}
		}
	}
}

// flood is the queue of a watershed: highest first, and in the order of coming.
type flood struct {
	pixel []int32
	age   []int32
	h     []float64
}

func (f *flood) Len() int { return len(f.pixel) }
func (f *flood) Less(a, b int) bool {
	return f.h[a] > f.h[b] || f.h[a] == f.h[b] && f.age[a] < f.age[b]
}
func (f *flood) Swap(a, b int) {
	f.pixel[a], f.pixel[b] = f.pixel[b], f.pixel[a]
	f.age[a], f.age[b] = f.age[b], f.age[a]
	f.h[a], f.h[b] = f.h[b], f.h[a]
}
func (f *flood) Push(any) {} // put does it, without boxing
func (f *flood) Pop() any { return nil }

func (f *flood) put(pixel, age int32, h float64) {
	f.pixel, f.age, f.h = append(f.pixel, pixel), append(f.age, age), append(f.h, h)
	heap.Fix(f, len(f.pixel)-1)
}

func (f *flood) take() int32 {
	n := len(f.pixel) - 1
	p := f.pixel[0]
	f.Swap(0, n)
	f.pixel, f.age, f.h = f.pixel[:n], f.age[:n], f.h[:n]
	if n > 0 {
		heap.Fix(f, 0)
	}
	return p
}

// Watershed parts the hills of a height map among the tops: each pixel goes to
// the top from which it is reached without going lower than need be.
//
//	w, h    size of the raster
//	height  of each pixel [any unit]; 0 and less stays ground
//	tops    number of the hill at its top, 0 elsewhere
//
// Equation: flooding from the tops in falling order of height, first come first served
// on level ground.
// Holds for: any height map; a hill without a top stays ground.
// Source: Meyer1994, the flooding with an ordered queue.
// Errors: none.
// Checks: SciPy2023, floods by grey_dilation on the same rasters; TestSecondLibrary.
func Watershed(w, h int, height []float64, tops []int32) []int32 {
	out := make([]int32, len(height))
	q := &flood{}
	age := int32(0)
	for i, t := range tops {
		if t != 0 && height[i] > 0 {
			out[i] = t
			q.put(int32(i), age, height[i])
			age++
		}
	}
	for q.Len() > 0 {
		i := int(q.take())
		around(w, h, i, func(j int) {
			if out[j] == 0 && height[j] > 0 {
				out[j] = out[i]
				q.put(int32(j), age, min(height[j], height[i]))
				age++
			}
		})
	}
	return out
}
