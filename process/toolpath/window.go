package toolpath

// mostSteps moves are told apart within one window; more are drawn together in
// pairs of neighbours, which blurs the flow over less than a thousandth of it.
const mostSteps = 4096

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
}

type stepEnd struct{ at, melt float64 }

// begin puts in the start of the print, where the first window may begin.
func (w *window) begin(width float64) { w.width, w.n = width, 1 }

// add lets t seconds pass in which melt leaves at constant flow. It returns the
// largest volume in a window that ends in this step, or 0 if that is not above
// floor, which spares the work.
func (w *window) add(t, melt, floor float64) float64 {
	if t <= 0 {
		// A step without duration: the melt appears at once.
		w.melt += melt
		return 0
	}
	from := w.now
	w.now += t
	w.melt += melt
	best := 0.0
	// What has left since the tail bounds every window that ends in this step;
	// while that is too little, nothing need be worked out and the tail stays.
	if melt > 0 && w.melt-w.tailV > floor || w.n == mostSteps {
		best = w.search(from, t, melt)
	}
	if w.n == mostSteps {
		w.ends[(w.head+w.n-1)&(mostSteps-1)] = stepEnd{w.now, w.melt}
	} else {
		w.ends[(w.head+w.n)&(mostSteps-1)] = stepEnd{w.now, w.melt}
		w.n++
	}
	if best > floor {
		return best
	}
	return 0
}

// search drops the step ends that have left and gives the largest volume in a
// window that ends in the step from from, t long.
func (w *window) search(from, t, melt float64) float64 {
	best := 0.0
	for w.n > 0 {
		e := &w.ends[w.head]
		edge := e.at + w.width
		if edge > w.now {
			break
		}
		if edge >= from {
			if v := w.melt - melt*(w.now-edge)/t - e.melt; v > best {
				best = v
			}
		}
		w.tail, w.tailV = e.at, e.melt
		w.head = (w.head + 1) & (mostSteps - 1)
		w.n--
	}
	if v := w.melt - w.before(); v > best {
		best = v
	}
	return best
}

// before is the melt that had left when the window that ends now began.
func (w *window) before() float64 {
	start := w.now - w.width
	if start <= 0 {
		return 0
	}
	next := stepEnd{w.now, w.melt}
	if w.n > 0 {
		next = w.ends[w.head]
	}
	if next.at <= w.tail {
		return w.tailV
	}
	return w.tailV + (next.melt-w.tailV)*(start-w.tail)/(next.at-w.tail)
}
