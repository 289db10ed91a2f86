package prints

import (
	"net/http"
	"strings"

	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/sheets"
	"hopperful/internal/web/site"
	"hopperful/shop"
)

// fitsView is the page where a lot and a print are chosen.
type fitsView struct {
	Answer string
	Rows   []fitsRow
	Ask    forms.View
}

// fitsRow is a print with the lots that might serve it.
type fitsRow struct {
	Need NeedRow
	Lots []fitsLot
}

// fitsLot is a lot that might serve a print.
type fitsLot struct {
	To, Say string
}

// chooseFit asks which lot for which print.
func chooseFit(d *desk.Desk) forms.Sheet {
	needs := []forms.Option{{Value: "", Say: "form.choose_a_print"}}
	for _, n := range d.State.Needs {
		if !n.Done {
			needs = append(needs, forms.Option{Value: n.Name, Say: n.Name})
		}
	}
	return forms.Sheet{Submit: "form.is_it_fit", Groups: []forms.Group{{Fields: []forms.Field{
		{Path: "lot", Label: "form.lot", As: forms.AsSelect, Choices: d.LotOptions("form.choose_a_lot", sheets.Granulate...)},
		{Path: "need", Label: "form.print", As: forms.AsSelect, Choices: needs},
	}}}}
}

// ShowFits is the page where a lot and a print are chosen.
func ShowFits(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	lot, need := d.Query("lot"), d.Query("need")
	if lot != "" && need != "" {
		http.Redirect(w, r, address.Fit(shop.LotID(lot), need), http.StatusSeeOther)
		return
	}
	v := fitsView{Answer: "form.fit_question", Rows: fits(d, lot, need)}
	if len(v.Rows) == 0 {
		v.Answer = "form.no_lot_suits_print"
	}
	sh := chooseFit(d)
	v.Ask = forms.AskedForm(r, sh, forms.Read(d.Say, r.URL.Query(), sh))
	s.Render(w, r, http.StatusOK, "fits", site.View{Title: "form.fit_to_print", Place: "plan", Crumb: &address.Link{To: "/plan", Say: "form.plan"}, Body: v})
}

// fits pairs waiting prints with granulate of their plastic.
func fits(d *desk.Desk, lot, need string) []fitsRow {
	var rows []fitsRow
	for i := len(d.State.Needs) - 1; i >= 0; i-- {
		n := d.State.Needs[i]
		if n.Done || need != "" && n.Name != need {
			continue
		}
		row := fitsRow{Need: NeedRowOf(d, n)}
		for _, class := range sheets.Granulate {
			for _, l := range d.State.Stock(class) {
				if (lot == "" || string(l.ID) == lot) && (n.Polymer == "" || strings.EqualFold(l.Polymer, n.Polymer)) {
					row.Lots = append(row.Lots, fitsLot{address.Fit(l.ID, n.Name), desk.LotLine(d.Say, l)})
				}
			}
		}
		if len(row.Lots) > 0 {
			rows = append(rows, row)
		}
	}
	return rows
}
