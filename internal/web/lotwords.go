package web

import (
	"strings"

	"hopperful/quantity"
	"hopperful/shop"
)

// lotWhat says what a lot is: "black PETG scrap".
func lotWhat(l *shop.Lot) string {
	polymer := l.Polymer
	if polymer == "" {
		polymer = "unknown plastic"
	}
	return strings.TrimSpace(l.Colour + " " + polymer + " " + classWord(l.Class))
}

func classWord(c shop.Class) string {
	if c == shop.Print {
		return "prints"
	}
	return string(c)
}

// lotLine is a lot on one line, for choosing: "S3, black PETG scrap, 1.24 kg".
func lotLine(l *shop.Lot) string {
	line := string(l.ID) + ", " + lotWhat(l)
	if l.Name != "" {
		line += " (" + l.Name + ")"
	}
	return line + ", " + quantity.Mass.Show(l.Mass)
}
