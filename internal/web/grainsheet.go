package web

import (
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"hopperful/internal/photo"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/site"
	"hopperful/plan/grains"
	"hopperful/process/grain"
	"hopperful/shop"
)

// grainSheetView is the sheet that grains are spread on, as it is printed.
type grainSheetView struct {
	Drawing template.HTML
	PDF     string
	Others  []address.Link // the other sheets
	Back    string
}

// showGrainSheet shows the sheet, ready to be printed; .pdf sends it as a document.
func (s *server) showGrainSheet(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	sheet, on := grain.WholeSheet(), photo.White
	if r.URL.Query().Get("sheet") == "half" {
		sheet = grain.HalfSheet()
	}
	if g := photo.Ground(r.URL.Query().Get("on")); slices.Contains(photo.Grounds, g) {
		on = g
	}
	lot, err := shop.ParseLot(r.URL.Query().Get("lot"))
	if err != nil {
		lot = ""
	}
	needed, err := grains.Needed(d.State, lot, sheet)
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	page := photo.Worded(d.Say, sheet, on, needed)
	if strings.HasSuffix(r.URL.Path, ".pdf") {
		w.Header().Set("Content-Type", "application/pdf")
		w.Header().Set("Content-Disposition", `inline; filename="grains.pdf"`)
		w.Write(page.PDF())
		return
	}
	s.Render(w, r, http.StatusOK, "grainsheet", site.View{Title: d.Say.Line("page.grains_sheet"), Place: "stock", Body: viewGrainSheet(d, page, sheet, on, lot)})
}

// viewGrainSheet lays a sheet out with the way to the others.
func viewGrainSheet(d *desk.Desk, p photo.Page, sheet grain.Sheet, on photo.Ground, lot shop.LotID) grainSheetView {
	at := func(size string, on photo.Ground, ext string) string {
		return "/grains/sheet" + ext + "?" + url.Values{"sheet": {size}, "on": {string(on)}, "lot": {string(lot)}}.Encode()
	}
	v := grainSheetView{Drawing: template.HTML(p.SVG()), PDF: at(sheet.Name, on, ".pdf")} // our own drawing, its text escaped
	if lot != "" {
		v.Back = address.Grains(lot)
	}
	names := map[string]string{"whole": d.Say.Line("page.grains_whole"), "half": d.Say.Line("page.grains_half")}
	grounds := map[photo.Ground]string{photo.White: d.Say.Line("page.grains_white"), photo.Black: d.Say.Line("page.grains_black"), photo.Window: d.Say.Line("page.grains_window")}
	for _, size := range []string{"whole", "half"} {
		for _, g := range photo.Grounds {
			if size != sheet.Name || g != on {
				v.Others = append(v.Others, address.Link{To: at(size, g, ""), Say: names[size] + ", " + grounds[g]})
			}
		}
	}
	return v
}
