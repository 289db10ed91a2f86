package plan

import (
	"fmt"
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/breakage"
	"hopperful/quantity"
)

// What changed since the last charge, and why: the plan is made once more without
// the mill's latest record, and once more without the reading of it that was
// furthest from what was expected.

// Moved is how the latest record of the mill moved the plan.
type Moved struct {
	Record  int64
	Says    []fact.Saying
	Changes []Change  // of the cycle; none when the plan stayed
	Reading *Readback // the reading that did it, beside what was expected
	By      *Change   // the time the plan would take without that reading, and takes
}

// Change is one figure of the cycle before and now.
type Change struct {
	Before figure.Figure
	Now    figure.Figure
}

// aMove is the share by which a figure has to differ to have moved: less is noise
// or a scale's rounding.
const aMove = 0.05

// moved compares a chosen campaign, nil where there is none, with the one before
// the latest record; nil where there is nothing to compare with.
func (j *job) moved(now *campaign) (*Moved, error) {
	if len(j.known.log.runs) < 2 {
		return nil, nil
	}
	last := slices.MaxFunc(j.known.log.runs, func(a, b estimate.Run) int { return int(a.Record - b.Record) })
	before, was, ok, err := j.as(func(log *logbook) {
		log.runs = slices.DeleteFunc(log.runs, func(r estimate.Run) bool { return r.Record == last.Record })
	})
	if err != nil {
		return nil, err
	}
	m := &Moved{Record: last.Record, Changes: []Change{}}
	switch {
	case !ok && now == nil:
		return m, nil
	case !ok:
		m.Says = []fact.Saying{fact.Say("plan.moved_now_one", m.record())}
		return m, nil
	case now != nil:
		if m.Changes = changes(was, *now); len(m.Changes) == 0 {
			m.Says = []fact.Saying{fact.Say("plan.moved_not", m.record())}
			return m, nil
		}
	}
	if err := j.blame(m, before, last, now); err != nil {
		return nil, err
	}
	m.Says = m.says(was)
	return m, nil
}

// as makes the choice again with other records.
func (j *job) as(change func(*logbook)) (*job, campaign, bool, error) {
	again := *j
	log := *j.known.log
	log.runs = slices.Clone(log.runs)
	change(&log)
	fitted, err := log.fit()
	if err != nil {
		return nil, campaign{}, false, fmt.Errorf("learning from other records of %s: %w", j.mill.Name, err)
	}
	again.known = &lesson{&log, fitted, j.known.target, j.known.books}
	if err := again.sit(choiceDraws, answer.Seed); err != nil {
		return nil, campaign{}, false, err
	}
	again.bench.still = j.bench.still
	if again.bench.practice.none() {
		return &again, campaign{}, false, nil
	}
	_, _, t, ok, err := again.bench.chosen()
	return &again, t, ok && !again.bench.absurd(t), err
}

// changes lists what differs between two campaigns.
func changes(was, now campaign) []Change {
	all := []Change{}
	for _, c := range []struct {
		key, name string
		kind      quantity.Kind
		was, now  float64
	}{
		{"level", "plan.level", quantity.Count, float64(was.d.Level), float64(now.d.Level)},
		{"charge", "plan.charge", quantity.Mass, was.mass, now.mass},
		{"run", "plan.run", quantity.Duration, was.run(), now.run()},
		{"charges", "plan.charges", quantity.Count, float64(was.charges), float64(now.charges)},
		{"rest", "plan.rest", quantity.Duration, was.rest, now.rest},
		{"total", "plan.total", quantity.Duration, was.total(), now.total()},
	} {
		if math.Abs(c.now-c.was) > aMove*math.Max(c.was, c.now) {
			all = append(all, Change{figure.Exact(c.key, c.name, c.kind, c.was, figure.Reckoned), figure.Exact(c.key, c.name, c.kind, c.now, figure.Reckoned)})
		}
	}
	return all
}

// leastSurprise is how far a reading must lie from what was expected, in standard
// deviations, to be what moved a plan.
const leastSurprise = 1.0

// blame finds the reading of the latest record that was furthest from what the
// records before it expected, and what the plan would be without it.
func (j *job) blame(m *Moved, before *job, last estimate.Run, now *campaign) error {
	found, surprise, err := before.bench.surprise(last, before.known.log)
	if err != nil || surprise < leastSurprise {
		return err
	}
	if m.Reading, err = asCompared(before, last, found.Readback); err != nil || m.Reading == nil {
		return err
	}
	if now == nil {
		return nil
	}
	_, without, ok, err := j.as(func(log *logbook) {
		i := slices.IndexFunc(log.runs, func(r estimate.Run) bool { return r.Record == last.Record })
		found.forget(&log.runs[i])
	})
	if err != nil {
		return err
	}
	if ok {
		one := func(v float64) figure.Figure {
			return figure.Exact("total", "plan.total", quantity.Duration, v, figure.Reckoned)
		}
		m.By = &Change{one(without.total()), one(now.total())}
	}
	return nil
}

// asCompared is a reading beside the forecast that every room shows it beside; nil for one
// that lies in it, as expected.
func asCompared(before *job, last estimate.Run, found Readback) (*Readback, error) {
	c := Compared{Record: last.Record, Runs: len(before.known.log.runs) - len(before.known.fitted.Skipped)}
	if err := c.against(before.known.fitted, last); err != nil {
		return nil, err
	}
	for _, r := range c.Read {
		switch {
		case r.Forecast.Key != found.Forecast.Key:
		case r.Inside:
			return nil, nil
		default:
			return &r, nil
		}
	}
	return &found, nil
}

// surprising is a reading beside its forecast, and how to leave it out.
type surprising struct {
	Readback
	forget func(*estimate.Run)
}

// surprise forecasts a run with the bench's draws and finds the reading furthest
// from that, in standard deviations.
func (b *bench) surprise(r estimate.Run, log *logbook) (found surprising, most float64, err error) {
	levels := draws(b.mill)
	if r.Load.Watts <= 0 || r.Stalled || r.Load.Level > len(levels) {
		return found, 0, nil
	}
	d := levels[max(r.Load.Level, 1)-1]
	factors := b.offAt(b.off, d, r.Charge, r.Time, nil)
	n := len(b.rows)
	product, wall, charge, left, energy := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	start := 0.0
	if r.WallBefore != nil {
		start = *r.WallBefore - r.Room
	}
	err = b.each(n, func(m *breakage.Mill, from, to int) error {
		row := b.rows[from]
		v, err := b.grind(m, row, d, r.Charge, nil, []float64{r.Time}, false)
		if err != nil {
			return err
		}
		for i := from; i < to; i++ {
			lies := r.Met(b.still.residue(i))
			met := r.Charge + lies
			product[i], left[i] = split(v.passed[0], v.held[0], met, factors.Product[i], factors.Left[i])
			product[i] *= 1 - row[estimate.Dust]
			c, w := v.heat[0].times(factors.Charge[i], factors.Heat[i]).from(start*lies/met, start)
			charge[i], wall[i] = r.Room+c, r.Room+w
			energy[i] = (estimate.Idle(row, d.Load)*r.Time + v.energy[0]) * factors.Energy[i]
		}
		return nil
	})
	if err != nil {
		return found, 0, err
	}
	for _, one := range []struct {
		read   *float64
		of     estimate.Quantity
		draws  []float64
		digit  float64 // it is read to
		forget func(*estimate.Run)
	}{
		{r.Product, estimate.OfProduct, product, r.Resolution, func(r *estimate.Run) { r.Product = nil }},
		{r.Left, estimate.OfLeft, left, r.Resolution, func(r *estimate.Run) { r.Left = nil }},
		{r.WallAfter, estimate.OfWall, wall, 1, func(r *estimate.Run) { r.WallAfter = nil }},
		{r.ChargeAfter, estimate.OfCharge, charge, 1, func(r *estimate.Run) { r.ChargeAfter = nil }},
		{r.Energy, estimate.OfEnergy, energy, 1000, func(r *estimate.Run) { r.Energy = nil }},
	} {
		if one.read == nil {
			continue
		}
		low, mid, high := answer.Quantile(one.draws, 0.1), answer.Quantile(one.draws, 0.5), answer.Quantile(one.draws, 0.9)
		if z := math.Abs(*one.read-mid) / math.Max((high-low)/(2*answer.Ninety), one.digit); z > most {
			as := reads[one.of]
			forecast := figure.Figure{Key: as.key, Name: as.name, Kind: as.kind, Value: mid, Low: low, High: high, Basis: figure.Reckoned}
			actual := figure.Exact(as.key, as.name, as.kind, *one.read, figure.Measured)
			actual.Records = []int64{r.Record}
			found, most = surprising{Readback{Forecast: forecast.LearnedFrom(len(log.runs)), Actual: actual, Inside: *one.read >= low && *one.read <= high}, one.forget}, z
		}
	}
	return found, most, nil
}

// record is the record's number as a fact.
func (m *Moved) record() fact.Fact { return fact.Count("record", int(m.Record)) }

// mostMoved is how many changes a person takes in at once; what a longer list leaves out first
// follows from the others. Judgement.
const mostMoved = 4

// says what moved, and why.
func (m *Moved) says(was campaign) []fact.Saying {
	told := m.Changes
	for _, less := range []string{"charges", "run"} {
		if len(told) > mostMoved {
			told = slices.DeleteFunc(slices.Clone(told), func(c Change) bool { return c.Now.Key == less })
		}
	}
	var parts []fact.Saying
	for _, c := range told {
		parts = append(parts, fact.Say("plan.moved_figure", fact.Figure("now", c.Now), fact.Figure("before", c.Before)))
	}
	all := []fact.Saying{fact.Say("plan.moved_since", m.record(), fact.Parts("what", parts...))}
	if len(parts) == 0 {
		all = []fact.Saying{fact.Say("plan.moved_gone", fact.Count("n", was.charges), fact.Set("charge", quantity.Mass, was.mass), m.record())}
	}
	if m.Reading == nil {
		return append(all, fact.Say("plan.moved_by_no_reading"))
	}
	all = append(all, fact.Say("plan.moved_by", fact.Word("what", m.Reading.Actual.Name), fact.Figure("actual", m.Reading.Actual), fact.Figure("forecast", m.Reading.Forecast)))
	if m.By != nil && math.Abs(m.By.Now.Value-m.By.Before.Value) > aMove*m.By.Now.Value {
		all = append(all, fact.Say("plan.moved_without", fact.Figure("without", m.By.Before), fact.Figure("now", m.By.Now)))
	}
	return all
}
