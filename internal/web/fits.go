package web

import (
	"net/http"
	"strings"

	"hopperful/shop"
)

// fitsView is the page where a lot and a print are chosen.
type fitsView struct {
	Answer string
	Rows   []fitsRow
	Ask    formView
}

// fitsRow is a print with the lots that might serve it.
type fitsRow struct {
	Need needRow
	Lots []fitsLot
}

// fitsLot is a lot that might serve a print.
type fitsLot struct {
	To, Say string
}

// chooseFit asks which lot for which print.
func chooseFit(d *desk) sheet {
	needs := []option{{"", "form.choose_a_print"}}
	for _, n := range d.state.Needs {
		if !n.Done {
			needs = append(needs, option{n.Name, n.Name})
		}
	}
	return sheet{Submit: "form.is_it_fit", Groups: []group{{Fields: []field{
		{Path: "lot", Label: "form.lot", As: asSelect, Choices: d.lotOptions("form.choose_a_lot", granulate...)},
		{Path: "need", Label: "form.print", As: asSelect, Choices: needs},
	}}}}
}

func (s *server) showFits(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	lot, need := d.query("lot"), d.query("need")
	if lot != "" && need != "" {
		http.Redirect(w, r, fitPath(shop.LotID(lot), need), http.StatusSeeOther)
		return
	}
	v := fitsView{Answer: "form.which_lot_and_for_which", Rows: d.fits(lot, need)}
	if len(v.Rows) == 0 {
		v.Answer = "form.nothing_on_hand_is_of"
	}
	sh := chooseFit(d)
	v.Ask = askForm(r, sh, readQuery(d.say, r.URL.Query(), sh))
	s.render(w, r, http.StatusOK, "fits", view{Title: "form.fit_to_print", Place: "plan", Crumb: &link{"/plan", "form.plan"}, Body: v})
}

// fits pairs waiting prints with granulate of their plastic.
func (d *desk) fits(lot, need string) []fitsRow {
	var rows []fitsRow
	for i := len(d.state.Needs) - 1; i >= 0; i-- {
		n := d.state.Needs[i]
		if n.Done || need != "" && n.Name != need {
			continue
		}
		row := fitsRow{Need: d.needRow(n)}
		for _, class := range granulate {
			for _, l := range d.state.Stock(class) {
				if (lot == "" || string(l.ID) == lot) && (n.Polymer == "" || strings.EqualFold(l.Polymer, n.Polymer)) {
					row.Lots = append(row.Lots, fitsLot{fitPath(l.ID, n.Name), lotLine(d.say, l)})
				}
			}
		}
		if len(row.Lots) > 0 {
			rows = append(rows, row)
		}
	}
	return rows
}
