package toolpath

// timeTable keeps time and peak flow by layer, with the bound and the merging of
// [layers], so that the clock need not wait for the machine.
type timeTable struct {
	rows  []timeRow
	most  int
	shift uint
	start timeRow // before the first layer
	total float64 // [s]

	peak       float64 // largest volume in a window [m³]
	peakLine   int64
	peakSerial int
}

type timeRow struct {
	time float64 // [s]
	peak float64 // largest volume in a window that ends here [m³]
}

// row is the row of a layer, made when it is not there yet.
func (t *timeTable) row(serial int) *timeRow {
	if serial < 0 {
		return &t.start
	}
	if serial>>t.shift >= t.most {
		t.halve()
	}
	for len(t.rows) <= serial>>t.shift {
		t.rows = append(t.rows, timeRow{})
	}
	return &t.rows[serial>>t.shift]
}

// add books time to a layer.
func (t *timeTable) add(serial int, time float64) {
	t.total += time
	t.row(serial).time += time
}

// note keeps the highest peak of all, and where it was.
func (t *timeTable) note(volume float64, l *leg) {
	if volume > t.peak {
		t.peak, t.peakLine, t.peakSerial = volume, l.line, l.serial
	}
}

// halve merges rows in pairs.
func (t *timeTable) halve() {
	half := (len(t.rows) + 1) / 2
	for i := range half {
		r := t.rows[2*i]
		if 2*i+1 < len(t.rows) {
			b := t.rows[2*i+1]
			r.time += b.time
			r.peak = max(r.peak, b.peak)
		}
		t.rows[i] = r
	}
	t.rows = t.rows[:half]
	t.shift++
}
