package web

import (
	"net/http"
	"net/url"

	"hopperful/fact"
	"hopperful/internal/exchange"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/sheets"
	"hopperful/internal/web/site"
	"hopperful/shop"
)

// postCurve reads a file with a curve and shows it on the sheet, for a person to
// look at; nothing is written yet.
func (s *server) postCurve(w http.ResponseWriter, r *http.Request) {
	if !s.ReadTable(w, r, "form.curve_too_long", "form.curve_too_long_advice") {
		return
	}
	defer r.MultipartForm.RemoveAll()
	d := s.Desk(r)
	d.Query = url.Values{"lot": {r.FormValue("lot")}}.Get
	sh, v, status, values := sheets.Colour(d), &site.ColourView{Lot: r.FormValue("lot")}, http.StatusOK, url.Values{}
	read, err := curveIn(r)
	switch {
	case err != nil:
		v.Wrong, status = site.WrongTable(d.Say, err), http.StatusUnprocessableEntity
	default:
		values.Set("how", string(shop.Instrument))
		var list []any
		for i, at := range read.Wavelengths {
			list = append(list, map[string]any{"wavelength_m": at, "reflectance": read.Light[i]})
		}
		values.Set("curve", forms.ShowCurve(d.Say, list))
		v.Notes = d.Say.All(read.Notes)
	}
	f := forms.Laid(sh, forms.NewInput(d.Say, values), "/record/colour?"+url.Values{"lot": {v.Lot}}.Encode(), d.State.People)
	s.Render(w, r, status, "sheet", site.View{Title: sh.Title, Place: sh.Place, Crumb: site.PlaceLink(sh.Place), Body: site.SheetView{Form: f, Colour: v, Latest: site.LatestBeside(d, sh)}})
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
