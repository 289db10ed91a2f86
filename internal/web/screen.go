package web

import (
	"hopperful/internal/say"
	"hopperful/plan/sieving"
	"hopperful/shop"
)

// screenView is what the records say of a mill's screen and plate.
type screenView struct {
	Now     bool   // look at it now
	Service string // where to write down what was found
	Sifted  *link  // the sieving that says most
}

func viewScreen(p *say.Printer, s *sieving.ScreenState) *screenView {
	if s == nil {
		return nil
	}
	v := &screenView{Now: s.Word == sieving.LookNow, Service: servicePath(shop.ScreenPart, s.Mill)}
	if t := s.Torn; t != nil && t.Record != 0 {
		v.Sifted = &link{lotPath(t.Lot) + "/sieve/" + toString(t.Record), p.Line("screen.sifted")}
	}
	return v
}

// servicePath is the sheet for a look at a part, or a repair.
func servicePath(part shop.MillPart, mill string) string {
	return "/record/service?part=" + string(part) + "&mill=" + queryEscape(mill)
}
