package toolpath

import "math"

// mostTools a file may name; the table of tools is fixed.
const mostTools = 64

// nothing [m³] is the volume below which a move after a retraction counts as
// bringing the melt back and no more: one millionth of a cubic millimetre, far
// below the last digit of any E word, far above what rounding leaves behind.
const nothing = 1e-15

// extruder keeps the E axis: one counter for all tools, as printers do, and for
// each tool what it owes from retracting.
type extruder struct {
	tools [mostTools]toolState
	at    int // tool in use

	e        float64 // counter, in the file's units of E
	relative bool
	latched  bool // M83 was the last word of M82 and M83

	meaning    EMeaning // what the options say
	unit       float64  // metres in a length word
	perTurn    float64  // [m³]
	fresh      bool     // G92 E came after the last E move
	changed    bool     // the tool changed after the last E move
	saidVolume bool     // the file made E a volume
	usedLength bool     // E was used as a length
	usedVolume bool

	pull, load float64 // pulled back on the spot by this tool, and still to be pushed by it [m³]; see loading.go
}

type toolState struct {
	perE       float64 // melt for one unit of E [m³], without flow
	flow       float64 // factor of M221
	owed       float64 // retracted and not yet brought back [m³]
	volume     float64 // [m³]
	time       float64 // [s]
	diameter   float64 // [m]
	nozzle     float64 // [K]
	volumetric bool
}

func (x *extruder) start(o Options) {
	x.meaning, x.unit, x.perTurn, x.fresh = o.E, 1e-3, o.PerRevolution, true
	for i := range x.tools {
		x.tools[i].flow, x.tools[i].diameter = 1, at(o.Diameters, i, o.Diameter)
		x.tools[i].volumetric = o.E == EVolume
	}
	x.scale()
}

// scale works out what a unit of E is worth for each tool. A length counts in
// the unit of G20 and G21, a volume in that unit cubed.
func (x *extruder) scale() {
	for i := range x.tools {
		t := &x.tools[i]
		switch {
		case x.meaning == ERevolution:
			t.perE = x.perTurn
		case t.volumetric:
			t.perE = x.unit * x.unit * x.unit
		default:
			t.perE = math.Pi / 4 * t.diameter * t.diameter * x.unit
		}
	}
}

// rescale changes the unit of length and keeps the counter's physical place.
func (x *extruder) rescale(from, to float64) {
	switch {
	case x.meaning == ERevolution:
	case x.tools[x.at].volumetric:
		x.e *= from * from * from / (to * to * to)
	default:
		x.e *= from / to
	}
	x.unit = to
	x.scale()
}

// followDistance takes G90 and G91. G91 makes E relative with the other axes;
// G90 gives E back to what M82 or M83 said last, absolute when neither did.
func (x *extruder) followDistance(relative bool) { x.relative = relative || x.latched }

// setRelative takes M82 and M83.
func (x *extruder) setRelative(relative bool) { x.relative, x.latched = relative, relative }

// set takes G92 E.
func (x *extruder) set(e float64) { x.e, x.fresh = e, true }

// selectTool changes the tool; the counter goes on.
func (x *extruder) selectTool(n int) {
	if n != x.at {
		x.swap()
		x.at = n
		x.changed = true
	}
}

// setFlow takes M221 for the named tool, or the one in use.
func (x *extruder) setFlow(k *block, f float64) {
	n := x.at
	if k.has&hasT != 0 {
		var ok bool
		if n, ok = toolNumber(k.v[slotT]); !ok {
			return
		}
	}
	x.tools[n].flow = f
}

// setVolumetric takes M200 for the named tool, or the one in use and all that
// have not extruded yet: a file that says it once means every tool.
func (x *extruder) setVolumetric(k *block, unit float64) bool {
	lo, hi := 0, mostTools
	if k.has&hasT != 0 {
		n, ok := toolNumber(k.v[slotT])
		if !ok {
			return false
		}
		lo, hi = n, n+1
	}
	for i := lo; i < hi; i++ {
		t := &x.tools[i]
		if k.has&hasD != 0 {
			d := k.v[slotD] * unit
			t.volumetric = d > 0
			if d > 0 {
				t.diameter = d
			}
		}
		if k.has&hasS != 0 {
			t.volumetric = k.v[slotS] != 0
		}
		x.saidVolume = x.saidVolume || t.volumetric
	}
	x.scale()
	return true
}

// push takes the E word of a move and returns the melt that leaves the nozzle
// [m³], nothing while the tool still owes from a retraction, and the way of E
// in the file's units.
func (m *machine) push(k *block) (melt, way float64) {
	x := &m.ext
	t := &x.tools[x.at]
	way = k.v[slotE]
	if x.relative {
		x.e += way
	} else {
		if x.changed && !x.fresh {
			m.warn.add(ToolWithoutReset, k.line)
		}
		// The counter takes the word itself, not a sum: no rounding piles up, and
		// the same word again is no way at all.
		way, x.e = way-x.e, way
	}
	x.changed, x.fresh = false, false
	v := way * t.perE
	if v <= 0 {
		if v < 0 {
			t.owed -= v
			m.count.Retractions++
		}
		return 0, way
	}
	if t.owed > 0 {
		back := min(t.owed, v)
		t.owed -= back
		v -= back
		if v < nothing {
			return 0, way
		}
	}
	if t.volumetric {
		x.usedVolume = true
	} else {
		x.usedLength = true
	}
	v *= t.flow
	t.volume += v
	return v, way
}
