package photo

import (
	"strings"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/plan/grains"
	"hopperful/process/grain"
)

// Refusal words why a picture cannot be measured, and what to do.
func Refusal(p *say.Printer, r *grain.Refusal) (what, remedy string) {
	f := grains.Refused(r)
	return p.Say(f.Saying), p.Say(f.Remedies[0])
}

// Worded lays a sheet out with what a person has to know written on it.
func Worded(p *say.Printer, s grain.Sheet, on Ground, needed fact.Saying) Page {
	below := []string{p.Line("grains.sheet_whole")}
	if s == grain.HalfSheet() {
		below[0] = p.Line("grains.sheet_half")
	}
	ground := p.Line("grains.sheet_white")
	switch on {
	case Black:
		ground = p.Line("grains.sheet_black")
	case Window:
		ground = p.Line("grains.sheet_window")
	}
	for _, text := range []string{ground, p.Line("grains.sheet_thin"), p.Line("grains.sheet_from_above"), p.Say(needed)} {
		below = append(below, wrapped(text)...)
	}
	return Layout(s, on, p.Line("grains.sheet_line"), below)
}

const lineChars = 92 // of the page's width at its size of type

// wrapped breaks a text into lines of the page.
func wrapped(text string) (lines []string) {
	line := ""
	for _, w := range strings.Fields(text) {
		if line != "" && len(line)+1+len(w) > lineChars {
			lines, line = append(lines, line), ""
		}
		line = strings.TrimSpace(line + " " + w)
	}
	return append(lines, line)
}
