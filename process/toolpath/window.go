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
	w.now += t
	w.melt += melt
	best := 0.0
	// What has left since the tail bounds every window that ends in this step;
	// while that is too little, nothing need be worked out and the tail stays.
	if melt > 0 && w.melt-w.tailV > floor || w.n >= crowded {
		best = w.search(from, t, melt, floor)
		if w.n >= crowded && (w.now-w.entered)*finest < w.width || w.n == mostSteps {
			w.ends[(w.head+w.n-1)&(mostSteps-1)] = stepEnd{w.now, w.melt}
			return best
		}
	}
	w.entered = from
	w.ends[(w.head+w.n)&(mostSteps-1)] = stepEnd{w.now, w.melt}
	w.n++
	return best
}

// search drops the step ends that have left and gives the largest volume in a
// window that ends in the step from from, t long, or 0 if none is above floor.
// Whether one is, is asked without the division that working it out takes.
func (w *window) search(from, t, melt, floor float64) float64 {
	best := 0.0
	for w.n > 0 {
		e := &w.ends[w.head]
		edge := e.at + w.width
		if edge > w.now {
			break
		}
		// Windows that begin where this step ended: they end at edge.
		if over, late := w.melt-e.melt-floor, w.now-edge; edge >= from && over*t > melt*late {
			if v := floor + over - melt*late/t; v > best {
				best = v
			}
		}
		w.tail, w.tailV = e.at, e.melt
		w.head = (w.head + 1) & (mostSteps - 1)
		w.n--
	}
	// The window that ends now begins within the oldest entry, or in this step.
	next := stepEnd{w.now, w.melt}
	if w.n > 0 {
		next = w.ends[w.head]
	}
	over, part, span := w.melt-w.tailV-floor, w.now-w.width-w.tail, next.at-w.tail
	if part < 0 {
		part = 0
	}
	if lost := next.melt - w.tailV; span <= 0 {
		best = max(best, floor+over)
	} else if part = min(part, span); over*span > lost*part {
		best = max(best, floor+over-lost*part/span)
	}
	return best
}
