package toolpath

import "math"

// sameHeight [m]: two extruding moves belong to one layer when their heights
// differ by less; a micrometre is below any layer and above rounding.
const sameHeight = 1e-6

// layers is the table of layers, bounded: when it is full, neighbours merge and
// every row from then on holds twice as many layers.
type layers struct {
	rows   []Layer // Time and Peak are the clock's and come in at the end
	most   int
	shift  uint // a row holds 1<<shift layers
	serial int  // number of the layer being printed, -1 before the first
	z      float64
	start  Layer  // what comes before the first layer
	row    *Layer // the row being filled
}

func (l *layers) begin(most int) {
	l.most, l.serial, l.row = most, -1, &l.start
}

// of is the row of a layer.
func (l *layers) of(serial int) *Layer {
	if serial < 0 {
		return &l.start
	}
	return &l.rows[serial>>l.shift]
}

// at says that an extruding move runs at height z.
func (l *layers) at(z float64, line int64) {
	if l.serial >= 0 && math.Abs(z-l.z) <= sameHeight {
		return
	}
	l.serial++
	l.z = z
	if l.serial>>l.shift == len(l.rows) && len(l.rows) == l.most {
		l.halve()
	}
	if l.serial>>l.shift == len(l.rows) {
		l.rows = append(l.rows, Layer{Z: z, Top: z, Line: line, Merged: 1})
		l.row = l.of(l.serial)
		return
	}
	l.row = l.of(l.serial)
	r := l.row
	r.Z, r.Top = min(r.Z, z), max(r.Top, z)
	r.Merged++
}

// halve merges rows in pairs.
func (l *layers) halve() {
	half := (len(l.rows) + 1) / 2
	for i := range half {
		r := l.rows[2*i]
		if 2*i+1 < len(l.rows) {
			b := &l.rows[2*i+1]
			r.Z, r.Top = min(r.Z, b.Z), max(r.Top, b.Top)
			r.Volume += b.Volume
			r.Moves += b.Moves
			r.Merged += b.Merged
		}
		l.rows[i] = r
	}
	l.rows = l.rows[:half]
	l.shift++
}
