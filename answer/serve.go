package answer

import (
	"fmt"
	"strings"

	"hopperful/quantity"
	"hopperful/shop"
)

// Unfit says why a lot cannot serve the need and what would change that, or "".
// A loud reason is told even to those who did not ask for the lot.
func Unfit(s *shop.State, lot *shop.Lot, polymer, colour string) (why, remedy string, loud bool) {
	maybe := lot.Class == shop.Scrap
	sure, _ := s.Shop.Limit(shop.LeastSure)
	if bar := lot.Bar(); bar != nil {
		return bar.Because(), bar.Instead(), bar.Code == shop.BarHalogen || maybe
	}
	switch {
	case !strings.EqualFold(lot.Polymer, polymer):
		return fmt.Sprintf("it is %s, the need is %s", lot.Polymer, polymer), "Choose a lot of the same polymer.", false
	case colour != "" && !strings.EqualFold(lot.Colour, colour):
		return fmt.Sprintf("its colour is %s, the need is %s", OrUnknown(lot.Colour), colour), "Leave the colour open if it does not matter.", false
	case lot.Sure != nil && *lot.Sure < sure:
		return fmt.Sprintf("only %s sure that it is %s", quantity.Share.Rough(*lot.Sure), polymer),
			"A bench test or its label would settle it; then correct the record.", maybe
	case lot.Metal != "" && lot.Class == shop.Scrap:
		return fmt.Sprintf("there is metal in it (%s)", lot.Metal),
			"Cut it out, then record the lot as sorted.", true
	}
	return "", "", false
}
