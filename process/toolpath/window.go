package toolpath

// mostSteps is the room for step ends within one window, a power of two so that
// a place in the ring is found by a mask.
const mostSteps = 4096

// When more than crowded steps lie within one window, steps shorter than the
// window over finest are drawn together with their neighbour: two entries then
// span at least that much, so the room suffices, and the flow is blurred over a
// thousandth of the window at most. Usual prints never come near.
const (
	crowded = mostSteps / 4
	finest  = 1024
)

// window finds the largest volume that leaves within any stretch of time of its
// width. Flow is constant within a step, so the volume within the window is a
// straight line in time between steps that enter and steps that leave: its
// largest value lies where a step ends at either edge, and only these are tried.
type window struct {
	width       float64 // [s]
	now, melt   float64 // clock [s] and melt so far [m³]
	tail, tailV float64 // the last step end that has left the window
	ends        [mostSteps]stepEnd
	head, n     int
	entered     float64 // where the newest entry begins [s]
}

type stepEnd struct{ at, melt float64 }

// begin puts in the start of the print, where the first window may begin.
func (w *window) begin(width float64) { w.width, w.n = width, 1 }

// add lets t seconds pass in which melt leaves at constant flow. It returns the
// largest volume in a window that ends in this step, or 0 if that is not above
// floor, which spares the work.
func (w *window) add(t, melt, floor float64) float64 {
	from := w.now
	now, sum := from+t, w.melt+melt
	w.now, w.melt = now, sum
	best := 0.0
	// What has left since the tail bounds every window that ends in this step;
	// while that is too little, nothing need be worked out and the tail stays.
	if melt > 0 && sum-w.tailV > floor || w.n >= crowded {
		// Whether a window is larger than floor is asked without the division that
		// working its volume out takes.
		best = floor
		head, n, tail, tailV, width := w.head, w.n, w.tail, w.tailV, w.width
		next := stepEnd{now, sum}
		for ; n > 0; n-- {
			e := &w.ends[head&(mostSteps-1)]
			edge := e.at + width
			if edge > now {
				next = *e
				break
			}
			// Windows that begin where this step ended: they end at edge.
			if over, late := sum-e.melt-floor, now-edge; edge >= from && over*t > melt*late {
				best = larger(best, floor+over-melt*late/t)
			}
			tail, tailV = e.at, e.melt
			head++
		}
		w.head, w.n, w.tail, w.tailV = head, n, tail, tailV
		// The window that ends now begins within the oldest entry, or in this step.
		over, part, span := sum-tailV-floor, now-width-tail, next.at-tail
		if part < 0 {
			part = 0
		}
		if lost := next.melt - tailV; span <= 0 {
			best = larger(best, floor+over)
		} else {
			if part > span {
				part = span
			}
			if over*span > lost*part {
				best = larger(best, floor+over-lost*part/span)
			}
		}
		if best == floor {
			best = 0
		}
		if n >= crowded && (now-w.entered)*finest < width || n == mostSteps {
			w.ends[(head+n-1)&(mostSteps-1)] = stepEnd{now, sum}
			return best
		}
	}
	w.entered = from
	w.ends[(w.head+w.n)&(mostSteps-1)] = stepEnd{now, sum}
	w.n++
	return best
}

// larger of two numbers, none of them NaN: the built-in max pays for it.
func larger(a, b float64) float64 {
	if b > a {
		return b
	}
	return a
}
