package mills

import (
	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/plan/sieving"
	"hopperful/shop"
)

// screenView is what the records say of a mill's screen and plate.
type screenView struct {
	Now     bool          // look at it now
	Service string        // where to write down what was found
	Sifted  *address.Link // the sieving that says most
}

func viewScreen(p *say.Printer, s *sieving.ScreenState) *screenView {
	if s == nil {
		return nil
	}
	v := &screenView{Now: s.Word == sieving.LookNow, Service: address.Service(shop.ScreenPart, s.Mill)}
	if t := s.Torn; t != nil && t.Record != 0 {
		v.Sifted = &address.Link{To: address.Lot(t.Lot) + "/sieve/" + address.Number(t.Record), Say: p.Line("screen.sifted")}
	}
	return v
}
