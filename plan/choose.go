package plan

import (
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/process/breakage"
	"hopperful/quantity"
	"hopperful/shop"
)

// choice is what the shop has for a need.
type choice struct {
	ready []*shop.Lot // granulate on hand that already serves it
	grind []scrapLot  // scrap to grind, in order
	aside []answer.Aside
}

// scrapLot is a lot of scrap and what has to be done before it goes in.
type scrapLot struct {
	*shop.Lot
	prepare fact.Saying // may be empty
}

// choose sorts the shop's lots into those that serve the need as they are,
// those to grind, and those to leave alone with the reason and the remedy.
// Lots of another polymer or colour are passed over in silence unless asked for
// by name. Scrap that needs no preparation comes first, then oldest first.
func choose(s *shop.State, req Request, polymer string, mill shop.Mill) choice {
	var c choice
	for _, lot := range s.Stock("") {
		id := lot.ID
		named := slices.Contains(req.Lots, id)
		if len(req.Lots) > 0 && !named {
			continue
		}
		why, remedy, loud := answer.Unfit(s, lot, polymer, req.Colour)
		switch {
		case !why.Empty() && (loud || named):
			c.aside = append(c.aside, answer.Aside{Lot: id, Name: lot.Name, Why: why, Remedy: remedy})
		case !why.Empty():
		case lot.Class == shop.Regrind || lot.Class == shop.Blend || lot.Class == shop.Virgin:
			c.ready = append(c.ready, lot)
		case lot.Class == shop.Scrap:
			c.grind = append(c.grind, scrapLot{lot, preparation(lot, mill)})
		case named:
			c.aside = append(c.aside, answer.Aside{Lot: id, Name: lot.Name,
				Why: fact.Say("plan.a_print"), Remedy: fact.Say("plan.sort_into_scrap")})
		}
	}
	slices.SortStableFunc(c.grind, func(a, b scrapLot) int { return rank(a) - rank(b) })
	return c
}

func rank(l scrapLot) int {
	if !l.prepare.Empty() {
		return 1
	}
	return 0
}

// preparation says how a lot's pieces have to be made smaller for the mill; nothing
// when they fit or nobody said how large and how solid they are.
func preparation(lot *shop.Lot, mill shop.Mill) fact.Saying {
	limit := pieceLimit(mill)
	switch largest := lot.Pieces.Largest; {
	case largest != nil && *largest > limit:
		return fact.Say("plan.break_below", fact.About("size", quantity.Length, limit))
	case lot.Pieces.Bricks():
		return fact.Say("plan.break_up")
	}
	return fact.Saying{}
}

// pieceLimit is the largest piece a mill takes: its inlet, and a third of the
// width of a chamber as tall as it is wide; unlimited where neither is known.
func pieceLimit(mill shop.Mill) float64 {
	limit := math.Inf(1)
	if mill.Inlet != nil {
		limit = *mill.Inlet
	}
	if mill.Chamber != nil {
		// The shop keeps no chamber without a volume, so nothing is refused.
		if third, err := breakage.LargestPiece(chamberWidth(*mill.Chamber)); err == nil {
			limit = math.Min(limit, third)
		}
	}
	return limit
}

// chamberWidth is the diameter of a cylinder of this volume as tall as it is
// wide.
func chamberWidth(volume float64) float64 { return math.Cbrt(4 * volume / math.Pi) }
