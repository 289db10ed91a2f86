package traceability

import (
	"slices"

	"hopperful/shop"
)

// Within bounds how far a family is unfolded; 0 stands for no bound. A single lot
// more, across or one generation on, is shown rather than folded alone.
type Within struct {
	Levels int // generations each way
	Across int // branches of one generation; the heaviest stay
}

// Rest is what was left folded at one lot: the lots on its further edges, and
// the mass that went along them. What lies beyond those is not counted.
type Rest struct {
	Lots int
	Mass float64 // kg
}

// unfold unfolds one direction of a family, a generation at a time: a lot that
// can be reached several ways is unfolded at the nearest.
func unfold(s *shop.State, lot *shop.Lot, up bool, in Within) ([]Branch, Rest) {
	u := unfolder{s: s, up: up, across: in.Across, open: map[shop.LotID]bool{lot.ID: true}}
	var first []Branch
	var rest Rest
	here := []knot{{lot: lot, share: 1, into: &first, rest: &rest}}
	for level := 1; len(here) > 0; level++ {
		if in.Levels > 0 {
			u.beyond = max(0, level-in.Levels)
		}
		here = u.generation(here)
	}
	return first, rest
}

// unfolder walks one direction; open remembers lots already unfolded.
type unfolder struct {
	s      *shop.State
	up     bool
	across int
	beyond int // how many generations beyond the bound this one lies
	open   map[shop.LotID]bool
}

// knot is a lot to be unfolded: its share, and where its branches go.
type knot struct {
	lot   *shop.Lot
	share float64
	into  *[]Branch
	rest  *Rest
}

// generation unfolds the knots of one level and returns those of the next.
func (u *unfolder) generation(here []knot) []knot {
	least, ties, edges, all := u.least(here)
	folded := u.beyond > 1 || u.beyond == 1 && edges > 1
	for _, k := range here {
		list := []Branch{}
		for _, b := range all[k.lot.ID] {
			same := b.Mass == least
			if folded || b.Mass < least || same && ties == 0 {
				k.rest.Lots++
				k.rest.Mass += b.Mass
				continue
			}
			if same {
				ties--
			}
			if whole := u.wholeBehind(k.lot, b.Lot); whole > 0 {
				b.Share = k.share * b.Mass / whole
			}
			list = append(list, b)
		}
		*k.into = list
	}
	var next []knot
	for _, k := range here {
		for i := range *k.into {
			b := &(*k.into)[i]
			if b.Again = u.open[b.Lot]; b.Again {
				continue
			}
			u.open[b.Lot] = true
			next = append(next, knot{u.s.Lots.At(b.Lot), b.Share, &b.Branches, &b.Rest})
		}
	}
	return next
}

// least is the mass below which an edge of this generation is folded away, and
// how many of just that mass stay, the older ones; all is the generation's edges
// by the lot they start at, edges their number.
func (u *unfolder) least(here []knot) (least float64, ties, edges int, all map[shop.LotID][]Branch) {
	all = map[shop.LotID][]Branch{}
	var masses []float64
	for _, k := range here {
		all[k.lot.ID] = u.edges(k.lot)
		for _, b := range all[k.lot.ID] {
			masses = append(masses, b.Mass)
		}
	}
	if u.across == 0 || len(masses) <= u.across+1 {
		return 0, len(masses), len(masses), all
	}
	slices.Sort(masses)
	heaviest := masses[len(masses)-u.across:]
	for ties < len(heaviest) && heaviest[ties] == heaviest[0] {
		ties++
	}
	return heaviest[0], ties, len(masses), all
}

// wholeBehind is the mass a branch's mass is a share of.
func (u *unfolder) wholeBehind(here *shop.Lot, beyond shop.LotID) float64 {
	if u.up {
		return wholeOf(here)
	}
	return wholeOf(u.s.Lots.At(beyond))
}

// edges are the lots next to a lot, each once with all that went along.
func (u *unfolder) edges(l *shop.Lot) []Branch {
	edges := l.Children
	if u.up {
		edges = l.Parents
	}
	list := []Branch{}
	at := map[shop.LotID]int{}
	for _, e := range edges {
		i, seen := at[e.Lot]
		if !seen {
			i = len(list)
			at[e.Lot] = i
			beyond := u.s.Lots.At(e.Lot)
			list = append(list, Branch{Relative: relative(beyond), Outside: outsideOf(beyond), Branches: []Branch{}})
		}
		list[i].Mass += e.Mass
		list[i].Records = append(list[i].Records, e.Record)
	}
	return list
}
