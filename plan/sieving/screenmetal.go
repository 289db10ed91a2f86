package sieving

import (
	"errors"
	"slices"

	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/sieve"
	"hopperful/quantity"
	"hopperful/shop"
)

// screenMetal is what the magnet took out of some of a mill's product.
type screenMetal struct {
	place  int // of the first pass, among the records
	record shop.RecordID
	lot    shop.LotID
	ground float64
	found  float64
}

// MetalEvidence is what the magnet says about blade and plate.
type MetalEvidence struct {
	Tested     bool // five passes of the same parts are on record
	Alarm      bool
	Passes     int
	Last       figure.Figure  // metal in a kilogram of the latest
	Usual      *figure.Figure // of the earlier ones
	Step       *figure.Figure // chance that chance alone lifts the last so far
	Trend      *figure.Figure // chance that chance alone makes them rise so
	Record     shop.RecordID  // of the latest pass
	Lot        shop.LotID
	Says       fact.Saying
	FalseAlarm figure.Figure
}

// passes gathers what the magnet caught of the mill's lots since what wears was last
// changed, the newest.
func (b *screenBook) passes() {
	seen, read := map[shop.LotID]bool{}, 0
	for place, r := range b.state.Records.LatestOf((*shop.PassedMagnet)(nil)) {
		if read++; place < b.worn || read > mostRead {
			break
		}
		newer := 0 // than this pass
		for _, m := range b.metal {
			if m.place > place {
				newer++
			}
		}
		if newer >= mostJudged {
			break
		}
		if d := r.Body.(*shop.PassedMagnet); !seen[d.Lot] {
			seen[d.Lot] = true
			b.metal = append(b.metal, b.caught(d.Lot)...)
		}
	}
	slices.SortStableFunc(b.metal, func(a, c screenMetal) int { return a.place - c.place })
}

// caught is what the magnet caught from one lot of the mill. A lot let over it
// again with nothing new ground into it is the same product: what is caught adds
// up.
func (b *screenBook) caught(lot shop.LotID) (all []screenMetal) {
	gone := 0 // of the lot's runs, those that had gone over it
	for _, r := range b.state.RecordsOf([]shop.LotID{lot}, (*shop.PassedMagnet)(nil)) {
		d := r.Body.(*shop.PassedMagnet)
		place, _ := b.state.Records.Place(r.ID)
		run, ok := b.through(lot, d.Run, place)
		if d.Lot != lot || !ok || run.mill != b.mill {
			continue
		}
		runs := b.runsInto(lot, place)
		mass := 0.0
		for _, one := range runs[min(gone, len(runs)):] {
			mass += one.charge
		}
		switch {
		case d.Passed != nil:
			mass = *d.Passed
		case d.Run != 0:
			mass = run.charge
		case mass == 0 && len(all) > 0:
			all[len(all)-1].found += d.Metal
			all[len(all)-1].record = r.ID
			continue
		}
		if mass <= 0 || d.Metal > mass {
			continue
		}
		if gone = len(runs); place > b.worn {
			all = append(all, screenMetal{place, r.ID, lot, mass, d.Metal})
		}
	}
	return all
}

// metalTest looks for more metal than before.
func (b *screenBook) metalTest(s *shop.State, out *ScreenState) error {
	all := b.metal[max(0, len(b.metal)-mostJudged):]
	if len(all) == 0 {
		return nil
	}
	last := all[len(all)-1]
	digit := s.Resolution(last.found)
	e := &MetalEvidence{Passes: len(all), Record: last.record, Lot: last.lot,
		Last:       figure.Exact("metal", "figure.metal_latest", quantity.Mass, last.found/last.ground, figure.Reckoned).From("how.metal_latest"),
		FalseAlarm: figure.Exact("false_alarm", "figure.false_alarm_metal", quantity.Share, falseAlarm, figure.Assumed)}
	e.Last.Records = []int64{int64(last.record)}
	out.Metal = e
	m := sieve.Metal{Resolution: digit}
	for _, one := range all {
		out.Records = append(out.Records, int64(one.record))
		found := one.found
		if found < digit {
			// Not seen is taken for all that could go unseen, so that a first crumb is no
			// jump from nothing.
			found = min(digit, one.ground)
		}
		m.Runs = append(m.Runs, sieve.MetalRun{Ground: one.ground, Found: found})
	}
	if last.found < digit {
		e.Tested = len(all) > 4
		e.Says = fact.Say("screen.metal_unseen", fact.Set("digit", quantity.Mass, digit))
		return nil
	}
	c, err := m.Test(falseAlarm)
	if few := (*sieve.EntryError)(nil); errors.As(err, &few) {
		e.Says = fact.Say("screen.metal_few", fact.Count("passes", len(all)), fact.Count("enough", sieve.LeastMetalRuns))
		return nil
	}
	if err != nil {
		return refusal(err)
	}
	e.Tested, e.Alarm = true, c.Alarm
	u := figure.Figure{Key: "usual_metal", Name: "figure.metal_usual", Kind: quantity.Mass, Value: c.Usual.Value, Low: c.Usual.Low, High: c.Usual.High, Basis: figure.Measured}
	e.Usual = &u
	chance := func(key, name string, p float64) *figure.Figure {
		g := figure.Exact(key, name, quantity.Share, p, figure.Reckoned).From("how.step", e.Last, u).
			Held(figure.Limit{Name: "limit.alarm", Value: falseAlarm / 2, Side: figure.Over, Holds: holdsOf(p >= falseAlarm/2)})
		return &g
	}
	e.Step = chance("step_chance", "figure.step_chance", c.StepP)
	e.Trend = chance("trend_chance", "figure.trend_chance", c.TrendP)
	e.Says = fact.Say("screen.metal_usual", fact.Figure("last", e.Last), fact.Figure("usual", u))
	if e.Alarm {
		e.Says = fact.Say("screen.metal_alarm", fact.Figure("last", e.Last), fact.Figure("usual", u), oneIn(falseAlarm))
	}
	return nil
}
