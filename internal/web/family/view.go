package family

import (
	"html/template"

	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/plan/traceability"
	"hopperful/shop"
)

// How much of a family is drawn: near on the lot's own page, far on the
// family's. The table of the family's page holds more, its file everything.
var (
	Near     = traceability.Within{Levels: 2, Across: 5}
	Far      = traceability.Within{Levels: 24, Across: 16}
	kinTable = traceability.Within{Levels: 60, Across: 200}
)

// mostKinRows bounds the table of a family's page.
const mostKinRows = 400

// View is the picture of a family with its table.
type View struct {
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

// kin is a lot's family within bounds, placed.
func Placed(d *desk.Desk, id shop.LotID, in traceability.Within) (*Tree, traceability.Tracing, error) {
	t, err := traceability.TraceWithin(d.State, id, in)
	if err != nil {
		return nil, t, err
	}
	k := Grow(&t, d.Losses(id))
	k.place()
	return k, t, nil
}

// Of is the picture as a page shows it.
func Of(d *desk.Desk, id shop.LotID, near bool) (View, error) {
	v := View{Lot: id, Near: near, CSV: address.Family(id) + "/family.csv", Family: address.Family(id), SVG: address.Family(id) + "/family.svg"}
	in := Far
	if near {
		in, v.SVG = Near, address.Family(id)+"/near.svg"
	}
	k, t, err := Placed(d, id, in)
	if err != nil {
		return v, err
	}
	v.Answer, v.Sum, v.Middle = d.Say.Say(t.Head.Saying), k.sum(d.Say), k.Lot.X+k.Lot.W/2
	if k.alone() {
		v.Alone = d.Say.Line("family.alone", fact.Lot("lot", string(id), ""))
		return v, nil
	}
	v.Picture = k.Draw(d, d.Say.Line("family.picture", fact.Lot("lot", string(id), "")), true, MoreOf(id, near))
	if near {
		v.Rows, v.More = k.rows(d.Say, mostKinRows)
		return v, nil
	}
	t, err = traceability.TraceWithin(d.State, id, kinTable)
	if err != nil {
		return v, err
	}
	v.Rows, v.More = Grow(&t, d.Losses(id)).rows(d.Say, mostKinRows)
	return v, nil
}

// MoreOf is where the lots of a folded box are seen: on the family's page, there
// in the table, or on the page of the lot they hang on.
func MoreOf(id shop.LotID, near bool) func(shop.LotID) string {
	return func(on shop.LotID) string {
		switch {
		case near:
			return address.Family(id)
		case on == id:
			return "#family-table"
		}
		return address.Family(on)
	}
}
