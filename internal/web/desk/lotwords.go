package desk

import (
	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/shop"
)

// LotWhat says what a lot is: "black PETG scrap".
func LotWhat(p *say.Printer, l *shop.Lot) string {
	return p.Line("lot."+string(l.Class), fact.Name("polymer", l.Polymer), fact.Name("colour", l.Colour))
}

// LotLine is a lot on one line, for choosing: "S3, black PETG scrap, 1.24 kg".
func LotLine(p *say.Printer, l *shop.Lot) string {
	line := string(l.ID) + ", " + LotWhat(p, l)
	if l.Name != "" {
		line += " (" + l.Name + ")"
	}
	return line + ", " + p.Weighed(l.Mass)
}
