package sieving

import (
	"fmt"
	"math"
	"slices"

	"hopperful/shop"
)

// screenBook is a shop's records read for one mill's screen, in the order things
// happened.
type screenBook struct {
	mill    string
	hole    float64                      // of the screen in question [m]; 0: nobody said
	holes   map[string]*float64          // as described, by mill, at the moment of reading
	ground  map[shop.LotID][]screenRun   // what went into a lot
	runs    map[shop.RecordID]screenRun  // runs by their record
	pending []screenStack                // stacks since the screen was last seen
	settled []screenStack                // stacks after which it was seen sound
	sound   []Stack                      // settled, of the screen in question
	open    []Stack                      // pending, of the screen in question
	since   shop.RecordID                // service the chapter began with
	damaged shop.RecordID                // record that found it damaged; 0: none
	metal   []screenMetal                // since the wear parts last changed
	passed  map[shop.LotID]screenPassing // what the magnet has seen of a lot
}

// screenRun is a run of a mill as far as a screen is concerned.
type screenRun struct {
	mill   string
	hole   *float64 // nil: not known
	charge float64
}

// screenStack is a stack with the hole it came through. It is taken from its
// record only if it is looked at.
type screenStack struct {
	record shop.RecordID
	body   *shop.Sieved
	stack  *Stack // one not on record yet
	hole   *float64
}

// screenRead goes through the records once.
func screenRead(s *shop.State, mill string, more *Stack) *screenBook {
	b := &screenBook{mill: mill, holes: map[string]*float64{}, ground: map[shop.LotID][]screenRun{}, runs: map[shop.RecordID]screenRun{}, passed: map[shop.LotID]screenPassing{}}
	for _, r := range s.Records.Of((*shop.MillSet)(nil)) { // the first description holds from the beginning
		if d, ok := r.Body.(*shop.MillSet); ok {
			if _, known := b.holes[d.Mill.Name]; !known {
				b.holes[d.Mill.Name] = d.Mill.Screen.Hole
			}
		}
	}
	for _, r := range s.Records.Of((*shop.MillSet)(nil), (*shop.Ground)(nil), (*shop.Serviced)(nil), (*shop.Sieved)(nil), (*shop.PassedMagnet)(nil)) {
		switch d := r.Body.(type) {
		case *shop.MillSet:
			b.holes[d.Mill.Name] = d.Mill.Screen.Hole
		case *shop.Ground:
			if m, stands := s.MillAt(r.ID); stands {
				b.holes[d.Mill] = m.Screen.Hole
			}
			b.run(r.ID, d)
		case *shop.Serviced:
			if d.Mill == mill {
				b.service(r.ID, d)
			}
		case *shop.Sieved:
			b.stack(screenStack{record: r.ID, body: d, hole: d.Hole}, d.Lot, d.Run)
		case *shop.PassedMagnet:
			b.pass(r.ID, d)
		}
	}
	if more != nil {
		b.stack(screenStack{stack: more, hole: more.Hole}, more.Lot, more.Run)
	}
	b.pick()
	return b
}

func (b *screenBook) run(id shop.RecordID, d *shop.Ground) {
	r := screenRun{mill: d.Mill, hole: d.Hole, charge: d.Charge}
	if r.hole == nil {
		r.hole = b.holes[d.Mill]
	}
	b.runs[id] = r
	b.ground[d.Into] = append(b.ground[d.Into], r)
}

// through is the mill and hole a sample came through: of the run named, else of
// all runs into its lot if they agree.
func (b *screenBook) through(lot shop.LotID, run shop.RecordID) (screenRun, bool) {
	if r, ok := b.runs[run]; ok && run != 0 {
		return r, true
	}
	all := b.ground[lot]
	if len(all) == 0 {
		return screenRun{}, false
	}
	last := all[len(all)-1]
	same := !slices.ContainsFunc(all, func(r screenRun) bool { return r.mill != last.mill || !sameHole(r.hole, last.hole) })
	return last, same
}

// HoleThrough is the hole of the screen a lot came through [m]: of the run named, else
// of all runs into it if they agree. False where nobody said.
func HoleThrough(s *shop.State, lot shop.LotID, run shop.RecordID) (float64, bool) {
	r, ok := screenRead(s, "", nil).through(lot, run)
	if !ok || r.hole == nil {
		return 0, false
	}
	return *r.hole, true
}

// sameHole compares holes as people write them down.
func sameHole(a, b *float64) bool {
	if a == nil || b == nil {
		return a == b
	}
	return math.Abs(*a / *b - 1) < 0.005
}

// stack keeps a stack of what came through the mill.
func (b *screenBook) stack(st screenStack, lot shop.LotID, run shop.RecordID) {
	r, ok := b.through(lot, run)
	if !ok || r.mill != b.mill {
		return
	}
	if st.hole == nil {
		st.hole = r.hole
	}
	b.pending = append(b.pending, st)
}

// service begins a new chapter where it changes or confirms something.
func (b *screenBook) service(id shop.RecordID, d *shop.Serviced) {
	changed := d.What == shop.Replaced || d.What == shop.Repaired || d.What == shop.Sharpened
	seen := d.What == shop.Inspected && d.Sound == shop.Yes
	if changed && d.Part != shop.SealPart || seen && d.Part == shop.BladePart {
		b.metal = nil
		for lot, p := range b.passed {
			p.last = 0
			b.passed[lot] = p
		}
	}
	if d.Part != shop.ScreenPart {
		return
	}
	bad := d.What == shop.FoundDamaged || d.Sound == shop.No
	switch {
	case bad: // what led up to it was no sound screen's
		b.pending, b.damaged = nil, id
	case changed: // another sheet, which the old one's runs say nothing of
		b.pending, b.settled, b.damaged, b.since = nil, nil, 0, id
	case seen:
		b.settled = append(b.settled, b.pending...)
		b.pending, b.damaged, b.since = nil, 0, id
	}
}

// pick decides which screen is meant, the one described, else the one of the
// newest stack, and keeps its stacks.
func (b *screenBook) pick() {
	hole := b.holes[b.mill]
	if all := b.pending; len(all) > 0 && all[len(all)-1].hole != nil {
		hole = all[len(all)-1].hole
	}
	if hole == nil {
		return
	}
	b.hole = *hole
	of := func(all []screenStack) (out []Stack) {
		for _, st := range slices.Backward(all) {
			switch {
			case len(out) == mostJudged:
			case !sameHole(st.hole, hole):
			case st.stack != nil:
				out = append(out, *st.stack)
			default:
				if one, err := stackOn(st.record, st.body); err == nil { // the shop has checked it when it was kept
					out = append(out, one)
				}
			}
		}
		slices.Reverse(out)
		return out
	}
	b.sound, b.open = of(b.settled), of(b.pending)
}

// screenMill is the mill a sample came out of, for the screen of an analysis.
func screenMill(s *shop.State, st Stack) (shop.MillState, bool) {
	if st.Lot == "" {
		return shop.MillState{}, false
	}
	b := screenRead(s, "", nil)
	r, ok := b.through(st.Lot, st.Run)
	if !ok {
		return shop.MillState{}, false
	}
	return s.Mill(r.mill)
}

// screen puts the state of the mill's screen into an analysis.
func (f *sifting) screen() error {
	m, ok := screenMill(f.state, f.stack)
	switch {
	case !ok && f.stack.Hole == nil:
		return nil
	case !ok: // of no mill on record: the stack must speak for itself
		state := newScreenState(&screenBook{hole: *f.stack.Hole, open: []Stack{f.stack}})
		err := state.judge(f.state)
		f.out.Screen = &state.ScreenState
		return err
	}
	var more *Stack
	if f.stack.Record == 0 {
		more = &f.stack
	}
	state, err := screenOf(f.state, m, more)
	if err != nil {
		return fmt.Errorf("the screen of %s: %w", m.Name, err)
	}
	f.out.Screen = &state
	return nil
}
