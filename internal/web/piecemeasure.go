package web

import (
	"strings"

	"hopperful/internal/say"
	"hopperful/plan/identification"
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
func liquidOptions(p *say.Printer) []option {
	var all []option
	for _, l := range identify.Liquids() {
		all = append(all, option{string(l), p.Say(identification.LiquidName(l))})
	}
	return all
}

// measuring lays the forms out with what was typed.
func measuring(d *desk, a *pieceAsked) *measureView {
	p := d.say
	solid := func(path string) field {
		return field{Path: path, Label: p.Line("page.piece_solid"), As: asChoice, Choices: []option{{"yes", p.Line("page.solid")}, {"no", p.Line("page.hollow")}}, First: string(a.opt.Solid)}
	}
	m := &measureView{Open: d.query("add"), sheets: map[string]sheet{
		"floats": {Groups: []group{{Fields: []field{
			{Path: "liquid", Label: p.Line("page.liquid"), As: asSelect, Choices: liquidOptions(p)},
			amount("strength", p.Line("page.liquid_strength"), quantity.Share, "%", p.Line("page.liquid_strength_help")),
			amount("density", p.Line("page.liquid_density"), quantity.Density, "g/cm³", p.Line("page.liquid_density_help")),
			amount("temperature", p.Line("page.liquid_temperature"), quantity.Temperature, "°C", p.Line("page.empty_takes_room")),
			solid("chip"),
		}}}},
		"sticks": {Groups: []group{{Fields: []field{
			amount("metal", p.Line("page.metal"), quantity.Temperature, "°C", p.Line("identification.mind_sticks")),
		}}}},
		"weighed": {Groups: []group{{Fields: []field{
			amount("mass", p.Line("page.it_weighs"), quantity.Mass, "g", ""),
			amount("volume", p.Line("page.sliced_volume"), quantity.Volume, "cm³", p.Line("page.sliced_volume_help")),
			amount("scale", p.Line("page.scale_reads"), quantity.Mass, "g", p.Line("page.scale_reads_help")),
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
	for path, value := range readQuery(a.say, a.in.Values, sh).in.Wrong {
		a.in.Wrong[path] = value
	}
	text := map[string]func(*pieceAsked) string{"floats": floatText, "sticks": sticksText, "weighed": weighedText}[m.Open](a)
	if len(a.in.Wrong) == 0 {
		if _, err := identification.ReadFinding(text); err != nil {
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
	say, hint := saidIn(a.say, err)
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
		a.in.refuse(path, a.say.Line("identification.hollow"), a.say.Line("identification.cut_a_chip"))
	case shop.Unknown:
		a.in.refuse(path, a.say.Line("identification.solid_unsaid"), a.say.Line("identification.cut_a_chip"))
	}
}

func sending(a *pieceAsked, path string) {
	if a.in.typed(path) == "" {
		a.in.refuse(path, a.say.Line("page.needed"), "")
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
			a.in.refuse("strength", a.say.Line("page.how_strong"), a.say.Line("page.how_strong_help"))
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
