package sieving

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"hopperful/shop"
)

// screenBook is what a shop's records tell of one mill's screen, read from the latest
// back as far as it matters: to where the sheet was changed, or to as many stacks as
// are judged.
type screenBook struct {
	state   *shop.State
	mill    string
	hole    float64       // of the screen in question [m]; 0: nobody said
	sound   []Stack       // after which it was seen sound, of the screen in question
	open    []Stack       // since it was last seen, of the screen in question
	since   shop.RecordID // service the chapter began with
	damaged shop.RecordID // record that found it damaged; 0: none
	looks   []screenLook  // at the screen, the newest first, down to where the sheet was changed
	worn    int           // place of the latest change of a wear part; −1: none
	metal   []screenMetal // since then

	into map[shop.LotID][]screenRun // the runs into a lot, in order
}

// screenRun is a run of a mill as far as a screen is concerned.
type screenRun struct {
	place  int // among the records
	mill   string
	hole   *float64 // nil: not known
	charge float64
}

// screenLook is a service of the screen.
type screenLook struct {
	place int
	id    shop.RecordID
	what  lookKind
}

type lookKind int

const (
	lookSound lookKind = iota
	lookBad
	lookChanged
)

// mostRead bounds how far back stacks and passes are read that turn out to be of other
// screens, or to be nothing new. Judgement.
const mostRead = 256

func newScreenBook(s *shop.State, mill string) *screenBook {
	return &screenBook{state: s, mill: mill, worn: -1, into: map[shop.LotID][]screenRun{}}
}

// screenRead reads what matters of a mill's screen; more is a stack not on record yet.
func screenRead(s *shop.State, mill string, more *Stack) *screenBook {
	b := newScreenBook(s, mill)
	b.services()
	b.stacks(more)
	b.passes()
	return b
}

// run is a run on record; one that does not tell the hole was through the screen the mill had.
func (b *screenBook) run(place int, r ranInto) screenRun {
	one := screenRun{place: place, mill: r.mill, hole: r.hole, charge: r.charge}
	if one.hole != nil {
		return one
	}
	if m, ok := b.state.MillDuring(r.mill, r.id); ok {
		one.hole = m.Screen.Hole
	}
	return one
}

// runsInto are the runs into a lot before a place.
func (b *screenBook) runsInto(lot shop.LotID, before int) []screenRun {
	all, known := b.into[lot]
	if !known {
		if all, known = b.carried(ran.Of(b.state), lot); !known {
			all = b.written(lot)
		}
		b.into[lot] = all
	}
	return all[:sort.Search(len(all), func(i int) bool { return all[i].place >= before })]
}

// written are the runs into a lot, read from the log.
func (b *screenBook) written(lot shop.LotID) (all []screenRun) {
	for _, r := range b.state.RecordsOf([]shop.LotID{lot}, (*shop.Ground)(nil)) {
		if d := r.Body.(*shop.Ground); d.Into == lot {
			place, _ := b.state.Records.Place(r.ID)
			all = append(all, b.run(place, asRan(r.ID, d)))
		}
	}
	return all
}

// through is the mill and hole a sample taken at a place came through: of the run named,
// else of all runs into its lot if they agree.
func (b *screenBook) through(lot shop.LotID, run shop.RecordID, before int) (screenRun, bool) {
	if place, ok := b.state.Records.Place(run); ok && place < before {
		r := b.state.Records.At(place)
		if d, ground := r.Body.(*shop.Ground); ground {
			return b.run(place, asRan(r.ID, d)), true
		}
	}
	all := b.runsInto(lot, before)
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
	r, ok := newScreenBook(s, "").through(lot, run, s.Records.Len())
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

// services finds where the chapters of the screen, and of what wears, begin.
func (b *screenBook) services() {
	for place, r := range b.state.Records.LatestOf((*shop.Serviced)(nil)) {
		d := r.Body.(*shop.Serviced)
		if d.Mill != b.mill {
			continue
		}
		changed := d.What == shop.Replaced || d.What == shop.Repaired || d.What == shop.Sharpened
		seen := d.What == shop.Inspected && d.Sound == shop.Yes
		if b.worn < 0 && (changed && d.Part != shop.SealPart || seen && d.Part == shop.BladePart) {
			b.worn = place
		}
		if d.Part != shop.ScreenPart {
			continue
		}
		switch bad := d.What == shop.FoundDamaged || d.Sound == shop.No; {
		case bad: // what led up to it was no sound screen's
			b.looks = append(b.looks, screenLook{place, r.ID, lookBad})
		case changed: // another sheet, which the old one's runs say nothing of
			b.looks = append(b.looks, screenLook{place, r.ID, lookChanged})
		case seen:
			b.looks = append(b.looks, screenLook{place, r.ID, lookSound})
		}
		if n := len(b.looks); n > 0 && b.looks[n-1].what == lookChanged {
			break
		}
	}
	if len(b.looks) > 0 && b.looks[0].what == lookBad {
		b.damaged = b.looks[0].id
	}
	if i := slices.IndexFunc(b.looks, func(l screenLook) bool { return l.what != lookBad }); i >= 0 {
		b.since = b.looks[i].id
	}
}

// stacks finds which screen is meant, the one described, else the one of the newest
// stack since it was last seen, and gathers its newest stacks: those since, and those
// after which it was seen sound.
func (b *screenBook) stacks(more *Stack) {
	end := b.state.Records.Len()
	w := wanted{book: b}
	if m, ok := b.state.Mill(b.mill); ok {
		w.hole = m.Screen.Hole
	}
	if more != nil {
		if hole, ours := w.of(more.Lot, more.Run, more.Hole, end); ours {
			if w.found = true; hole != nil {
				w.hole = hole
			}
			if w.hole != nil && sameHole(hole, w.hole) {
				b.open = append(b.open, *more)
			}
		}
	}
	list := &b.open
	for _, look := range append(slices.Clone(b.looks), screenLook{place: -1, what: lookChanged}) {
		if list != nil {
			w.gather(list, look.place+1, end)
		}
		end = look.place
		switch w.found = true; look.what {
		case lookBad, lookChanged:
			list = nil
		case lookSound:
			list = &b.sound
		}
	}
	slices.Reverse(b.open)
	slices.Reverse(b.sound)
	if w.hole != nil {
		b.hole = *w.hole
	}
}

// wanted says which stacks are gathered.
type wanted struct {
	book  *screenBook
	hole  *float64
	found bool // the newest stack has told the hole, or there is none since the last look
}

// of is the hole that a stack taken at a place came through, and whether it is of the
// book's mill.
func (w *wanted) of(lot shop.LotID, run shop.RecordID, noted *float64, at int) (*float64, bool) {
	r, ok := w.book.through(lot, run, at)
	if !ok || r.mill != w.book.mill {
		return nil, false
	}
	if noted != nil {
		return noted, true
	}
	return r.hole, true
}

// gather adds the newest stacks of the places [from, end), the newest first.
func (w *wanted) gather(list *[]Stack, from, end int) {
	read := 0
	for place, r := range w.book.state.Records.First(end).LatestOf((*shop.Sieved)(nil)) {
		if read++; place < from || len(*list) >= mostJudged || read > mostRead {
			return
		}
		d := r.Body.(*shop.Sieved)
		hole, ours := w.of(d.Lot, d.Run, d.Hole, place)
		if !ours {
			continue
		}
		if !w.found && hole != nil {
			w.hole = hole
		}
		w.found = true
		if w.hole == nil { // nobody said, so that no other stack can be of the same screen
			return
		}
		if !sameHole(hole, w.hole) {
			continue
		}
		if one, err := stackOn(r.ID, d); err == nil { // the shop has checked it when it was kept
			*list = append(*list, one)
		}
	}
}

// screenMill is the mill a sample came out of, for the screen of an analysis.
func screenMill(s *shop.State, st Stack) (shop.MillState, bool) {
	if st.Lot == "" {
		return shop.MillState{}, false
	}
	r, ok := newScreenBook(s, "").through(st.Lot, st.Run, s.Records.Len())
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
