// How a sheet stands in the picture, from four of its marks.

package grain

import (
	"cmp"
	"math"
	"slices"
)

// stand takes four marks for those of a sheet and says how far they are off.
func stand(four [4]mark) (Standing, bool) {
	mid := Point{}
	for _, m := range four {
		mid = mid.plus(m.middle.times(0.25))
	}
	around := four[:]
	slices.SortFunc(around, func(a, b mark) int {
		pa, pb := a.middle.minus(mid), b.middle.minus(mid)
		return cmp.Compare(math.Atan2(pa.Y, pa.X), math.Atan2(pb.Y, pb.X))
	})
	best, found := Standing{Off: math.Inf(1)}, false
	for _, mirrored := range [2]bool{false, true} {
		better := 1.0
		if mirrored { // some front cameras do; a sheet that looks alike in a mirror is seen without one
			slices.Reverse(around)
			better = 0.5
		}
		for first := range 4 {
			var turned [4]mark
			for i := range turned {
				turned[i] = around[(first+i)%4]
			}
			for _, sheet := range []Sheet{WholeSheet(), HalfSheet()} {
				if !dotted(turned, sheet) {
					continue
				}
				if s, ok := fitMarks(turned, sheet); ok && s.Off < better*best.Off {
					best, found = s, true
				}
			}
		}
	}
	return best, found
}

func dotted(m [4]mark, s Sheet) bool {
	for i := range m {
		if m[i].dotted != s.Dotted[i] {
			return false
		}
	}
	return true
}

// fitMarks lays a sheet under four marks in its order.
func fitMarks(m [4]mark, sheet Sheet) (Standing, bool) {
	middles := sheet.Middles()
	seen := []Point{m[0].middle, m[1].middle, m[2].middle, m[3].middle}
	rough, err := FitHomography(middles[:], seen)
	if err != nil {
		return Standing{}, false
	}
	var corners []Point
	for i, ideal := range sheet.corners(1) {
		near, best := Point{}, math.Inf(1)
		for _, c := range m[i/4].corners {
			if d := c.to(rough.To(ideal)); d < best {
				near, best = c, d
			}
		}
		corners = append(corners, near)
	}
	// Ink that ran: the size of the marks at which the corners fit best.
	off := func(swell float64) (Homography, float64) {
		ideal := sheet.corners(swell)
		h, err := FitHomography(ideal, corners)
		if err != nil {
			return h, math.Inf(1)
		}
		back, sum := inverse(h), 0.0
		for i, c := range corners {
			d := back.To(c).minus(ideal[i])
			sum += d.dot(d)
		}
		return h, math.Sqrt(sum / float64(len(corners)))
	}
	swell := leastAt(0.9, 1.1, func(s float64) float64 { _, o := off(s); return o })
	h, o := off(swell)
	return Standing{Homography: h, Sheet: sheet, Off: o}, !math.IsInf(o, 1)
}

// leastAt finds the place of the least value by the golden section.
func leastAt(lo, hi float64, f func(float64) float64) float64 {
	const golden = 0.6180339887498949
	a, b := hi-golden*(hi-lo), lo+golden*(hi-lo)
	fa, fb := f(a), f(b)
	for range 24 {
		if fa < fb {
			hi, b, fb = b, a, fa
			a = hi - golden*(hi-lo)
			fa = f(a)
		} else {
			lo, a, fa = a, b, fb
			b = lo + golden*(hi-lo)
			fb = f(b)
		}
	}
	return (lo + hi) / 2
}
