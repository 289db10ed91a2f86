package web

import (
	"strings"

	"hopperful/plan/piece"
	"hopperful/polymer/identify"
	"hopperful/quantity"
	"hopperful/shop"
)

// measureView are the tests with a number of one's own: a liquid, hot metal, a
// weighing. Each is a small form; what it sends becomes a finding.
type measureView struct {
	Float, Sticks, Weigh []fieldView
	Open                 string // which one was sent and is to be mended
	sheets               map[string]sheet
}

// liquidOptions are the liquids a chip can be floated in.
var liquidOptions = []option{{string(identify.Water), "water"}, {string(identify.Brine), "brine (table salt)"}, {string(identify.Ethanol), "ethanol and water"},
	{string(identify.Propanol), "2-propanol and water"}, {string(identify.Sugar), "sugar water"}, {string(identify.Chloride), "calcium chloride in water"}}

// measuring lays the forms out with what was typed.
func measuring(d *desk, a *pieceAsked) *measureView {
	solid := func(path string) field {
		return field{Path: path, Label: "Is it solid, without infill or air?", As: asChoice, Choices: []option{{"yes", "solid"}, {"no", "hollow or infilled"}}, First: string(a.opt.Solid)}
	}
	m := &measureView{Open: d.query("add"), sheets: map[string]sheet{
		"floats": {Groups: []group{{Fields: []field{
			{Path: "liquid", Label: "The liquid", As: asSelect, Choices: liquidOptions},
			amount("strength", "Its strength by mass", quantity.Share, "%", "What is dissolved or mixed in, of the whole. Empty for water."),
			amount("density", "Or its density", quantity.Density, "g/cm³", "From a hydrometer or a weighed flask; then the strength is not needed."),
			amount("temperature", "Its temperature", quantity.Temperature, "°C", "Empty takes 20 °C."),
			solid("chip"),
		}}}},
		"sticks": {Groups: []group{{Fields: []field{
			amount("metal", "Temperature of the metal", quantity.Temperature, "°C", "40 to 300 °C. Hot metal burns and hot plastic gives off vapour: pliers, open window, stop at the first sharp smell."),
		}}}},
		"weighed": {Groups: []group{{Fields: []field{
			amount("mass", "It weighs", quantity.Mass, "g", ""),
			amount("volume", "Its volume as sliced", quantity.Volume, "cm³", "The slicer or its mesh gives it."),
			amount("scale", "The scale reads to", quantity.Mass, "g", "Empty takes 0.1 g."),
			solid("whole"),
		}}}},
	}}
	m.fill(a.in)
	return m
}

// fill lays the fields out with what is typed and wrong so far.
func (m *measureView) fill(in *input) {
	of := func(name string) []fieldView {
		var all []fieldView
		m.sheets[name].fields(func(f field) { all = append(all, fill(f, in)) })
		return all
	}
	m.Float, m.Sticks, m.Weigh = of("floats"), of("sticks"), of("weighed")
}

// read turns what a form sent into a finding, and returns where that leads; ""
// when nothing was sent. What is wrong stands at its field.
func (m *measureView) read(a *pieceAsked) string {
	sh, sent := m.sheets[m.Open]
	if !sent {
		m.Open = ""
		return ""
	}
	for path, value := range readQuery(a.in.Values, sh).in.Wrong {
		a.in.Wrong[path] = value
	}
	text := map[string]func(*pieceAsked) string{"floats": floatText, "sticks": sticksText, "weighed": weighedText}[m.Open](a)
	if len(a.in.Wrong) == 0 {
		if _, err := piece.ReadFinding(text); err != nil {
			m.refuse(a, err)
		}
	}
	m.fill(a.in)
	if m.Open != "sticks" && len(a.in.Wrong) == 0 {
		a.said.Set("solid", "yes")
	}
	return a.with("found", text)
}

// refuse puts what the plan refuses at the field it means.
func (m *measureView) refuse(a *pieceAsked, err error) {
	say, hint := sentence(err)
	path := map[string]string{"floats": "density", "sticks": "metal", "weighed": "mass"}[m.Open]
	if e, ok := err.(*shop.Error); ok {
		m.sheets[m.Open].fields(func(f field) {
			if f.Path == e.Field {
				path = e.Field
			}
		})
	}
	a.in.refuse(path, say, hint)
}

// solidSaid refuses a piece that may hold air.
func solidSaid(a *pieceAsked, path string) {
	switch yesOrNo(a.in.typed(path)) {
	case shop.No:
		a.in.refuse(path, "It holds air and floats where its plastic sinks.", "Crush it or cut a solid chip, wet it, rub off the bubbles, and try that.")
	case shop.Unknown:
		a.in.refuse(path, "Say whether it is solid.", "A print with infill holds air and reads too light.")
	}
}

func sending(a *pieceAsked, path string) {
	if a.in.typed(path) == "" {
		a.in.refuse(path, "This is needed.", "")
	}
}

func floatText(a *pieceAsked) string {
	solidSaid(a, "chip")
	answer := "=" + a.in.typed("answer")
	if rho := a.in.typed("density"); rho != "" {
		return "floats " + withUnit(quantity.Density, rho, "g/cm³") + answer
	}
	liquid := a.in.typed("liquid")
	if liquid != string(identify.Water) {
		if a.in.typed("strength") == "" {
			a.in.refuse("strength", "Say how strong it is, or how dense.", "Strength is by mass: 12 % is 12 g in 100 g of the liquid.")
		}
		liquid += " " + withUnit(quantity.Share, a.in.typed("strength"), "%")
	}
	return "floats " + strings.TrimSpace(liquid+" "+withUnit(quantity.Temperature, a.in.typed("temperature"), "°C")) + answer
}

func sticksText(a *pieceAsked) string {
	sending(a, "metal")
	return "sticks " + withUnit(quantity.Temperature, a.in.typed("metal"), "°C") + "=" + a.in.typed("answer")
}

func weighedText(a *pieceAsked) string {
	sending(a, "mass")
	sending(a, "volume")
	solidSaid(a, "whole")
	scale := a.in.typed("scale")
	if scale == "" {
		scale = "0.1"
	}
	return "weighed " + strings.Join([]string{withUnit(quantity.Mass, a.in.typed("mass"), "g"), withUnit(quantity.Volume, a.in.typed("volume"), "cm³"), withUnit(quantity.Mass, scale, "g")}, " ")
}

// withUnit writes a typed amount so that it is read again, in the field's unit
// when it was bare; what cannot be read stays as it is, and empty stays empty.
func withUnit(k quantity.Kind, typed, unit string) string {
	v, err := k.ParseOr(typed, unit)
	if typed == "" || err != nil {
		return typed
	}
	return strings.ReplaceAll(k.Typed(v, unit)+unit, " ", "")
}
