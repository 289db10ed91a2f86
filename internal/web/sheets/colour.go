package sheets

import (
	"fmt"
	"strconv"
	"strings"

	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/quantity"
	"hopperful/shop"
)

// Colour takes the colour of a lot: a code, L*a*b* or a curve. The code may
// come from a photo; assets/colour.js works it out in the browser.
func Colour(d *desk.Desk) forms.Sheet {
	return forms.Sheet{
		Kind: "coloured", Title: "form.take_a_colour", Submit: "form.record_the_colour", Place: "stock", Timed: true,
		Intro: "form.coloured_intro",
		Groups: []forms.Group{
			{Fields: []forms.Field{
				lotField(d, "form.lot", anything...),
				{Path: "how", Label: "form.taken", As: forms.AsChoice, Must: true, First: string(shop.CardPhoto), Choices: []forms.Option{
					{Value: string(shop.CardPhoto), Say: "form.photo_beside_a_white_card"}, {Value: string(shop.ByEye), Say: "form.by_eye_on_a_screen"}, {Value: string(shop.Instrument), Say: "form.with_an_instrument"}}},
				forms.Text("rgb", "form.colour_code", "form.colour_code_help"),
				forms.YesNo("melted", "form.was_it_melted_into_one", "form.melted_help"),
			}},
			{Title: "form.lab_measured", Folded: true, Intro: "form.lab_intro", Fields: []forms.Field{
				forms.Amount("lab.l", "L*", quantity.Number, "", "form.lightness_help"),
				forms.Amount("lab.a", "a*", quantity.Number, "", "form.lab_a_help"),
				forms.Amount("lab.b", "b*", quantity.Number, "", "form.lab_b_help"),
				{Path: "lab.observer", Label: "form.observer", As: forms.AsSelect, First: "10", Choices: []forms.Option{{Value: "10", Say: "form.10_degrees"}, {Value: "2", Say: "form.2_degrees"}}},
			}},
			{Title: "form.a_curve_from_an_instrument", Folded: true, Intro: "form.leave_the_code_above_empty", Fields: []forms.Field{
				{Path: "curve", Label: "form.wavelength_and_light_sent_back", As: forms.AsCurve, Help: "form.curve_lines"},
			}},
		},
		Shape: shapeColour,
		After: func(_ *shop.State, r shop.Record) string { return address.Lot(r.Body.(*shop.Coloured).Lot) },
	}
}

// shapeColour leaves out an observer of no numbers, and knows that L*a*b* and
// curves come from an instrument.
func shapeColour(tree map[string]any) {
	lab, _ := tree["lab"].(map[string]any)
	if lab != nil && lab["l"] == nil && lab["a"] == nil && lab["b"] == nil {
		delete(tree, "lab")
		lab = nil
	}
	if n, err := strconv.Atoi(fmt.Sprint(lab["observer"])); err == nil {
		lab["observer"] = n
	}
	code, _ := tree["rgb"].(string)
	if code != "" {
		tree["rgb"] = strings.ToLower(code)
	} else if lab != nil || tree["curve"] != nil {
		tree["how"] = string(shop.Instrument)
	}
}
