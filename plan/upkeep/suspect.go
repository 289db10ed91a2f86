package upkeep

import (
	"slices"

	"hopperful/fact"
	"hopperful/shop"
)

// Suspect is a lot that a part may have spoilt: ground since the part was last seen
// sound and before it was found damaged, or made of such.
type Suspect struct {
	Lot    shop.LotID
	Mill   string
	Part   shop.MillPart
	Found  shop.RecordID   // the record that found the damage
	Runs   []shop.RecordID // of the lot, since the last good look; none where it is made of another
	Of     shop.LotID      // the lot it is made of; "" where it was ground itself
	Record shop.RecordID   // the record that checked it since; 0: not checked
	Made   bool            // printed, or scrap of such a print: no sieve and no magnet checks it any more
}

// Open reports whether the lot can be checked and nobody has.
func (s Suspect) Open() bool { return s.Record == 0 && !s.Made }

// Mark is what is written beside a lot that nobody has checked yet.
func (s Suspect) Mark() fact.Saying {
	return fact.Say("upkeep.marked", PartWord(s.Part), fact.Name("mill", s.Mill), fact.Count("record", int(s.Found)))
}

// Suspects are the lots of all damage found so far, the newest damage first. A lot is
// marked until it was checked: sieved after a torn screen, past the magnet after a
// cracked blade or worn bearings, either for the rest.
func Suspects(s *shop.State) []Suspect {
	var all []Suspect
	for _, m := range s.Mills {
		for _, d := range damages(s, m) {
			all = append(all, d.lots(s)...)
		}
	}
	slices.SortStableFunc(all, func(a, b Suspect) int { return int(b.Found - a.Found) })
	return all
}

// SuspectOf are the open marks of one lot.
func SuspectOf(s *shop.State, lot shop.LotID) []Suspect {
	return slices.DeleteFunc(Suspects(s), func(x Suspect) bool { return x.Lot != lot || !x.Open() })
}

// damage is one damage found.
type damage struct {
	mill  string
	part  shop.MillPart
	found shop.RecordID
	runs  []shop.RecordID
}

// damages are every damage found in a mill.
func damages(s *shop.State, m shop.MillState) []damage {
	var all []damage
	for _, h := range begun(*lives.Of(s), m.Name).harmed {
		all = append(all, damage{m.Name, h.part, h.found, m.Runs[h.first:h.upto]})
	}
	return all
}

// lots are the lots of a damage, with those made of them.
func (d damage) lots(s *shop.State) []Suspect {
	var all []Suspect
	at := map[shop.LotID]int{}
	for _, id := range d.runs {
		r, ok := s.Record(id)
		b, ground := r.Body.(*shop.Ground)
		if !ok || !ground || b.Into == "" {
			continue
		}
		k, known := at[b.Into]
		if !known {
			k = len(all)
			at[b.Into] = k
			all = append(all, Suspect{Lot: b.Into, Mill: d.mill, Part: d.part, Found: d.found})
		}
		all[k].Runs = append(all[k].Runs, id)
	}
	for _, x := range slices.Clone(all) {
		for _, child := range s.Descendants(x.Lot) {
			if _, known := at[child]; !known {
				at[child] = len(all)
				all = append(all, Suspect{Lot: child, Mill: d.mill, Part: d.part, Found: d.found, Of: x.Lot})
			}
		}
	}
	for i := range all {
		all[i].Record = d.checked(s, all[i].Lot)
		if l, ok := s.Lot(all[i].Lot); ok {
			all[i].Made = l.Class == shop.Print || l.Class == shop.Scrap
		}
	}
	return all
}

// checked is the record that looked the lot over since; 0 where none did.
func (d damage) checked(s *shop.State, lot shop.LotID) shop.RecordID {
	found, ok := s.Record(d.found)
	if !ok {
		return 0
	}
	for _, r := range s.RecordsOf([]shop.LotID{lot}, (*shop.Sieved)(nil), (*shop.PassedMagnet)(nil)) {
		if c := r.At.Compare(found.At); c < 0 || c == 0 && r.ID < found.ID {
			continue
		}
		switch b := r.Body.(type) {
		case *shop.Sieved:
			if b.Lot == lot && d.part != shop.BladePart && d.part != shop.BearingPart {
				return r.ID
			}
		case *shop.PassedMagnet:
			if b.Lot == lot && d.part != shop.ScreenPart {
				return r.ID
			}
		}
	}
	return 0
}
