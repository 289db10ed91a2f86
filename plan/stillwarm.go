package plan

import (
	"math"
	"math/rand/v2"
	"time"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/process/breakage"
)

// A plan asked for between two charges begins with a mill that is still warm, and
// with what the last charge left; one on another day with what was left alone, as
// long as nobody wrote down that the mill was emptied.

// still is a mill as its last run left it.
type still struct {
	wall    []float64 // over the room at the stop, a draw; nil: cold [K]
	inside  []float64 // in the mill, a draw [kg]
	stopped float64   // since then [s]
}

// at is the wall over the room at the first start of a campaign with such rests.
func (s *still) at(row []float64, i int, rest float64) float64 {
	if !s.warm() {
		return 0
	}
	return s.wall[i] * coolsTo(row, s.stood(rest))
}

// warm reports whether the mill ran in the sitting that goes on.
func (s *still) warm() bool { return s != nil && s.wall != nil }

// wait is how long the mill has to stand yet before the first start, so that it
// has rested like between two charges [s].
func (s *still) wait(rest float64) float64 {
	if !s.warm() {
		return 0
	}
	return math.Max(0, rest-s.stopped)
}

// stood is how long the mill has stood at the first start of a campaign with such rests [s].
func (s *still) stood(rest float64) float64 {
	if !s.warm() {
		return rest
	}
	return math.Max(rest, s.stopped)
}

// residue is what a draw begins with [kg].
func (s *still) residue(i int) float64 {
	if s == nil {
		return 0
	}
	return s.inside[i]
}

// sittingOf are the runs of the sitting that now goes on, oldest first; none when
// the mill has stood for longer. Records written down one after the other, quicker
// than their runs can have taken, do not tell when they were.
func sittingOf(log *logbook, now time.Time) []estimate.Run {
	first, at := len(log.runs), now
	for i := len(log.runs) - 1; i >= 0; i-- {
		r := log.runs[i]
		stopped := log.times[r.Record]
		if gap := at.Sub(stopped); gap < 0 || gap >= sitting {
			break
		}
		if i < len(log.runs)-1 && at.Sub(stopped).Seconds() < log.runs[i+1].Time {
			return nil
		}
		first, at = i, stopped
	}
	return log.runs[first:]
}

// leftWarm follows the runs of this sitting from the last reading of the wall on.
// What lay in the mill by then is what went in and was not weighed out again.
func (b *bench) leftWarm(known *lesson, now time.Time) error {
	log := known.log
	runs := sittingOf(log, now)
	if len(runs) == 0 {
		b.leftCold(known)
		return nil
	}
	last := runs[len(runs)-1]
	n := len(b.rows)
	s := &still{wall: make([]float64, n), inside: make([]float64, n), stopped: now.Sub(log.times[last.Record]).Seconds()}
	from := len(runs) - 1
	for from > 0 && (runs[from].WallBefore == nil && runs[from-1].WallAfter == nil || runs[from-1].Product == nil && runs[from-1].Left == nil) {
		from--
	}
	b.fill(s, known, runs[from].Record, (*estimate.Fitted).Met)
	if from > 0 {
		s.begin(&runs[from-1], b.room)
	}
	levels := draws(b.mill)
	for k := from; k < len(runs); k++ {
		r := runs[k]
		if r.Load.Watts <= 0 || r.Load.Level > len(levels) { // nobody noted the level: nothing to go by
			return nil
		}
		if err := b.ranOn(s, r, levels[max(r.Load.Level, 1)-1], b.restBetween(log, runs, k)); err != nil {
			return err
		}
	}
	if b.still = s; log.empty {
		clear(s.inside)
	}
	return nil
}

// begin puts the wall where it was read at the stop before.
func (s *still) begin(before *estimate.Run, room float64) {
	if before.WallAfter == nil {
		return
	}
	for i := range s.wall {
		s.wall[i] = math.Max(0, *before.WallAfter-room)
	}
}

// emptied is the bench with the mill emptied of what earlier charges left in it; false
// where next to nothing is thought to lie there, or it was emptied a few charges ago.
func (b *bench) emptied() (*bench, bool) {
	if b.still == nil || b.practice.swept || b.lying() < worthEmptying*b.practice.usualCharge() {
		return nil, false
	}
	clean, mill := *b, *b.still
	mill.inside = make([]float64, len(mill.inside))
	clean.still = &mill
	return &clean, true
}

// worthEmptying is the share of a usual charge that is worth emptying the mill for.
// Judgement.
const worthEmptying = 0.05

// lying is what earlier charges have left in the mill, in half of the draws [kg].
func (b *bench) lying() float64 {
	if b.still == nil {
		return 0
	}
	return answer.Quantile(b.still.inside, 0.5)
}

// leftCold puts what earlier sittings left into a cold mill.
func (b *bench) leftCold(known *lesson) {
	log := known.log
	if len(log.runs) == 0 || log.empty {
		return
	}
	b.still = &still{inside: make([]float64, len(b.rows))}
	b.fill(b.still, known, log.runs[len(log.runs)-1].Record, (*estimate.Fitted).Left)
}

// fill puts into the mill of every draw what the fit thinks lay in it before or after the
// run of a record, as far as the chamber of the draw takes it.
func (b *bench) fill(s *still, known *lesson, record int64, lies func(*estimate.Fitted, int64) (float64, float64)) {
	mean, spread := lies(known.fitted, record)
	chance := rand.New(rand.NewPCG(answer.Seed, uint64(record)))
	for i := range s.inside {
		s.inside[i] = math.Min(math.Max(mean+spread*chance.NormFloat64(), 0), b.volume()*b.rows[i][estimate.GrainBulk])
	}
}

// restBetween is how long the mill stood before run k of a sitting [s].
func (b *bench) restBetween(log *logbook, runs []estimate.Run, k int) float64 {
	switch {
	case runs[k].Rest != nil:
		return *runs[k].Rest
	case k == 0:
		return 0
	}
	return math.Max(b.handling, log.times[runs[k].Record].Sub(log.times[runs[k-1].Record]).Seconds()-runs[k].Time)
}

// ranOn takes the mill through one more run after a rest; what was read counts.
func (b *bench) ranOn(s *still, r estimate.Run, d draw, rest float64) error {
	factors := b.offAt(b.off, d, r.Charge, r.Time, nil)
	return b.each(len(b.rows), func(m *breakage.Mill, from, to int) error {
		row := b.rows[from]
		v, err := b.grind(m, row, d, r.Charge, nil, []float64{r.Time}, false)
		if err != nil {
			return err
		}
		for i := from; i < to; i++ {
			wall := s.wall[i] * coolsTo(row, rest)
			if r.WallBefore != nil {
				wall = *r.WallBefore - b.room
			}
			s.inside[i] = r.Met(s.inside[i])
			met := r.Charge + s.inside[i]
			_, s.wall[i] = v.heat[0].times(factors.Charge[i], factors.Heat[i]).from(wall*s.inside[i]/met, wall)
			_, held := split(v.passed[0], v.held[0], met, factors.Product[i], factors.Left[i])
			s.inside[i], _ = r.Remains(s.inside[i], row[estimate.Dust], &held, b.volume()*row[estimate.GrainBulk])
			if r.WallAfter != nil {
				s.wall[i] = math.Max(0, *r.WallAfter-b.room)
			}
		}
		return nil
	})
}
