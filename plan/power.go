package plan

import (
	"math"
	"slices"

	"hopperful/estimate"
	"hopperful/process/breakage"
	"hopperful/shop"
)

// draw is what a mill is thought to take from the socket at one level while it
// grinds, before a plan's draws scatter it.
type draw struct {
	estimate.Load
	how string // code of where the number comes from, filled with the level
}

// Without a meter a mill's draw is guessed from its label. Judgement: labels
// give the start-up or stalled draw; grinding takes about half of it.
const (
	labelShare    = 0.5
	labelSpread   = 1.35
	unknownPower  = 1200.0 // W, a bench mill of which not even the label is known
	unknownSpread = 1.8
	meterSpread   = 1.06 // the same level drew a little more or less each day
	betweenSpread = 1.12 // read between two measured levels
)

// fullDraw is the draw without a controller, or at its highest level.
func fullDraw(m shop.Mill) draw {
	if m.RatedPower == nil {
		return draw{Load: estimate.Load{Watts: unknownPower * labelShare, Spread: unknownSpread}, how: "plan.draw_assumed"}
	}
	return draw{Load: estimate.Load{Watts: *m.RatedPower * labelShare, Spread: labelSpread}, how: "plan.draw_of_label"}
}

// levelsOf is how many levels the mill's controller has, 0 without one.
func levelsOf(m shop.Mill) int {
	if m.Controller == nil {
		return 0
	}
	return max(m.Controller.Levels, 0)
}

// draws lists what the mill takes at each of its controller's levels, from
// gentle to full; one entry when it has no controller.
func draws(m shop.Mill) []draw {
	if levelsOf(m) == 0 {
		return []draw{fullDraw(m)}
	}
	all := make([]draw, m.Controller.Levels)
	for i := range all {
		all[i] = drawAt(m, i+1)
	}
	return all
}

// loads are the draws at each level, nil without a controller.
func loads(m shop.Mill) []estimate.Load {
	if levelsOf(m) == 0 {
		return nil
	}
	all := make([]estimate.Load, m.Controller.Levels)
	for i := range all {
		all[i] = drawAt(m, i+1).Load
	}
	return all
}

// drawAt is what the mill takes at one level: as metered, between two metered
// levels, or from the label by phase angle.
func drawAt(m shop.Mill, level int) draw {
	full := fullDraw(m)
	full.Level, full.Share = level, float64(level)/float64(m.Controller.Levels)
	full.Phase = levelShare(level, m.Controller.Levels)
	full.Watts *= full.Phase
	if full.how = "plan.draw_of_label_at"; m.RatedPower == nil {
		full.how = "plan.draw_assumed_at"
	}
	watts, exact, ok := read(m.Controller.Watts, level)
	if !ok {
		return full
	}
	d := draw{Load: estimate.Load{Watts: watts, Spread: betweenSpread, Level: level, Share: full.Share}, how: "plan.draw_between"}
	if exact {
		d.Spread, d.how = meterSpread, "plan.draw_metered"
	}
	if idle, _, ok := read(m.Controller.IdleWatts, level); ok && idle < watts {
		d.IdleShare = idle / watts
	}
	return d
}

// angleAt is the firing angle of a controller whose angle falls evenly with its
// levels, from late to none. Common practice, no source; a meter says better.
func angleAt(level, levels int) float64 { return math.Pi * (1 - float64(level)/float64(levels)) }

// levelShare is the share of full power a resistive load draws at a level.
func levelShare(level, levels int) float64 {
	share, err := breakage.PhasePower(angleAt(level, levels))
	if err != nil { // a level outside its controller
		return 1
	}
	return share
}

// voltageShare is the share of the full voltage at a level, 1 without a
// controller.
func voltageShare(m shop.Mill, d draw) float64 {
	if m.Controller == nil || d.Level == 0 {
		return 1
	}
	share, err := breakage.PhaseVoltage(angleAt(d.Level, m.Controller.Levels))
	if err != nil {
		return 1
	}
	return math.Max(share, 0.01)
}

// read looks a level up in meter readings, linearly between two of them. A
// level outside the readings is not guessed from them.
func read(readings []shop.LevelWatts, level int) (watts float64, exact, ok bool) {
	sorted := slices.Clone(readings)
	slices.SortFunc(sorted, func(a, b shop.LevelWatts) int { return a.Level - b.Level })
	for i, r := range sorted {
		if r.Level == level {
			return r.Watts, true, true
		}
		if r.Level > level && i > 0 && sorted[i-1].Level < level {
			p := sorted[i-1]
			share := float64(level-p.Level) / float64(r.Level-p.Level)
			return p.Watts + share*(r.Watts-p.Watts), false, true
		}
	}
	return 0, false, false
}
