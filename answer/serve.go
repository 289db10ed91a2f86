package answer

import (
	"strings"

	"hopperful/fact"
	"hopperful/quantity"
	"hopperful/shop"
)

// Unfit says why a lot cannot serve the need and what would change that; nothing
// where it can. A loud reason is told even to those who did not ask for the lot.
func Unfit(s *shop.State, lot *shop.Lot, polymer, colour string) (why, remedy fact.Saying, loud bool) {
	maybe := lot.Class == shop.Scrap
	sure, _ := s.Shop.Limit(shop.LeastSure)
	if bar := lot.Bar(); bar != nil {
		why, remedy = bar.Says()
		return why, remedy, bar.Code == shop.BarHalogen || maybe
	}
	is, need := fact.Name("polymer", lot.Polymer), fact.Name("need", polymer)
	switch {
	case !strings.EqualFold(lot.Polymer, polymer):
		return fact.Say("answer.other_polymer", is, need), fact.Say("answer.same_polymer"), false
	case colour != "" && !strings.EqualFold(lot.Colour, colour):
		return fact.Say("answer.other_colour", fact.Name("colour", lot.Colour), fact.Name("need", colour)), fact.Say("answer.leave_colour_open"), false
	case lot.Sure != nil && *lot.Sure < sure:
		return fact.Say("answer.not_sure", fact.About("sure", quantity.Share, *lot.Sure), is), fact.Say("answer.settle_polymer"), maybe
	case lot.Metal != "" && lot.Class == shop.Scrap:
		return fact.Say("answer.metal", fact.Name("metal", lot.Metal)), fact.Say("answer.cut_it_out"), true
	}
	return why, remedy, false
}
