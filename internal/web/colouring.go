package web

import (
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"hopperful/internal/exchange"
	"hopperful/quantity"
	"hopperful/shop"
)

// colourSheet takes the colour of a lot: a code, L*a*b* or a curve. The code may
// come from a photo; assets/colour.js works it out in the browser.
func colourSheet(d *desk) sheet {
	return sheet{
		Kind: "coloured", Title: "Take a colour", Submit: "Record the colour", Place: "stock", Timed: true,
		Intro: "What a lot looks like now. It says what its blends and prints will look like.",
		Groups: []group{
			{Fields: []field{
				d.lotField("lot", "Lot", anything...),
				{Path: "how", Label: "Taken", As: asChoice, Must: true, First: string(shop.CardPhoto), Choices: []option{
					{string(shop.CardPhoto), "photo beside a white card"}, {string(shop.ByEye), "by eye on a screen"}, {string(shop.Instrument), "with an instrument"}}},
				text("rgb", "Colour code", "# and six digits or letters a to f, such as #1c1c1c. A photo errs by 5 to 10 in the colour difference; below 2 is hard to see."),
				yesNo("melted", "Was it melted into one", "A print, a pressed chip, a strand: yes. Grains side by side: no. Not known: prints were, granulate was not. Melted mixes teach how strongly their parts tint."),
			}},
			{Title: "L*a*b* from an instrument", Folded: true, Intro: "Under daylight D65. Leave the code above empty.", Fields: []field{
				amount("lab.l", "L*", quantity.Number, "", "0 is black, 100 is white."),
				amount("lab.a", "a*", quantity.Number, "", "Red is above 0, green below."),
				amount("lab.b", "b*", quantity.Number, "", "Yellow is above 0, blue below."),
				{Path: "lab.observer", Label: "Observer", As: asSelect, First: "10", Choices: []option{{"10", "10 degrees"}, {"2", "2 degrees"}}},
			}},
			{Title: "A curve from an instrument", Folded: true, Intro: "Leave the code above empty.", Fields: []field{
				{Path: "curve", Label: "Wavelength and light sent back", As: asCurve, Help: "A line each, from 400 nm or less to 700 nm or more, at most 20 nm apart: 400; 0.062. Paste the table as it is."},
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
	read, err := exchange.ReadCurve("The table", strings.NewReader(typed), int64(len(typed)))
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
func showCurve(list []any, comma bool) string {
	var lines []string
	for _, e := range list {
		w, isW := dig(e, []string{"wavelength_m"}).(float64)
		light, isLight := dig(e, []string{"reflectance"}).(float64)
		if isW && isLight {
			lines = append(lines, localised(strconv.FormatFloat(w*1e9, 'g', 10, 64)+"; "+strconv.FormatFloat(light, 'f', -1, 64), comma))
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
	if !s.readTable(w, r, "That is more than a curve can be.", "Keep only the wavelengths and the light in the file.") {
		return
	}
	defer r.MultipartForm.RemoveAll()
	d := s.desk(r)
	d.query = url.Values{"lot": {r.FormValue("lot")}}.Get
	sh, v, status, values := colourSheet(d), &colourView{Lot: r.FormValue("lot")}, http.StatusOK, url.Values{}
	read, err := curveIn(r)
	switch {
	case err != nil:
		v.Wrong, status = wrongTable(err), http.StatusUnprocessableEntity
	default:
		values.Set("how", string(shop.Instrument))
		var list []any
		for i, at := range read.Wavelengths {
			list = append(list, map[string]any{"wavelength_m": at, "reflectance": read.Light[i]})
		}
		values.Set("curve", showCurve(list, d.comma))
		v.Notes = read.Notes
	}
	f := form(sh, newInput(values), "/record/colour?"+url.Values{"lot": {v.Lot}}.Encode(), d.state.People)
	s.render(w, r, status, "sheet", view{Title: sh.Title, Place: sh.Place, Crumb: placeLink(sh.Place), Body: sheetView{Form: f, Colour: v}})
}

// curveIn is the curve in the file sent along.
func curveIn(r *http.Request) (exchange.Curve, error) {
	f, head, err := r.FormFile("file")
	if err != nil {
		return exchange.ReadCurve("no file was chosen", io.LimitReader(r.Body, 0), 0)
	}
	defer f.Close()
	return exchange.ReadCurve(head.Filename, f, head.Size)
}
