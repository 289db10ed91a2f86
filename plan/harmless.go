package plan

import (
	"math"
	"slices"
	"time"

	"hopperful/estimate"
	"hopperful/process/breakage"
)

// A charge no warmer than those that came out as grains is allowed by what was done,
// however little the models know of its temperature: in each draw the campaign is
// held against the runs on record, with the same parameters.

// Judgement.
const (
	cameOut    = 0.5  // of a charge through the screen, at least: it did not stick
	oftenDone  = 3    // runs as warm as it that allow a campaign, or all where there are fewer: it is planned anew after each of its first charges
	asWarm     = 0.5  // K within which a charge is as warm as another
	warmerStep = 2.0  // K that a campaign may go beyond them
	inARow     = 4.0  // K that it may go beyond them where fewer began warm: cold runs are repeated after some minutes
	closest    = 7.0  // K below softening that it keeps then
	doneTimes  = 10   // of a run that are looked at: its hottest lies between
	mostDone   = 24   // of the latest runs on record are reckoned
	leastRise  = 3.0  // K that read charges rose together in a draw, to be held against it
	readWithin = 2.0  // K that a charge's reading is off by, as a standard deviation
	mostRise   = 2.0  // times as far at the most
	warily     = 2.0  // times what readings err by, before they are believed where they are cooler than a draw
	peakSpread = 0.2  // of a charge's rise over its wall, that its peak may lie beyond what a probe in its last grains tells
	fewGrains  = 0.1  // of a charge, that a probe cannot be held into
	sameKind   = 0.05 // of charge and time within which runs count as one setting
)

// pastRun is a run on record to be reckoned again.
type pastRun struct {
	estimate.Run
	kind   int     // of the settings, which one
	rested float64 // since the stop before [s]; -1: it began cold
	tells  bool    // came out as grains, of the plastic that is to be ground
	cool   bool    // of that plastic, with its charge read and found cool enough
}

// harmless works out how warm runs without harm became: the warmest of a draw [K], and
// the warmest that so many were as warm as; 0 K where there are none. Runs of the
// sitting that goes on tell nothing yet, nor do those whose charge was read too warm,
// nor those of another plastic: what does not melt PETG may melt PLA. But where charges
// were read warmer than a draw makes them, those of the sitting too, all of the draw
// rise so much more: a reading on the dangerous side is believed for the limits.
func (b *bench) harmless(log *logbook, plastic string, now time.Time) error {
	levels := draws(b.mill)
	runs, kinds := b.past(log, plastic, now)
	factors := make([]estimate.Factors, len(kinds))
	for k, r := range kinds {
		factors[k] = b.offAt(b.off, levels[max(r.Load.Level, 1)-1], r.Charge, r.Time, nil)
	}
	b.done, b.rises, b.told = make([][2]float64, len(b.rows)), make([]float64, len(b.rows)), make([]float64, len(b.rows))
	b.rowed, b.cool, b.reliefs = 0, nil, make([][]float64, len(b.rows))
	for _, r := range runs {
		if r.cool {
			b.cool = append(b.cool, r.Run)
		}
		if r.tells && r.rested >= 0 {
			b.rowed++
		}
	}
	return b.each(len(b.rows), func(m *breakage.Mill, from, to int) error {
		views := make([]view, len(kinds))
		for k, r := range kinds {
			v, err := b.grind(m, b.rows[from], levels[max(r.Load.Level, 1)-1], r.Charge, nil, evenly(r.Time, doneTimes), false)
			if err != nil {
				return err
			}
			views[k] = v
		}
		for i := from; i < to; i++ {
			var warm []float64
			b.walls[i] = b.innerFrom(i, runs, views, factors)
			b.peaks[i] *= readLate(runs, views)
			warm, b.rises[i], b.reliefs[i] = b.warmed(i, runs, views, factors)
			b.told[i] = b.rises[i] * b.offWhenRead(i, runs, factors)
			if n := len(warm); n > 0 {
				b.done[i] = [2]float64{warm[n-1], warm[max(0, n-oftenDone)]} // of fewer the coolest
			}
		}
		return nil
	})
}

// past are the latest runs, oldest first, and the settings they were run at.
func (b *bench) past(log *logbook, plastic string, now time.Time) (all []pastRun, kinds []estimate.Run) {
	levels := levelsOf(b.mill)
	runs := log.runs
	ended := len(runs) - len(sittingOf(log, now)) // from here on the sitting goes on
	for k := max(0, len(runs)-mostDone); k < len(runs); k++ {
		r := runs[k]
		if r.Stalled || r.Load.Watts <= 0 || r.Load.Level > levels {
			continue
		}
		like := func(o estimate.Run) bool {
			return o.Load.Level == r.Load.Level && math.Abs(o.Time-r.Time) <= sameKind*r.Time && math.Abs(o.Charge-r.Charge) <= sameKind*r.Charge
		}
		kind := slices.IndexFunc(kinds, like)
		if kind < 0 {
			kind, kinds = len(kinds), append(kinds, r)
		}
		rested := -1.0
		if k > 0 {
			gap := log.times[r.Record].Sub(log.times[runs[k-1].Record])
			switch {
			case gap >= sitting:
			case r.Rest != nil:
				rested = *r.Rest
			case gap.Seconds() > r.Time:
				rested = gap.Seconds() - r.Time
			}
		}
		all = append(all, pastRun{r, kind, rested, k < ended && (r.Intact || b.readCool(&r)) && r.Polymer == plastic, b.readCool(&r) && r.Polymer == plastic})
	}
	return all, kinds
}

// readCool reports whether a run's charge was read, and found cool enough.
func (b *bench) readCool(r *estimate.Run) bool {
	return r.ChargeAfter != nil && r.Product != nil && *r.Product >= cameOut*r.Charge &&
		*r.ChargeAfter <= b.beliefs[estimate.Softening].Median-b.bounds.margin
}

// walk takes a draw's wall through past runs, and tells see of each: how warm the wall
// was over the room at its start, and what the run's temperatures follow from. What nobody
// read of a wall follows from the run before.
func (b *bench) walk(i int, runs []pastRun, views []view, factors []estimate.Factors, see func(r *pastRun, wall float64, heat []warmth)) {
	wall := 0.0
	heat := make([]warmth, doneTimes)
	for k := range runs {
		r := &runs[k]
		wall *= coolsTo(b.rows[i], r.rested)
		switch {
		case r.WallBefore != nil:
			wall = math.Max(0, *r.WallBefore-r.Room)
		case r.rested < 0:
			wall = 0
		}
		f := &factors[r.kind]
		for q, h := range views[r.kind].heat {
			heat[q] = h.times(f.Charge[i], f.Heat[i])
		}
		see(r, wall, heat)
		if _, wall = heat[len(heat)-1].from(0, wall); r.WallAfter != nil {
			wall = math.Max(0, *r.WallAfter-r.Room)
		}
	}
}

// lastGrains reports whether next to nothing of a charge was left in a draw at its end: a
// probe in so little shows the wall.
func lastGrains(r *pastRun, views []view) bool {
	held := views[r.kind].held
	return held[len(held)-1] < fewGrains*r.Charge
}

// readLate is the share of a charge that had left in a draw when charges were read, 0 where
// none was: the last grains, thin in the mill, have cooled from the peak, and what the
// records taught of the heat was taught by them. What shows the wall counts twice.
func readLate(runs []pastRun, views []view) float64 {
	gone, n := 0.0, 0.0
	for _, r := range runs {
		if r.ChargeAfter == nil {
			continue
		}
		held := views[r.kind].held
		one := 1 - math.Min(1, held[len(held)-1]/r.Charge)
		if lastGrains(&r, views) {
			one *= 2
		}
		gone, n = gone+one, n+1
	}
	return gone / math.Max(n, 1)
}

// innerFrom is how much warmer than read outside the wall is inside in a draw, where
// charges were read that began on a warm one: the prior's draw and the readings, each by
// what it errs by.
func (b *bench) innerFrom(i int, runs []pastRun, views []view, factors []estimate.Factors) float64 {
	drawn := b.inner(i)
	weight := 1 / (innerErrs * innerErrs)
	sum := weight * drawn
	b.walk(i, runs, views, factors, func(r *pastRun, wall float64, heat []warmth) {
		if r.ChargeAfter == nil || r.Polymer != b.plastic || lastGrains(r, views) {
			return
		}
		end, lasts := heat[len(heat)-1], b.lasts(i, r.rested)
		byWall := end.chargeByWall * wall / readWithin // wall·(1 + (inner − 1)·lasts)
		slope, own := byWall*lasts, (*r.ChargeAfter-r.Room-end.chargeOwn)/readWithin-byWall*(1-lasts)
		weight, sum = weight+slope*slope, sum+slope*own
	})
	return math.Min(math.Max(1, sum/weight), mostInner)
}

// warmed is how hot the charges of past runs without harm became in a draw, rising [K],
// how many times as far as the draw makes them charges rose that were read, and how much too
// warm it makes each of those that were read cool.
func (b *bench) warmed(i int, runs []pastRun, views []view, factors []estimate.Factors) (all []float64, rises float64, relief []float64) {
	var reads, grains sums // what charges were read at, and of it what was no reading of the last grains
	var rose, rooms []float64
	type found struct{ above, charge float64 } // how much warmer the draw makes what was read cool, and how far its charge rises [K]
	var cool []found
	b.walk(i, runs, views, factors, func(r *pastRun, wall float64, heat []warmth) {
		hottest, charge := 0.0, 0.0
		for _, h := range heat {
			charge, _ = h.through(0, wall, b.innerAfter(i, r.rested))
			hottest = math.Max(hottest, charge+b.beyond(i)*math.Max(0, charge-wall))
		}
		if r.ChargeAfter != nil && r.Polymer == b.plastic {
			reads.add(*r.ChargeAfter-r.Room, charge)
			if !lastGrains(r, views) {
				grains.add(*r.ChargeAfter-r.Room, charge)
			}
		}
		if r.cool {
			one := found{}
			if !lastGrains(r, views) {
				one = found{r.Room + charge - *r.ChargeAfter - readWithin, charge}
			}
			cool = append(cool, one)
		}
		if r.tells {
			rose, rooms = append(rose, hottest), append(rooms, r.Room)
		}
	})
	if rises = reads.risen(); rises <= 1 {
		rises = grains.fallen()
	}
	for _, c := range cool { // what the draw comes down by anyway is not taken off twice
		relief = append(relief, math.Max(0, c.above-(1-math.Min(1, rises))*c.charge))
	}
	for k := range rose {
		all = append(all, rooms[k]+math.Max(1, rises)*rose[k])
	}
	slices.Sort(all)
	return all, rises, relief
}

// sums are those of charges' rises over the room: as they were read, and as a draw tells them [K].
type sums struct{ read, told, n float64 }

func (s *sums) add(read, told float64) { s.read, s.told, s.n = s.read+read, s.told+told, s.n+1 }

// errs is what the sum of the readings is off by [K]: what a thermometer errs by is nothing read.
func (s *sums) errs() float64 { return readWithin * math.Sqrt(s.n) }

// risen is how many times as far as told the charges rose, 1 at the least.
func (s *sums) risen() float64 {
	if s.told < leastRise {
		return 1
	}
	return math.Min(math.Max((s.read-s.errs())/s.told, 1), mostRise)
}

// fallen is how many times as far as told they rose, 1 at the most: cool readings are
// believed less readily than hot ones.
func (s *sums) fallen() float64 {
	if s.told < leastRise {
		return 1
	}
	return math.Max(math.Min((s.read+warily*s.errs())/s.told, 1), 1/mostRise)
}

// offWhenRead is how far upwards a draw has the models err where charges were read, at the
// most; 1 where none was.
func (b *bench) offWhenRead(i int, runs []pastRun, factors []estimate.Factors) float64 {
	most := 0.0
	for _, r := range runs {
		if r.ChargeAfter != nil && r.Polymer == b.plastic {
			most = math.Max(most, factors[r.kind].Charge[i])
		}
	}
	if most == 0 {
		return 1
	}
	return most
}

// promised is how much cooler a campaign's charges are in a draw than it makes them [K]:
// where a charge was read, well below its limit, none that is no more, no longer and no
// harder ground comes out warmer over its wall than that. Who was asked to read one, and
// found it cool, is held to nothing else.
func (b *bench) promised(i int, t campaign) float64 {
	least := math.Inf(1)
	for k, r := range b.cool {
		if t.mass <= (1+sameKind)*r.Charge && t.run() <= (1+sameKind)*r.Time && t.d.Level <= r.Load.Level {
			least = math.Min(least, b.reliefs[i][k])
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// allowed is whether a draw lets a campaign's hottest charge be so warm [K]: it
// stays below softening by the margin, or is as warm as what was done often enough,
// or a step beyond that and not too close to softening, or where next to nothing was
// done in a row not much warmer; a single charge, to be read, is let be as warm as one was.
// A charge that was read cool speaks for those like it. Where a draw has what was done softer
// than soft, either it was or the draw is wrong: a reading has to tell.
func (b *bench) allowed(i int, t campaign, hottest float64) bool {
	soft := b.rows[i][estimate.Softening]
	if hottest-b.promised(i, t) <= soft-b.bounds.margin {
		return true
	}
	if b.done == nil {
		return false
	}
	done := b.done[i][1]
	if t.trial {
		done = b.done[i][0]
	}
	if done <= 0 || hottest > soft {
		return false
	}
	if b.rowed < oftenDone && hottest <= done+inARow {
		return true
	}
	return hottest <= done+asWarm || hottest <= math.Min(done+warmerStep, soft-closest)
}
