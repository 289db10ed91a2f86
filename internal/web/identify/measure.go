package identify

import (
	"strings"

	"hopperful/internal/say"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/plan/identification"
	"hopperful/polymer/identify"
	"hopperful/quantity"
	"hopperful/shop"
)

// measureView are the tests with a number of one's own: a liquid, hot metal, a
// weighing. Each is a small form; what it sends becomes a finding.
type measureView struct {
	Float, Sticks, Weigh []forms.FieldView
	Open                 string // which one was sent and is to be mended
	sheets               map[string]forms.Sheet
}

// liquidOptions are the liquids a chip can be floated in.
func liquidOptions(p *say.Printer) []forms.Option {
	var all []forms.Option
	for _, l := range identify.Liquids() {
		all = append(all, forms.Option{Value: string(l), Say: p.Say(identification.LiquidName(l))})
	}
	return all
}

// measuring lays the forms out with what was typed.
func measuring(d *desk.Desk, a *pieceAsked) *measureView {
	p := d.Say
	solid := func(path string) forms.Field {
		return forms.Field{Path: path, Label: p.Line("page.piece_solid"), As: forms.AsChoice, Choices: []forms.Option{{Value: "yes", Say: p.Line("page.solid")}, {Value: "no", Say: p.Line("page.hollow")}}, First: string(a.opt.Solid)}
	}
	m := &measureView{Open: d.Query("add"), sheets: map[string]forms.Sheet{
		"floats": {Groups: []forms.Group{{Fields: []forms.Field{
			{Path: "liquid", Label: p.Line("page.liquid"), As: forms.AsSelect, Choices: liquidOptions(p)},
			forms.Amount("strength", p.Line("page.liquid_strength"), quantity.Share, "%", p.Line("page.liquid_strength_help")),
			forms.Amount("density", p.Line("page.liquid_density"), quantity.Density, "g/cm³", p.Line("page.liquid_density_help")),
			forms.Amount("temperature", p.Line("page.liquid_temperature"), quantity.Temperature, "°C", p.Line("page.empty_takes_room")),
			solid("chip"),
		}}}},
		"sticks": {Groups: []forms.Group{{Fields: []forms.Field{
			forms.Amount("metal", p.Line("page.metal"), quantity.Temperature, "°C", p.Line("identification.mind_sticks")),
		}}}},
		"weighed": {Groups: []forms.Group{{Fields: []forms.Field{
			forms.Amount("mass", p.Line("page.it_weighs"), quantity.Mass, "g", ""),
			forms.Amount("volume", p.Line("page.sliced_volume"), quantity.Volume, "cm³", p.Line("page.sliced_volume_help")),
			forms.Amount("scale", p.Line("page.scale_reads"), quantity.Mass, "g", p.Line("page.scale_reads_help")),
			solid("whole"),
		}}}},
	}}
	m.fill(a.in)
	return m
}

// fill lays the fields out with what is typed and wrong so far.
func (m *measureView) fill(in *forms.Input) {
	of := func(name string) []forms.FieldView {
		var all []forms.FieldView
		m.sheets[name].Fields(func(f forms.Field) { all = append(all, forms.Filled(f, in)) })
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
	for path, value := range forms.Read(a.say, a.in.Values, sh).In.Wrong {
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
	say, hint := forms.Said(a.say, err)
	path := map[string]string{"floats": "density", "sticks": "metal", "weighed": "mass"}[m.Open]
	if e, ok := err.(*shop.Error); ok {
		m.sheets[m.Open].Fields(func(f forms.Field) {
			if f.Path == e.Field {
				path = e.Field
			}
		})
	}
	a.in.Refuse(path, say, hint)
}

// solidSaid refuses a piece that may hold air.
func solidSaid(a *pieceAsked, path string) {
	switch yesOrNo(a.in.Typed(path)) {
	case shop.No:
		a.in.Refuse(path, a.say.Line("identification.hollow"), a.say.Line("identification.cut_a_chip"))
	case shop.Unknown:
		a.in.Refuse(path, a.say.Line("identification.solid_unsaid"), a.say.Line("identification.cut_a_chip"))
	}
}

func sending(a *pieceAsked, path string) {
	if a.in.Typed(path) == "" {
		a.in.Refuse(path, a.say.Line("page.needed"), "")
	}
}

func floatText(a *pieceAsked) string {
	solidSaid(a, "chip")
	answer := "=" + a.in.Typed("answer")
	if rho := a.in.Typed("density"); rho != "" {
		return "floats " + withUnit(quantity.Density, rho, "g/cm³") + answer
	}
	liquid := a.in.Typed("liquid")
	if liquid != string(identify.Water) {
		if a.in.Typed("strength") == "" {
			a.in.Refuse("strength", a.say.Line("page.how_strong"), a.say.Line("page.how_strong_help"))
		}
		liquid += " " + withUnit(quantity.Share, a.in.Typed("strength"), "%")
	}
	return "floats " + strings.TrimSpace(liquid+" "+withUnit(quantity.Temperature, a.in.Typed("temperature"), "°C")) + answer
}

func sticksText(a *pieceAsked) string {
	sending(a, "metal")
	return "sticks " + withUnit(quantity.Temperature, a.in.Typed("metal"), "°C") + "=" + a.in.Typed("answer")
}

func weighedText(a *pieceAsked) string {
	sending(a, "mass")
	sending(a, "volume")
	solidSaid(a, "whole")
	scale := a.in.Typed("scale")
	if scale == "" {
		scale = "0.1"
	}
	return "weighed " + strings.Join([]string{withUnit(quantity.Mass, a.in.Typed("mass"), "g"), withUnit(quantity.Volume, a.in.Typed("volume"), "cm³"), withUnit(quantity.Mass, scale, "g")}, " ")
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
