package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"hopperful/fact"
	"hopperful/internal/exchange"
	"hopperful/internal/say"
	"hopperful/quantity"
	"hopperful/shop"
)

// colourSheet takes the colour of a lot: a code, L*a*b* or a curve. The code may
// come from a photo; assets/colour.js works it out in the browser.
func colourSheet(d *desk) sheet {
	return sheet{
		Kind: "coloured", Title: "form.take_a_colour", Submit: "form.record_the_colour", Place: "stock", Timed: true,
		Intro: "form.what_a_lot_looks_like",
		Groups: []group{
			{Fields: []field{
				d.lotField("lot", "form.lot", anything...),
				{Path: "how", Label: "form.taken", As: asChoice, Must: true, First: string(shop.CardPhoto), Choices: []option{
					{string(shop.CardPhoto), "form.photo_beside_a_white_card"}, {string(shop.ByEye), "form.by_eye_on_a_screen"}, {string(shop.Instrument), "form.with_an_instrument"}}},
				text("rgb", "form.colour_code", "form.and_six_digits_or_letters"),
				yesNo("melted", "form.was_it_melted_into_one", "form.a_print_a_pressed_chip"),
			}},
			{Title: "form.l_a_b_from_an", Folded: true, Intro: "form.under_daylight_d65_leave_the", Fields: []field{
				amount("lab.l", "L*", quantity.Number, "", "form.0_is_black_100_is"),
				amount("lab.a", "a*", quantity.Number, "", "form.red_is_above_0_green"),
				amount("lab.b", "b*", quantity.Number, "", "form.yellow_is_above_0_blue"),
				{Path: "lab.observer", Label: "form.observer", As: asSelect, First: "10", Choices: []option{{"10", "form.10_degrees"}, {"2", "form.2_degrees"}}},
			}},
			{Title: "form.a_curve_from_an_instrument", Folded: true, Intro: "form.leave_the_code_above_empty", Fields: []field{
				{Path: "curve", Label: "form.wavelength_and_light_sent_back", As: asCurve, Help: "form.curve_lines"},
			}},
		},
		Shape: shapeColour,
		After: func(_ *shop.State, r shop.Record) string { return lotPath(r.Body.(*shop.Coloured).Lot) },
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

// parseCurve reads a pasted table of wavelengths and reflectances.
func parseCurve(typed string) (any, error) {
	read, err := exchange.ReadCurve("", strings.NewReader(typed), int64(len(typed)))
	if err != nil {
		return nil, err
	}
	list := []any{}
	for i, w := range read.Wavelengths {
		list = append(list, map[string]any{"wavelength_m": w, "reflectance": read.Light[i]})
	}
	return list, nil
}

// showCurve writes a curve as it would be pasted, in nm.
func showCurve(p *say.Printer, list []any) string {
	var lines []string
	for _, e := range list {
		w, isW := dig(e, []string{"wavelength_m"}).(float64)
		light, isLight := dig(e, []string{"reflectance"}).(float64)
		if isW && isLight {
			lines = append(lines, p.Decimal(strconv.FormatFloat(w*1e9, 'g', 10, 64)+"; "+strconv.FormatFloat(light, 'f', -1, 64)))
		}
	}
	return strings.Join(lines, "\n")
}

// colourView is what stands beside the sheet of a colour: the picker, and a
// table to read from a file.
type colourView struct {
	Lot   string
	Wrong *wrong // with the file
	Notes []string
}

// viewColour is nil for every other sheet.
func (d *desk) viewColour(sh sheet) *colourView {
	if sh.Kind != "coloured" {
		return nil
	}
	return &colourView{Lot: d.query("lot")}
}

// postCurve reads a file with a curve and shows it on the sheet, for a person to
// look at; nothing is written yet.
func (s *server) postCurve(w http.ResponseWriter, r *http.Request) {
	if !s.readTable(w, r, "form.that_is_more_than_a", "form.keep_only_the_wavelengths_and") {
		return
	}
	defer r.MultipartForm.RemoveAll()
	d := s.desk(r)
	d.query = url.Values{"lot": {r.FormValue("lot")}}.Get
	sh, v, status, values := colourSheet(d), &colourView{Lot: r.FormValue("lot")}, http.StatusOK, url.Values{}
	read, err := curveIn(r)
	switch {
	case err != nil:
		v.Wrong, status = wrongTable(d.say, err), http.StatusUnprocessableEntity
	default:
		values.Set("how", string(shop.Instrument))
		var list []any
		for i, at := range read.Wavelengths {
			list = append(list, map[string]any{"wavelength_m": at, "reflectance": read.Light[i]})
		}
		values.Set("curve", showCurve(d.say, list))
		v.Notes = d.say.All(read.Notes)
	}
	f := form(sh, newInput(d.say, values), "/record/colour?"+url.Values{"lot": {v.Lot}}.Encode(), d.state.People)
	s.render(w, r, status, "sheet", view{Title: sh.Title, Place: sh.Place, Crumb: placeLink(sh.Place), Body: sheetView{Form: f, Colour: v}})
}

// curveIn is the curve in the file sent along.
func curveIn(r *http.Request) (exchange.Curve, error) {
	f, head, err := r.FormFile("file")
	if err != nil {
		return exchange.Curve{}, shop.Refuse(shop.Invalid, "file", fact.Say("exchange.no_file"), fact.Say("exchange.do_choose_curve"))
	}
	defer f.Close()
	return exchange.ReadCurve(head.Filename, f, head.Size)
}
