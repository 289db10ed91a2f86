package toolpath

import "fmt"

// doG carries out a G word, straight moves of the hot path apart.
func (m *machine) doG(k *block) {
	switch k.code {
	case 0, 10, 20, 30:
		m.motion = k.code
		m.move(k)
	case 40:
		m.dwell(k)
	case 50, 51:
		m.warn.add(SplineAsLine, k.line)
		m.straight(k)
	case 170, 180, 190:
		m.plane = map[int32]int{170: 2, 180: 1, 190: 0}[k.code]
	case 200:
		m.setUnit(inch)
	case 210:
		m.setUnit(1e-3)
	case 280:
		m.home(k)
	case 800:
		m.motion = -1
	case 900, 910:
		m.relative = k.code == 910
		m.ext.followDistance(m.relative)
	case 901, 911:
		m.centre = k.code == 901
	case 920:
		m.setPosition(k)
	case 921, 922:
		m.off = [3]float64{}
	case 930, 950:
		m.warn.add(OddFeedMode, k.line)
	default:
		if !keepsState[k.code] && !harmlessG[k.code] {
			m.warn.show(UnknownG, k.line, fmt.Appendf(nil, "G%g", float64(k.code)/10))
		}
	}
}

// harmlessG holds G words that neither move melt nor the counted position:
// retraction by the printer itself (G10, G11), nozzle care, probing and levelling.
var harmlessG = map[int32]bool{
	100: true, 110: true, 120: true, 270: true, 290: true, 291: true, 292: true,
	300: true, 310: true, 320: true, 330: true, 340: true, 350: true, 600: true,
	760: true, 923: true,
}

// setUnit takes G20 and G21. The E counter keeps its physical place.
func (m *machine) setUnit(u float64) {
	if u == m.unit {
		return
	}
	m.ext.rescale(m.unit, u)
	m.unit = u
}

// dwell waits: P milliseconds or S seconds, as printers read it.
func (m *machine) dwell(k *block) {
	t := 0.0
	if k.has&hasP != 0 {
		t = k.v[slotP] / 1000
	}
	if k.has&hasS != 0 {
		t = k.v[slotS]
	}
	t = max(0, t)
	m.rest(k.line, t, 0)
}

// home sets the named axes, or all, to zero; the way there is not known.
func (m *machine) home(k *block) {
	m.rest(k.line, 0, 0)
	named := (k.has | k.bare) & hasXYZ
	for i := range 3 {
		if named == 0 || named&(1<<i) != 0 {
			m.pos[i], m.off[i] = 0, 0
			m.inLine = false
		}
	}
}

// setPosition takes G92: the counters change, the machine stays where it is.
func (m *machine) setPosition(k *block) {
	named := (k.has | k.bare) & (hasXYZ | hasE)
	for i := range 3 {
		if named == 0 || named&(1<<i) != 0 {
			at := 0.0
			if k.has&(1<<i) != 0 {
				at = k.v[i] * m.unit
			}
			m.off[i] = m.pos[i] - at
		}
	}
	if named == 0 || named&hasE != 0 {
		at := 0.0
		if k.has&hasE != 0 {
			at = k.v[slotE]
		}
		m.ext.set(at)
	}
}
