package plan

import (
	"cmp"
	"math"
	"slices"
	"time"

	"hopperful/estimate"
	"hopperful/process/breakage"
	"hopperful/shop"
)

// A charge that came out of the mill as grains did not melt there. Where nobody
// read its temperature, that is what the runs on record say of it.

// Judgement: a charge whose mean is stickAt below softening sticks in half of the
// cases, for its hottest grains are warmer; and a run that stuck would have been
// noted as a stall, or given little.
const (
	stickAt     = 5.0 // K
	stickSpread = 3.0 // K
	cameOut     = 0.5 // of the charge through the screen, at least
	mostTelling = 3   // of the hardest settings are looked at
	mostTimesOf = 4   // runs at one count: they share the model's error
)

// told is a setting that was run without trouble, and how often.
type told struct {
	run  estimate.Run
	draw draw
	n    int
}

// unspoiltRuns are the hardest settings on record whose charge came out well. The
// sitting that goes on tells nothing yet: nobody has looked at its granulate.
func unspoiltRuns(log *logbook, m shop.Mill, now time.Time) []told {
	levels := draws(m)
	var all []told
	for _, r := range log.runs[:len(log.runs)-len(sittingOf(log, now))] {
		if r.Stalled || r.Load.Watts <= 0 || r.ChargeAfter != nil || r.Product == nil || *r.Product < cameOut*r.Charge || r.Load.Level > len(levels) {
			continue
		}
		d := levels[max(r.Load.Level, 1)-1]
		same := func(t told) bool {
			return t.draw.Level == d.Level && math.Abs(t.run.Time-r.Time) < 0.1*r.Time && math.Abs(t.run.Charge-r.Charge) < 0.1*r.Charge
		}
		if i := slices.IndexFunc(all, same); i >= 0 {
			all[i].n++
			continue
		}
		all = append(all, told{r, d, 1})
	}
	hardness := func(t told) float64 { return t.draw.Watts * t.run.Time / math.Sqrt(t.run.Charge) }
	slices.SortStableFunc(all, func(a, b told) int { return cmp.Compare(hardness(b), hardness(a)) })
	return all[:min(len(all), mostTelling)]
}

// unspoilt draws again, so that draws in which those runs would have melted are
// taken as seldom as they are likely.
func (b *bench) unspoilt(runs []told) error {
	if len(runs) == 0 {
		return nil
	}
	weights := make([]float64, len(b.rows))
	for i := range weights {
		weights[i] = 1
	}
	for _, t := range runs {
		factors := b.offAt(b.off, t.draw, t.run.Charge, t.run.Time, nil)
		room := t.run.Room
		wall := room
		if t.run.WallBefore != nil {
			wall = math.Max(room, *t.run.WallBefore)
		}
		err := b.each(len(b.rows), func(m *breakage.Mill, i int) error {
			v, err := b.grind(m, b.rows[i], t.draw, t.run.Charge, nil, evenly(t.run.Time, 4), false)
			if err != nil {
				return err
			}
			charge, _ := v.heat[3].times(factors.Charge[i], factors.Heat[i]).from(0, wall-room)
			over := (room + charge - b.rows[i][estimate.Softening] + stickAt) / stickSpread
			weights[i] *= math.Pow(1/(1+math.Exp(over)), float64(min(t.n, mostTimesOf)))
			return nil
		})
		if err != nil {
			return err
		}
	}
	b.rows = resampled(b.rows, weights)
	return nil
}

// resampled takes every row as often as its weight asks for, as evenly as can be.
func resampled(rows [][]float64, weights []float64) [][]float64 {
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	if !(sum > leastWeight*float64(len(rows))) { // the models know of no such run: they have nothing to say
		return rows
	}
	out := make([][]float64, 0, len(rows))
	step := sum / float64(len(rows))
	next, at := step/2, 0.0
	for i, w := range weights {
		for at += w; next < at && len(out) < len(rows); next += step {
			out = append(out, rows[i])
		}
	}
	for len(out) < len(rows) { // the last digit of a sum
		out = append(out, rows[len(rows)-1])
	}
	return out
}

// leastWeight is the mean weight below which draws are left as they are.
const leastWeight = 0.02
