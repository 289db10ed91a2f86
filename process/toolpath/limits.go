package toolpath

import "math"

// perMinute [mm/s]: M203 counts in units per second; where a number is this
// large, the writer meant units per minute: judgement, no printer moves at 1 m/s.
const perMinute = 1000

// limits keep what the file says about acceleration and speed.
type limits struct {
	print, travel float64    // along the path [m/s²]
	axes          bool       // a limit of a single axis was given
	accel, speed  [3]float64 // of each axis [m/s²], [m/s]; +Inf without
}

func (l *limits) start(a float64) {
	l.print, l.travel = a, a
	for i := range 3 {
		l.accel[i], l.speed[i] = math.Inf(1), math.Inf(1)
	}
}

// set takes M204 (along the path), M201 (acceleration of an axis) and M203
// (speed of an axis). It reports false when a number is out of any likely range.
func (l *limits) set(k *block, unit float64, w *warnings) bool {
	likely := func(v float64) bool { return v >= 1e-3 && v <= 1000 }
	good := true
	if k.code == 2040 {
		for _, to := range [...]struct {
			bit  uint16
			slot int
			dst  []*float64
		}{
			{hasS, slotS, []*float64{&l.print, &l.travel}},
			{hasP, slotP, []*float64{&l.print}},
			{hasT, slotT, []*float64{&l.travel}},
		} {
			if k.has&to.bit == 0 {
				continue
			}
			v := k.v[to.slot] * unit
			if !likely(v) {
				good = false
				continue
			}
			for _, d := range to.dst {
				*d = v
			}
		}
		return good
	}
	for i := range 3 {
		if k.has&(1<<i) == 0 {
			continue
		}
		v := k.v[i] * unit
		if k.code == 2030 && v >= perMinute*1e-3 {
			w.add(LimitPerMinute, k.line)
			v /= 60
		}
		if !likely(v) {
			good = false
			continue
		}
		l.axes = true
		if k.code == 2010 {
			l.accel[i] = v
		} else {
			l.speed[i] = v
		}
	}
	return good
}

// hold lowers speed and acceleration of a leg until no axis passes its own
// limit; reach over its length is the largest share of each axis in its direction.
func (l *limits) hold(g *leg, reach *[3]float64) {
	for i, most := range reach {
		share := math.Abs(most) / g.length
		if share*g.speed > l.speed[i] {
			g.speed = l.speed[i] / share
		}
		if share*g.accel > l.accel[i] {
			g.accel = l.accel[i] / share
		}
	}
}
