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
	needs := []option{{"", "choose a print"}}
	for _, n := range d.state.Needs {
		if !n.Done {
			needs = append(needs, option{n.Name, n.Name})
		}
	}
	return sheet{Submit: "Is it fit?", Groups: []group{{Fields: []field{
		{Path: "lot", Label: "Lot", As: asSelect, Choices: d.lotOptions("choose a lot", granulate...)},
		{Path: "need", Label: "Print", As: asSelect, Choices: needs},
	}}}}
}

func (s *server) showFits(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	lot, need := d.query("lot"), d.query("need")
	if lot != "" && need != "" {
		http.Redirect(w, r, fitPath(shop.LotID(lot), need), http.StatusSeeOther)
		return
	}
	v := fitsView{Answer: "Which lot, and for which print?", Rows: d.fits(lot, need)}
	if len(v.Rows) == 0 {
		v.Answer = "Nothing on hand is of a waiting print's plastic."
	}
	sh := chooseFit(d)
	v.Ask = askForm(r, sh, readQuery(r.URL.Query(), sh))
	s.render(w, r, http.StatusOK, "fits", view{Title: "Fit to print?", Place: "plan", Crumb: &link{"/plan", "Plan"}, Body: v})
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
					row.Lots = append(row.Lots, fitsLot{fitPath(l.ID, n.Name), lotLine(l)})
				}
			}
		}
		if len(row.Lots) > 0 {
			rows = append(rows, row)
		}
	}
	return rows
}
