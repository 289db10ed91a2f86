package fit

import (
	"slices"

	"hopperful/plan/traceability"
	"hopperful/shop"
)

// lotFacts is what the records say of a lot, for the fitness check.
type lotFacts struct {
	lot         *shop.Lot
	mills       []string             // that ground it or what it is blended of
	hole        *float64             // coarsest screen hole any of it came through [m]; nil: not known
	magnets     int                  // passes by a magnet that all of it had
	magnet      bool                 // whether that is known
	metal       string               // metal seen in it and never cut out
	strays      []traceability.Stray // other plastics in it
	printed     float64              // mass printed of it and of what the same mills ground [kg]
	blocked     []int64              // records of nozzles blocked by those
	bridged     []int64              // records of hoppers it bridged
	ran         int                  // prints of it that went through without a bridge
	ranSince    int                  // prints of it that went well since it was last dried, of a lot never dried all
	failedSince int                  // and that failed
	failed      []string             // why prints of it failed, the newest first
	likeRan     int                  // prints of its like that went well: same mill, same plastic
	likeFailed  int                  // and that failed
	granular    bool                 // it is granulate, and not scrap or prints
}

// factsOf gathers them.
func factsOf(s *shop.State, lot *shop.Lot) lotFacts {
	f := lotFacts{lot: lot, metal: lot.Metal, granular: traceability.Granulate(lot.Class)}
	sources := append(s.Ancestors(lot.ID), lot.ID)
	f.ground(s, sources)
	f.magnets, f.magnet = magnetPasses(s, lot.ID, map[shop.LotID]bool{})
	f.strays = traceability.StraysIn(s, lot)
	f.history(s)
	return f
}

// ground finds the mills and the coarsest screen a lot came through.
func (f *lotFacts) ground(s *shop.State, lots []shop.LotID) {
	known := true
	for _, r := range s.RecordsOf(lots, (*shop.Ground)(nil)) {
		b, ok := r.Body.(*shop.Ground)
		if !ok || !slices.Contains(lots, b.Into) {
			continue
		}
		if !slices.Contains(f.mills, b.Mill) {
			f.mills = append(f.mills, b.Mill)
		}
		hole := b.Hole
		if m, there := s.MillAt(r.ID); hole == nil && there {
			hole = m.Screen.Hole
		}
		if hole == nil {
			known = false
		} else if f.hole == nil || *hole > *f.hole {
			f.hole = hole
		}
	}
	if !known {
		f.hole = nil
	}
	for _, e := range s.Sievings(f.lot.ID) {
		if e.Body.Hole != nil {
			f.hole = e.Body.Hole
			break
		}
	}
}

// magnetPasses is how often all of a lot went by a magnet, and whether anybody
// knows: its own passes, a magnet at the mill, and the fewest of what it is
// blended of.
func magnetPasses(s *shop.State, id shop.LotID, seen map[shop.LotID]bool) (int, bool) {
	lot, ok := s.Lot(id)
	if !ok || seen[id] {
		return 0, false
	}
	seen[id] = true
	own, known := 0, false
	for _, e := range s.MagnetPasses(id) {
		known = true
		if e.Body.Run == 0 { // the magnet at the mill is counted with the mill
			own++
		}
	}
	fewest := -1
	for _, e := range lot.Parents {
		from, there := s.Lot(e.Lot)
		n, k := 0, false
		if there && traceability.Granulate(from.Class) {
			n, k = magnetPasses(s, e.Lot, seen)
		} else if r, stands := s.Record(e.Record); stands {
			if g, isRun := r.Body.(*shop.Ground); isRun {
				n, k = magnetAt(s, g.Mill)
			}
		}
		known = known || k
		if fewest < 0 || n < fewest {
			fewest = n
		}
	}
	return own + max(0, fewest), known
}

// magnetAt is whether a mill lets its product over a magnet, and whether anybody
// said.
func magnetAt(s *shop.State, name string) (int, bool) {
	m, ok := s.Mill(name)
	if !ok || m.Magnet == shop.Unknown {
		return 0, false
	}
	if m.Magnet == shop.Yes {
		return 1, true
	}
	return 0, true
}

// history is how prints from the lot went, and from what the same mills ground.
func (f *lotFacts) history(s *shop.State) {
	kin := []shop.LotID{f.lot.ID}
	for _, r := range s.Records.NewestOf(shop.Lately, (*shop.Ground)(nil)) {
		if b, ok := r.Body.(*shop.Ground); ok && slices.Contains(f.mills, b.Mill) && !slices.Contains(kin, b.Into) {
			kin = append(kin, b.Into)
		}
	}
	for _, id := range kin {
		since := 0.0
		like, _ := s.Lot(id)
		for _, p := range s.PrintsFrom(id) {
			since += p.Body.Mass
			switch {
			case id == f.lot.ID || like == nil || like.Polymer != f.lot.Polymer:
			case p.Body.Good == shop.Yes:
				f.likeRan++
			case p.Body.Good == shop.No:
				f.likeFailed++
			}
		}
		for _, e := range s.EventsWith(id) {
			if e.Body.What == shop.BlockedNozzle {
				f.blocked = append(f.blocked, int64(e.ID))
				if since == 0 && e.Body.Since != nil {
					since = *e.Body.Since
				}
			}
		}
		f.printed += since
	}
	for _, e := range s.EventsWith(f.lot.ID) {
		if e.Body.What == shop.BridgedHopper {
			f.bridged = append(f.bridged, int64(e.ID))
		}
	}
	dried, once := s.DriedLast(f.lot.ID)
	for _, p := range s.PrintsFrom(f.lot.ID) {
		since := !once || p.At.After(dried.At)
		if p.Body.Good == shop.Yes {
			f.ran++
			f.ranSince += count(since)
		} else if p.Body.Good == shop.No {
			f.failed = append(f.failed, p.Body.Why)
			f.failedSince += count(since)
		}
	}
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}
