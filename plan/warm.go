package plan

import (
	"math"

	"hopperful/estimate"
	"hopperful/process/heat"
)

// warmth gives charge and wall temperature at one time of a run, over the room,
// as a linear map of those at its start. The heat balance is linear, so one
// pass through a run serves every charge of every campaign.
type warmth struct {
	chargeByCharge, chargeByWall, chargeOwn float64
	wallByCharge, wallByWall, wallOwn       float64
}

// from applies the map to the temperatures at the start [K over the room].
func (w warmth) from(charge, wall float64) (float64, float64) {
	return w.chargeByCharge*charge + w.chargeByWall*wall + w.chargeOwn,
		w.wallByCharge*charge + w.wallByWall*wall + w.wallOwn
}

// through is from, where the charge meets a wall that is warmer inside by a factor
// than a thermometer outside says.
func (w warmth) through(charge, wall, inner float64) (float64, float64) {
	tc, _ := w.from(charge, wall*inner)
	_, tw := w.from(charge, wall)
	return tc, tw
}

// How much warmer over the room the wall is inside than what is read outside, as a
// factor's logarithm. Judgement: bright metal shows a thermometer half to nine tenths
// of its rise, and a thick pot follows its inside minutes later; in a row of charges both add up.
const (
	innerMore   = 0.2
	innerSpread = 0.3
	innerErrs   = 0.4 // that the factor is off by, where charges were read on warm walls
	mostInner   = 3.0
	evenOut     = 120.0 // s in which the part of it that is lag fades by e: a wall of some millimetres
)

// innerAfter is that factor in a draw once the mill has stood for a time [s]: what a bright
// wall hides stays hidden, and what a thick one lags behind evens out.
func (b *bench) innerAfter(i int, rest float64) float64 {
	return 1 + (b.inner(i)-1)*b.lasts(i, rest)
}

// lasts is the share of a wall's excess inside that is left after a rest [s] in a draw; all
// of it after the shortest there is, or where nobody knows how long.
func (b *bench) lasts(i int, rest float64) float64 {
	if i >= len(b.lags) || rest <= defaultHandling {
		return 1
	}
	return 1 - b.lags[i]*(1-math.Exp(-(rest-defaultHandling)/evenOut))
}

// inner is that factor in a draw right after a run; never below one.
func (b *bench) inner(i int) float64 {
	if i >= len(b.walls) {
		return 1
	}
	return b.walls[i]
}

// innerOf is the factor of a draw's score.
func innerOf(score float64) float64 { return math.Max(1, math.Exp(innerMore+innerSpread*score)) }

// scorched stands for a draw the heat balance refuses, beyond 400 °C: far above
// any limit, so the draw counts as broken and its exact height does not matter.
var scorched = warmth{chargeOwn: 380, wallOwn: 380}

// warm works the temperatures of a run out, started with a mass in the mill.
// The bearings' and windings' heat of the idling mill stays outside the pot.
func (b *bench) warm(row []float64, before float64, at []float64, v view) []warmth {
	pot := estimate.Pot(row, wallArea(chamberOf(b.mill)))
	n := len(at)
	buffer := make([]float64, 2*n)
	course := heat.Course{Time: at, Held: v.held, Energy: v.energy, Charge: buffer[:n], Wall: buffer[n:]}
	out := make([]warmth, n)
	run := func(charge, wall float64, keep func(w *warmth, charge, wall float64)) bool {
		state := heat.State{Charge: reference + charge, Wall: reference + wall}
		var account heat.Account
		if _, err := pot.Follow(&state, &account, before, reference, &course); err != nil {
			return false
		}
		for k := range out {
			keep(&out[k], course.Charge[k]-reference, course.Wall[k]-reference)
		}
		return true
	}
	ok := run(0, 0, func(w *warmth, c, t float64) { w.chargeOwn, w.wallOwn = c, t }) &&
		run(1, 0, func(w *warmth, c, t float64) { w.chargeByCharge, w.wallByCharge = c-w.chargeOwn, t-w.wallOwn }) &&
		run(0, 1, func(w *warmth, c, t float64) { w.chargeByWall, w.wallByWall = c-w.chargeOwn, t-w.wallOwn })
	if !ok {
		for k := range out {
			out[k] = scorched
		}
	}
	return out
}

// reference is the room the maps are worked out in [K]; they hold for any.
const reference = 293.15
