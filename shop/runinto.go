package shop

import (
	"time"
)

// RunInto is the lot the product of a run goes into when nobody names one: that
// of the campaign under way on its mill, else that of the day's last run of the
// same scrap there, so that a morning at the mill is one lot and not thirty; ""
// opens a new one.
func (s *State) RunInto(mill string, from LotID, at time.Time) LotID {
	scrap, ok := s.Lot(from)
	if !ok {
		return ""
	}
	takes := func(id LotID) bool {
		into, ok := s.Lot(id)
		return ok && into.Class == Regrind && into.Mass > 0 && into.Polymer == scrap.Polymer
	}
	if c, ok := s.Running(mill); ok && takes(c.Into) {
		return c.Into
	}
	for _, r := range s.Records.LatestOf((*Ground)(nil)) {
		if r.At.Before(at.AddDate(0, 0, -2)) {
			break // no zone is further off
		}
		g, ground := r.Body.(*Ground)
		if !ground || g.Mill != mill || !sameDay(r.At, at) {
			continue
		}
		if g.From == from && takes(g.Into) {
			return g.Into
		}
		return "" // other scrap came between
	}
	return ""
}

// sameDay reports whether two moments are of one day where the second was.
func sameDay(a, b time.Time) bool {
	a = a.In(b.Location())
	return a.Year() == b.Year() && a.YearDay() == b.YearDay()
}
