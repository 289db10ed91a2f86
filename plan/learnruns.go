package plan

import (
	"errors"
	"fmt"
	"math"
	"time"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/polymer"
	"hopperful/process/breakage"
	"hopperful/shop"
)

// From a shop's records to the runs that a fit learns from.

// sitting is the longest break after which what a run left is still sure to lie in
// the mill, when nobody weighed it; after a longer one it may have been emptied.
// Judgement.
const sitting = 6 * time.Hour

// logbook is a mill's life as its records tell it: the latest runs, and what had
// happened to the mill before them.
type logbook struct {
	tally
	setup  estimate.Setup
	runs   []estimate.Run
	times  map[int64]time.Time // of each run's record
	empty  bool                // the mill was emptied after its latest run
	unread []Unread            // runs that could not be taken up, and why
}

// Unread is a run that teaches nothing, or not all it could.
type Unread struct {
	Record int64
	Why    fact.Saying
	Asked  bool // it teaches once somebody has answered what is asked about it
}

// readLog goes through the shop's latest records of a mill, up to but without the
// record before, 0 for all.
func readLog(s *shop.State, m shop.Mill, before shop.RecordID) (*logbook, error) {
	end := s.Records.Len()
	if at, ok := s.Records.Place(before); ok {
		end = at
	}
	return readUpto(s, m, end)
}

// readUpto goes through the latest of so many records.
func readUpto(s *shop.State, m shop.Mill, end int) (*logbook, error) {
	l := &logbook{setup: estimate.Setup{Area: wallArea(chamberOf(m)), Chamber: chamberOf(m), Usual: usualRun(m), Priors: map[string]estimate.Beliefs{}}, times: map[int64]time.Time{}}
	from, last, lastAt := l.begin(s, m.Name, end)
	lying := estimate.NewLying(chamberOf(m))
	stacks := stacksFrom(s, from)
	for _, r := range s.Records.First(end).OfFrom(from, tallied...) {
		b, ground := r.Body.(*shop.Ground)
		if !ground || b.Mill != m.Name {
			l.take(s, m.Name, r)
			continue
		}
		sound, usable := s.Believed(r, b)
		if !usable {
			l.unread = append(l.unread, Unread{int64(r.ID), fact.Say("learn.unread_asked"), true})
			l.take(s, m.Name, r)
			lying.Doubted(b.Charge, b.Product, b.Emptied)
			continue
		}
		run, err := l.run(s, m, r, &sound)
		var missing *polymer.MissingError
		if errors.As(err, &missing) { // what was ground by mistake must not end all plans
			l.unread = append(l.unread, Unread{int64(r.ID), fact.Say("learn.unread_polymer"), false})
			l.take(s, m.Name, r)
			l.unsure = true
			continue
		}
		if err != nil {
			return nil, fmt.Errorf("record %d: %w", r.ID, err)
		}
		run.after(last, r.At.Sub(lastAt))
		lying.Meet(&run.Run)
		if l.unsure { // how warm the run between left the wall is not known
			run.WallStopped = nil
		}
		l.take(s, m.Name, r)
		if run.RoomGuessed && s.Shop.RoomTemperature == nil {
			run.Room, _, _ = l.kelvin()
		}
		run.Day, run.OfDay = l.days, l.ofDay
		run.Sieved = sieved(stacks[r.ID])
		l.runs = append(l.runs, run.Run)
		l.times[int64(r.ID)] = r.At
		last, lastAt, l.empty = b, r.At, brushedOut(b)
	}
	return l, nil
}

// usualRun is how people run mills of this kind, in a mill.
func usualRun(m shop.Mill) *estimate.Run {
	d := fullDraw(m)
	if levels := levelsOf(m); levels > 0 {
		d = drawAt(m, max(1, int(math.Round(estimate.UsualShare*float64(levels)))))
	}
	return &estimate.Run{Charge: estimate.UsualCharge * chamberOf(m), Time: estimate.UsualTime, Load: d.Load, Largest: defaultLargest, Thickness: defaultWall, Room: answer.Room, OfDay: 1}
}

// sheet names the screen in use: runs on one sheet share its lessons.
func (l *logbook) sheet(hole *float64) string {
	size := "unknown"
	if hole != nil {
		size = fmt.Sprintf("%.4g", *hole)
	}
	return fmt.Sprintf("%s after %d", size, l.sheets)
}

// target is what the fit is asked about: a polymer on the sheet and blade that
// are in the mill now.
func (l *logbook) target(m shop.Mill, material polymer.Polymer) estimate.Target {
	return estimate.Target{Polymer: material.Name, Screen: l.sheet(m.Screen.Hole), Chapter: l.chapter, Since: l.since, Levels: loads(m)}
}

// noted is a run on its way into the fit.
type noted struct {
	estimate.Run
	emptied bool // the mill, before it
}

// run turns a record into a run.
func (l *logbook) run(s *shop.State, m shop.Mill, r shop.Record, b *shop.Ground) (noted, error) {
	material, beliefs, err := l.believed(s, m, b.From)
	if err != nil {
		return noted{}, err
	}
	n := noted{emptied: b.Emptied, Run: estimate.Run{
		Record: int64(r.ID), Polymer: material.Name, Chapter: l.chapter, Since: l.since,
		Charge: b.Charge, Time: b.Run, Product: b.Product, Left: b.Left, Energy: b.Energy, Stalled: b.Stalled,
		WallBefore: b.WallBefore, WallAfter: b.WallAfter, ChargeBefore: b.ChargeBefore, ChargeAfter: b.ChargeAfter,
		Rest: b.RestBefore, Resolution: s.Resolution(b.Charge),
	}}
	hole, now := m.Screen.Hole, m.Screen
	if then, stands := s.MillAt(r.ID); stands { // the fit is of the mill as it is; its older runs keep the sheet they had
		m = then
		if !same(then.Screen.Hole, now.Hole) {
			hole, n.Hole = then.Screen.Hole, then.Screen.Hole
		}
		if !same(then.Screen.OpenShare, now.OpenShare) {
			n.OpenShare = then.Screen.OpenShare
		}
	}
	if brushedOut(b) { // what lay in the mill when it stopped went with the dust
		n.Left = nil
	}
	if b.Hole != nil {
		hole, n.Hole = b.Hole, b.Hole
	}
	n.Screen = l.sheet(hole)
	n.Room, n.RoomGuessed = answer.Room, true
	for _, known := range []*float64{s.Shop.RoomTemperature, b.Room} {
		if known != nil {
			n.Room, n.RoomGuessed = *known, known != b.Room
		}
	}
	n.Intact = !b.Stalled && b.ChargeAfter == nil && b.Product != nil && *b.Product >= cameOut*b.Charge
	lot := s.Lots.At(b.From)
	n.Largest, n.Thickness = scrapSize([]scrapLot{{Lot: lot}}, m)
	return n, l.load(&n, m, material, beliefs, b.Level)
}

// same says whether two values are known to be the same.
func same(a, b *float64) bool { return a == nil && b == nil || a != nil && b != nil && *a == *b }

// load sets what the mill draws and how ready the book thinks it is to stall.
func (l *logbook) load(n *noted, m shop.Mill, material polymer.Polymer, beliefs *estimate.Beliefs, level *int) error {
	d := fullDraw(m)
	if levelsOf(m) > 0 {
		if level == nil || *level > levelsOf(m) {
			l.unread = append(l.unread, Unread{n.Record, fact.Say("learn.unread_level"), false})
			return nil
		}
		d = drawAt(m, *level)
	}
	n.Load = d.Load
	impact, err := material.Value(polymer.ImpactNotched)
	if err != nil {
		return err
	}
	b := bench{mill: m, largest: n.Largest, thickness: n.Thickness, impact: impact.Value}
	row := beliefs.Medians()
	p, err := breakage.StallChance(breakage.DefaultStall, math.Min(b.fillOf(row, n.Charge, 0), 2), b.energyRatio(), voltageShare(m, d))
	if err == nil && p > 0 && p < 1 {
		odds := math.Log(p / (1 - p))
		n.StallOdds = &odds
	}
	return nil
}

// believed finds what the books say of a lot's polymer in this mill, once for
// every polymer.
func (l *logbook) believed(s *shop.State, m shop.Mill, id shop.LotID) (polymer.Polymer, *estimate.Beliefs, error) {
	table, err := s.Table()
	if err != nil {
		return polymer.Polymer{}, nil, err
	}
	name := polymer.Unknown
	if lot := s.Lots.At(id); lot != nil && lot.Polymer != "" {
		name = lot.Polymer
	}
	material, err := table.Find(name)
	if err != nil { // a name the books do not know is as good as none
		if material, err = table.Find(polymer.Unknown); err != nil {
			return material, nil, err
		}
	}
	beliefs, ok := l.setup.Priors[material.Name]
	if !ok {
		if beliefs, err = believe(m, material, shop.Need{}); err != nil {
			return material, nil, err
		}
		l.setup.Priors[material.Name] = beliefs
	}
	return material, &beliefs, nil
}

// brushedOut reports whether a mill was emptied after a run, and what came out
// thrown away: that nothing was left then says nothing of the run.
func brushedOut(b *shop.Ground) bool {
	return b.Left != nil && *b.Left == 0 && b.Swept != nil && *b.Swept > 0
}

// after says what the run before has to do with this one.
func (n *noted) after(last *shop.Ground, since time.Duration) {
	if last == nil {
		return
	}
	n.Follows = !brushedOut(last) && !n.emptied
	n.LongAfter = (since < 0 || since >= sitting) && (last.Left == nil || *last.Left <= 0)
	if n.Rest != nil && since < sitting {
		n.WallStopped = last.WallAfter
	}
}

// stacksFrom are the sieve stacks of runs, by the run, from a record on: each is of a run
// before it.
func stacksFrom(s *shop.State, from int) map[shop.RecordID][]*shop.Sieved {
	all := map[shop.RecordID][]*shop.Sieved{}
	for _, r := range s.Records.OfFrom(from, (*shop.Sieved)(nil)) {
		if b, ok := r.Body.(*shop.Sieved); ok && b.Run > 0 {
			all[b.Run] = append(all[b.Run], b)
		}
	}
	return all
}

// sieved is the latest sieve stack of a run's.
func sieved(stacks []*shop.Sieved) (last *estimate.Sieved) {
	for _, b := range stacks {
		on, pan := b.Net()
		total := pan
		for _, m := range on {
			total += m
		}
		if !(total > 0) {
			continue
		}
		stack := &estimate.Sieved{Mass: total}
		if b.Photo != nil {
			stack.Spread = b.Photo.Spread
		}
		below := pan
		for i := len(on) - 1; i >= 0; i-- { // finest first
			stack.Openings = append(stack.Openings, b.Sieves[i].Opening)
			stack.Passing = append(stack.Passing, math.Min(math.Max(below/total, 0), 1))
			below += on[i]
		}
		if b.Photo != nil && last != nil {
			continue // sieves tell more than pictures
		}
		last = stack
	}
	return last
}
