package toolpath

// Tells melt that is printed from filament that is only pushed to the nozzle.

// leastPull [m³]: what a tool gives back on the spot before it is changed is
// unloading from this much on, 25 mm of 1.75 mm filament; retractions between two
// moves, and those of printers with a nozzle a tool, are shorter. Judgement.
const leastPull = 60e-9

// pulled notes E moves on the spot while a tool is in use.
func (x *extruder) pulled(v float64) {
	x.pull = max(0, x.pull-v)
}

// swap gives the next tool what the last one pulled back: so much has to be pushed
// before anything leaves the nozzle. Screws are not loaded.
func (x *extruder) swap() {
	if x.pull >= leastPull && x.meaning != ERevolution {
		x.load = x.pull
	}
	x.pull = 0
}

// loading is the part of what a push of v on the spot gave as melt that only
// brings filament back to the nozzle. Paying back a tool's own debt uses it up too.
func (x *extruder) loading(v, melt float64) float64 {
	if x.load <= 0 || v <= 0 {
		return 0
	}
	left := x.load - max(0, v-melt)
	x.load = max(0, x.load-v)
	return max(0, min(melt, left))
}

// printed forgets both once a path is printed.
func (x *extruder) printed() { x.pull, x.load = 0, 0 }

// onTheSpot takes the loading out of a push that moves no axis.
func (m *machine) onTheSpot(k *block, melt, way float64) float64 {
	x := &m.ext
	t := &x.tools[x.at]
	v := way * t.perE
	if part := x.loading(v, melt/t.flow); part > 0 {
		part *= t.flow
		t.volume = max(0, t.volume-part)
		melt -= part
		m.loaded += part
		m.warn.add(Loading, k.line)
	}
	if melt < nothing {
		t.volume = max(0, t.volume-melt)
		melt = 0
	}
	x.pulled(v)
	return melt
}
