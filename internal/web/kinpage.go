package web

import (
	"fmt"
	"html/template"
	"net/http"

	"hopperful/fact"
	"hopperful/plan/traceability"
	"hopperful/shop"
)

// How much of a family is drawn: near on the lot's own page, far on the
// family's. The table of the family's page holds more, its file everything.
var (
	kinNear  = traceability.Within{Levels: 2, Across: 5}
	kinFar   = traceability.Within{Levels: 24, Across: 16}
	kinTable = traceability.Within{Levels: 60, Across: 200}
)

// mostKinRows bounds the table of a family's page.
const mostKinRows = 400

// familyView is the picture of a family with its table.
type familyView struct {
	Lot     shop.LotID
	Answer  string
	Picture template.HTML // "" for a lot without kin
	Alone   string        // what is said then
	Middle  float64       // where the lot stands, across
	Sum     string
	Rows    []kinRow
	More    int  // rows beyond
	Near    bool // on the lot's own page
	SVG     string
	CSV     string
	Family  string // the page of the whole
}

// familyPath is the page of a lot's whole family.
func familyPath(id shop.LotID) string { return lotPath(id) + "/family" }

// kin is a lot's family within bounds, placed.
func (d *desk) family(id shop.LotID, in traceability.Within) (*kinTree, traceability.Tracing, error) {
	t, err := traceability.TraceWithin(d.state, id, in)
	if err != nil {
		return nil, t, err
	}
	k := growKin(&t, d.losses(id))
	k.place()
	return k, t, nil
}

// viewFamily is the picture as a page shows it.
func (d *desk) viewFamily(id shop.LotID, near bool) (familyView, error) {
	v := familyView{Lot: id, Near: near, CSV: familyPath(id) + "/family.csv", Family: familyPath(id), SVG: familyPath(id) + "/family.svg"}
	in := kinFar
	if near {
		in, v.SVG = kinNear, familyPath(id)+"/near.svg"
	}
	k, t, err := d.family(id, in)
	if err != nil {
		return v, err
	}
	v.Answer, v.Sum, v.Middle = d.say.Say(t.Head.Saying), k.sum(d.say), k.Lot.X+k.Lot.W/2
	if k.alone() {
		v.Alone = d.say.Line("family.alone", fact.Lot("lot", string(id), ""))
		return v, nil
	}
	v.Picture = k.draw(d, d.say.Line("family.picture", fact.Lot("lot", string(id), "")), true, moreOf(id, near))
	if near {
		v.Rows, v.More = k.rows(d.say, mostKinRows)
		return v, nil
	}
	t, err = traceability.TraceWithin(d.state, id, kinTable)
	if err != nil {
		return v, err
	}
	v.Rows, v.More = growKin(&t, d.losses(id)).rows(d.say, mostKinRows)
	return v, nil
}

// moreOf is where the lots of a folded box are seen: on the family's page, there
// in the table, or on the page of the lot they hang on.
func moreOf(id shop.LotID, near bool) func(shop.LotID) string {
	return func(on shop.LotID) string {
		switch {
		case near:
			return familyPath(id)
		case on == id:
			return "#family-table"
		}
		return familyPath(on)
	}
}

// lotAsked is the lot of an address, or the answer that there is none.
func (s *server) lotAsked(w http.ResponseWriter, r *http.Request, d *desk) (*shop.Lot, bool) {
	id, err := shop.ParseLot(r.PathValue("lot"))
	l, ok := d.state.Lot(id)
	if err != nil || !ok {
		s.fail(w, r, fault{http.StatusNotFound, d.say.Line("shop.no_lot", fact.Name("lot", r.PathValue("lot"))), d.say.Line("shop.stock_lists")})
		return nil, false
	}
	return l, true
}

// familyPage is the page of the whole family.
type familyPage struct {
	Say     string
	Family  familyView
	LotPage string
}

func (s *server) showFamily(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	l, ok := s.lotAsked(w, r, d)
	if !ok {
		return
	}
	if wantsJSON(r) {
		t, err := traceability.Trace(d.state, l.ID)
		if err != nil {
			s.failWith(w, r, err)
			return
		}
		writeJSON(w, http.StatusOK, d.say.Document(t.Document))
		return
	}
	v, err := d.viewFamily(l.ID, false)
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	page := familyPage{Say: v.Answer, Family: v, LotPage: lotPath(l.ID)}
	s.render(w, r, http.StatusOK, "family", view{Title: d.say.Line("family.of", fact.Lot("lot", string(l.ID), "")), Place: "stock",
		Crumb: d.lotCrumb(l.ID), Body: page})
}

// downloadFamily sends the picture or the numbers of a family as a file.
func (s *server) downloadFamily(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	l, ok := s.lotAsked(w, r, d)
	if !ok {
		return
	}
	in, known := map[string]traceability.Within{"family.csv": {}, "family.svg": kinFar, "near.svg": kinNear}[r.PathValue("file")]
	if !known {
		s.showMissing(w, r)
		return
	}
	k, _, err := d.family(l.ID, in)
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	if r.PathValue("file") == "family.csv" {
		attach(w, "text/csv; charset=utf-8", string(l.ID)+"-family.csv")
		writeKin(w, d.say, k)
		return
	}
	sendDrawing(w, string(l.ID)+"-family.svg", k.draw(d, d.say.Line("form.where_came_from_and_went", fact.Name("id", string(l.ID))), false, moreOf(l.ID, false)))
}

// attach says that what follows is a file of that name.
func attach(w http.ResponseWriter, kind, name string) {
	h := w.Header()
	h.Set("Content-Type", kind)
	h.Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", name))
}
