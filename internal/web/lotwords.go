package web

import (
	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/shop"
)

// lotWhat says what a lot is: "black PETG scrap".
func lotWhat(p *say.Printer, l *shop.Lot) string {
	return p.Line("lot."+string(l.Class), fact.Name("polymer", l.Polymer), fact.Name("colour", l.Colour))
}

// lotLine is a lot on one line, for choosing: "S3, black PETG scrap, 1.24 kg".
func lotLine(p *say.Printer, l *shop.Lot) string {
	line := string(l.ID) + ", " + lotWhat(p, l)
	if l.Name != "" {
		line += " (" + l.Name + ")"
	}
	return line + ", " + p.Weighed(l.Mass)
}
