package sensing

import (
	"math"
	"slices"
	"time"

	"hopperful/fact"
	"hopperful/plan/campaign"
	"hopperful/quantity"
	"hopperful/shop"
)

// When a run on record is the one that was seen. Judgement: a charge is written down in
// the minutes after it, and a person's stopwatch is off by seconds.
const (
	early     = 90 * time.Second
	lateBy    = 15 * time.Minute
	offShare  = 0.3
	offTime   = 20.0
	tightness = 1.5 // high over low, beyond which an energy is not worth filling in
)

// written is a run on record.
type written struct {
	id   shop.RecordID
	at   time.Time
	body *shop.Ground
}

// book holds the runs on record that could be among those seen.
type book []written

// How far back the records are read: runs are mostly written down soon after.
const (
	mostRead = 1000
	readBack = 30 * 24 * time.Hour
)

func bookOf(s *shop.State, seen Seen) (b book) {
	if len(seen.Runs) == 0 {
		return nil
	}
	first := At(seen.Runs[0].Start.At)
	for _, r := range seen.Runs {
		if at := At(r.Start.At); at.Before(first) {
			first = at
		}
	}
	n := 0
	for _, rec := range s.Records.LatestOf(&shop.Ground{}) {
		g, ok := rec.Body.(*shop.Ground)
		if n++; !ok || n > mostRead || rec.At.Before(first.Add(-readBack)) {
			break
		}
		if !rec.At.Before(first.Add(-early)) {
			b = append(b, written{rec.ID, rec.At, g})
		}
	}
	return b
}

// of is the record that fits a run best, if one does.
func (b book) of(r Run) (best written, ok bool) {
	start, stop := At(r.Start.At), At(r.Stop.At)
	for _, w := range b {
		if w.body.Mill != r.Mill || w.at.Before(start.Add(-early)) || w.at.After(stop.Add(lateBy)) {
			continue
		}
		if d := math.Abs(w.body.Run - r.Time()); d > offShare*r.Time()+r.Doubt() && d > offTime+r.Doubt() {
			continue
		}
		if !ok || w.distance(r) < best.distance(r) {
			best, ok = w, true
		}
	}
	return best, ok
}

func (w written) distance(r Run) time.Duration { return w.at.Sub(At(r.Stop.At)).Abs() }

// taken says which record has which run. Of two runs that one record would fit, the nearer
// has it.
func (b book) taken(runs []Run) map[int64]written {
	by := map[shop.RecordID]Run{}
	of := map[int64]written{}
	for _, r := range runs {
		w, ok := b.of(r)
		if !ok {
			continue
		}
		if was, twice := by[w.id]; twice {
			if w.distance(was) <= w.distance(r) {
				continue
			}
			delete(of, was.ID)
		}
		by[w.id], of[r.ID] = r, w
	}
	return of
}

// waiting are the runs that nobody has confirmed or set aside, oldest first.
func (seen Seen) waiting(taken map[int64]written) (all []Run) {
	for _, r := range seen.Runs {
		if _, is := taken[r.ID]; !r.Aside && !is {
			all = append(all, r)
		}
	}
	return all
}

func (seen Seen) run(id int64) Run {
	for _, r := range seen.Runs {
		if r.ID == id {
			return r
		}
	}
	return Run{}
}

// NoSuchRun says that no run was seen under a number.
func NoSuchRun(id int64) error {
	return shop.Refuse(shop.NotFound, "id", fact.Say("live.no_such_run", fact.Count("n", int(id))), fact.Say("live.see_runs"))
}

// Draft is what a run that was seen would be on record: as the sensors have it, the rest as
// the campaign plans it or as the charge before it was. Whoever confirms it looks it
// through and adds what was weighed.
func Draft(s *shop.State, seen Seen, id int64) (*shop.Ground, time.Time, error) {
	r := seen.run(id)
	if r.ID == 0 {
		return nil, time.Time{}, NoSuchRun(id)
	}
	if was, ok := bookOf(s, seen).taken(seen.Runs)[r.ID]; ok {
		return nil, time.Time{}, shop.Refuse(shop.Conflict, "id", fact.Say("live.on_record", fact.Count("n", int(was.id))), fact.Say("live.see_runs"))
	}
	g := &shop.Ground{Mill: r.Mill}
	if c, ok := s.Running(r.Mill); ok {
		g = campaign.Filled(s, c, nil)
	}
	r.Into(g)
	return g, At(r.Stop.At), nil
}

// Into puts what the sensors showed of a run into its record. An energy of which much
// went unseen is left out, and so is what no sensor shows.
func (r Run) Into(g *shop.Ground) {
	g.Run = math.Max(1, math.Round(r.Time()))
	g.Stalled = g.Stalled || len(r.Stalls) > 0
	switch e := r.Energy; {
	case e.Low > 0 && e.High/e.Low <= tightness && !r.Lost:
		g.Energy = rounded(e.Mid, 10)
	case r.Counted != nil && *r.Counted > 0:
		g.Energy = rounded(*r.Counted, 10)
	}
	for _, p := range []struct {
		from *float64
		into **float64
	}{{r.WallBefore, &g.WallBefore}, {r.WallAfter, &g.WallAfter}, {r.RoomAt, &g.Room}} {
		if p.from != nil {
			*p.into = rounded(*p.from, 0.1)
		}
	}
	if r.Rest != nil {
		g.RestBefore = rounded(*r.Rest, 1)
	}
}

// rounded is a number to a step, without the tail that steps leave.
func rounded(v, step float64) *float64 {
	n := math.Round(v/step) * step
	n = math.Round(n*1e6) / 1e6
	return &n
}

// OfCampaign is the run that the campaign's latest stop belongs to, if a sensor saw it and
// it is not on record yet.
func (seen Seen) OfCampaign(s *shop.State, c shop.Campaign) (Run, bool) {
	if c.Stage != shop.NoteStage || c.Stopped.IsZero() {
		return Run{}, false
	}
	for i := len(seen.Runs) - 1; i >= 0; i-- {
		r := seen.Runs[i]
		if r.Mill != c.Mill || r.Aside || At(r.Stop.At).Sub(c.Stopped).Abs() > early {
			continue
		}
		_, known := bookOf(s, seen).taken(seen.Runs)[r.ID]
		return r, !known
	}
	return Run{}, false
}

// Unconfirmed are the runs that wait for somebody, oldest first.
func Unconfirmed(s *shop.State, seen Seen) []Run {
	return seen.waiting(bookOf(s, seen).taken(seen.Runs))
}

// Told is a run in a line.
func Told(r Run) fact.Saying {
	at, time := fact.Moment("at", At(r.Start.At)), fact.Measured("time", quantity.Duration, r.Time())
	if r.Flat {
		return fact.Say("live.ran_flat", at, fact.Measured("draw", quantity.Power, r.Level), time)
	}
	return fact.Say("live.run_seen", at, time, fact.About("drawn", quantity.Energy, r.Energy.Mid))
}

// Goes is what the sensors add to the record of a run.
func Goes(r Run) fact.Saying {
	var g shop.Ground
	r.Into(&g)
	var parts []fact.Saying
	if g.Energy != nil {
		parts = append(parts, fact.Say("live.goes_energy", fact.Measured("v", quantity.Energy, *g.Energy)))
	}
	if g.WallBefore != nil {
		parts = append(parts, fact.Say("live.goes_wall_before", fact.Measured("v", quantity.Temperature, *g.WallBefore)))
	}
	if g.WallAfter != nil {
		parts = append(parts, fact.Say("live.goes_wall_after", fact.Measured("v", quantity.Temperature, *g.WallAfter)))
	}
	if g.Room != nil {
		parts = append(parts, fact.Say("live.goes_room", fact.Measured("v", quantity.Temperature, *g.Room)))
	}
	if g.RestBefore != nil {
		parts = append(parts, fact.Say("live.goes_rest", fact.Measured("v", quantity.Duration, *g.RestBefore)))
	}
	if len(parts) == 0 {
		return fact.Say("live.goes_nothing")
	}
	return fact.Say("live.goes", fact.Parts("all", parts...))
}

// LatestFlat is what a mill drew in the latest run that was the same all along, nil where
// none was seen [W].
func (seen Seen) LatestFlat(mill string) *float64 {
	for _, r := range slices.Backward(seen.Runs) {
		if r.Mill == mill && r.Flat {
			watts := r.Level
			return &watts
		}
	}
	return nil
}
