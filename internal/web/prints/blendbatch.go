package prints

import (
	"fmt"
	"math"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/drawing"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/sheets"
	"hopperful/internal/web/site"
	"hopperful/plan/blend"
	"hopperful/quantity"
	"hopperful/shop"
)

// batchView is the sheet to weigh a blend by.
type batchView struct {
	Title    string
	Lead     string
	Rows     []batchRow
	Parts    []portionView // the bar
	Total    string
	Do       []string // before and after the weighing
	Warn     []string
	Figures  []figures.View
	Broken   string
	Back     string
	Weighing string
}

// batchRow is a lot to weigh in.
type batchRow struct {
	Lot     shop.LotID
	Name    string
	Fill    drawing.RGB
	Planned string // as the recipe has it
	Grams   string // as it is now
	Running string // what the scale shows then
	Within  string
	Showed  string // weighed in already
}

// weighingView is one lot to weigh in.
type weighingView struct {
	batchView
	Step, Of int
	Now      *batchRow
	Hidden   []forms.Option // the question, kept while it is answered
	Action   string
	Typed    string // what the scale was said to show, when that cannot be
	Wrong    string
	Ways     []wayOut
	Undo     string // without what was weighed last
	Record   []forms.Option
	RecordTo string
	Sheet    string
}

// An address holds masses of lots in the order they are weighed: "R1:0.12,R3:0.08".

// ReadWeighed reads what was weighed into the bucket so far.
func ReadWeighed(text string) (blend.Weighed, bool) {
	var list blend.Weighed
	for part := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ',' }) {
		name, mass, _ := strings.Cut(part, ":")
		id, err := shop.ParseLot(name)
		kg, worse := strconv.ParseFloat(mass, 64)
		if err != nil || worse != nil || !(kg >= 0 && kg < 1e4) || len(list) == sheets.MostWeighed {
			return nil, false
		}
		list = append(list, shop.Portion{Lot: id, Mass: kg})
	}
	return list, true
}

// inAddress writes masses as an address holds them.
func inAddress(w blend.Weighed) string {
	words := make([]string, len(w))
	for i, x := range w {
		words[i] = string(x.Lot) + ":" + strconv.FormatFloat(math.Round(x.Mass*1e7)/1e7, 'f', -1, 64)
	}
	return strings.Join(words, ",")
}

// batch is a recipe being weighed out, with the question it answers.
type batch struct {
	blend.Batch
	q blendAsked
}

// readBatch reads what of which lot; false when the answer is already given.
func readBatch(s *site.Site, w http.ResponseWriter, r *http.Request, d *desk.Desk) (*batch, bool) {
	q, ok := readBlend(s, w, r, d)
	if !ok {
		return nil, false
	}
	b := &batch{q: q}
	take, takeRead := ReadWeighed(d.Query("take"))
	put, putRead := ReadWeighed(d.Query("put"))
	if len(take) == 0 || !takeRead || !putRead || len(q.In.Wrong) > 0 {
		s.Fail(w, r, site.Fault{Status: http.StatusUnprocessableEntity, Say: d.Say.Line("page.batch_no_lots"), Hint: d.Say.Line("page.batch_begin")})
		return nil, false
	}
	for _, x := range append(append(blend.Weighed{}, take...), put...) {
		if _, known := d.State.Lot(x.Lot); !known {
			s.Fail(w, r, site.Fault{Status: http.StatusNotFound, Say: d.Say.Line("shop.no_lot", fact.Name("lot", string(x.Lot))), Hint: d.Say.Line("page.batch_begin")})
			return nil, false
		}
	}
	h, err := s.ShelfOf(d.State)
	if err == nil {
		b.Batch, err = h.Batch(r.Context(), d.State, q.req, take, put)
	}
	if err != nil {
		s.FailWith(w, r, err)
		return nil, false
	}
	return b, true
}

// view lays the lots out in the order they are weighed.
func (b *batch) view(d *desk.Desk) batchView {
	v := batchView{Title: d.Say.Line("page.weigh_out_for", fact.Name("need", b.q.req.Need.Name)), Total: d.Say.Number(quantity.Mass.Plain(b.Now.Total())),
		Back: b.q.with(nil), Weighing: b.at("weigh", b.Put)}
	if b.Broken {
		v.Broken = d.Say.Say(b.Last.Says)
	}
	for _, c := range b.Last.Cautions {
		v.Warn = append(v.Warn, d.Say.Say(c.Saying))
	}
	whole := b.Now.Total()
	for _, x := range b.Rows() {
		row := batchRow{Lot: x.Lot.ID, Name: x.Lot.Name, Fill: d.Paint(x.Lot), Planned: d.Say.Number(quantity.Mass.Plain(x.Planned)), Grams: d.Say.Weighed(x.Mass),
			Running: d.Say.Weighed(x.Running), Within: d.Say.Weighed(x.Within)}
		if x.Put != nil {
			row.Showed = d.Say.Weighed(*x.Put)
		}
		v.Rows = append(v.Rows, row)
		if whole > 0 {
			v.Parts = append(v.Parts, portionView{X: 1000 * (x.Running - x.Mass) / whole, Wide: 1000 * x.Mass / whole, Fill: row.Fill, ToCome: len(b.Put) > 0 && x.Put == nil})
		}
	}
	if b.Last.Possible {
		for _, f := range b.Last.Recipes[0].Figures {
			v.Figures = append(v.Figures, figures.Of(d.Say, f))
		}
	}
	for _, x := range b.Last.Steps {
		if x.Do.Code != "blend.add" { // the table says the others
			v.Do = append(v.Do, d.Say.Say(x.Do))
		}
	}
	return v
}

// at is a page of this weighing with so much in the bucket.
func (b *batch) at(page string, put blend.Weighed) string {
	set := map[string]string{"take": inAddress(b.Take)}
	if len(put) > 0 {
		set["put"] = inAddress(put)
	}
	return under(b.q.with(set), page)
}

// ShowBatch is the sheet to print and weigh by.
func ShowBatch(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	b, ok := readBatch(s, w, r, d)
	if !ok {
		return
	}
	v := b.view(d)
	v.Lead = d.Say.Line("page.batch_lead", fact.Count("n", len(b.Take)), fact.Name("mass", v.Total), fact.Name("polymer", b.Last.Polymer))
	s.Render(w, r, http.StatusOK, "batch", site.View{Title: v.Title, Place: "plan", Crumb: &address.Link{To: b.q.with(nil), Say: d.Say.Line("page.recipe_for", fact.Name("need", b.q.req.Need.Name))}, Body: v})
}

// ShowWeighing asks for one lot after the other, and takes down what the scale
// shows. All of it stands in the address, so nothing is lost.
func ShowWeighing(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	b, ok := readBatch(s, w, r, d)
	if !ok {
		return
	}
	v := weighingView{Action: r.URL.Path, Sheet: b.at("sheet", nil), Of: len(b.Take)}
	status := http.StatusOK
	if shows := d.Query("shows"); shows != "" {
		put, wrong := b.weigh(d, shows)
		if wrong == "" {
			wrong, v.Ways = b.overdrawn(d, put, r.URL.RequestURI())
		}
		if wrong == "" {
			http.Redirect(w, r, b.at("weigh", put), http.StatusSeeOther)
			return
		}
		v.Typed, v.Wrong, status = shows, wrong, http.StatusUnprocessableEntity
	}
	v.batchView = b.view(d)
	if n := len(b.Put); n > 0 {
		v.Undo = b.at("weigh", b.Put[:n-1])
	}
	for i, row := range v.Rows {
		if row.Showed == "" {
			v.Now, v.Step = &v.Rows[i], i+1
			break
		}
	}
	if v.Now == nil {
		b.record(d, &v)
	} else {
		v.Hidden = b.hidden(v.Now.Lot)
	}
	s.Render(w, r, status, "weighing", site.View{Title: v.Title, Place: "plan", Crumb: &address.Link{To: b.q.with(nil), Say: d.Say.Line("page.recipe_for", fact.Name("need", b.q.req.Need.Name))}, Body: v})
}

// weigh takes what the scale shows for what it holds in all.
func (b *batch) weigh(d *desk.Desk, shows string) (blend.Weighed, string) {
	lot, err := shop.ParseLot(d.Query("lot"))
	_, ours := b.Take.Of(lot)
	if _, in := b.Put.Of(lot); err != nil || !ours || in {
		return nil, d.Say.Line("page.batch_in_already")
	}
	kg, err := quantity.Mass.ParseOr(shows, "g")
	if err != nil {
		say, hint := forms.Said(d.Say, err)
		return nil, say + " " + hint
	}
	mass, far := b.Shows(lot, kg)
	switch {
	case mass < 0:
		return nil, d.Say.Line("page.batch_less", fact.Weighed("mass", b.Put.Total()))
	case far:
		return nil, d.Say.Line("page.batch_far", fact.Weighed("mass", mass), fact.Name("lot", string(lot)))
	}
	return append(append(blend.Weighed{}, b.Put...), shop.Portion{Lot: lot, Mass: mass}), ""
}

// hidden is the question, kept while what the scale shows is typed.
func (b *batch) hidden(lot shop.LotID) []forms.Option {
	_, query, _ := strings.Cut(b.at("weigh", b.Put), "?")
	list := []forms.Option{{Value: "lot", Say: string(lot)}}
	values, _ := url.ParseQuery(query) // just written
	for k, v := range values {
		if k != "lot" && k != "shows" {
			list = append(list, forms.Option{Value: k, Say: v[0]})
		}
	}
	return list
}

// record fills the form that writes the blend down.
func (b *batch) record(d *desk.Desk, v *weighingView) {
	name := d.Say.Line("page.for_need", fact.Name("need", b.q.req.Need.Name))
	if b.q.typed {
		name = ""
	}
	v.Record = []forms.Option{{Value: "name", Say: name}, {Value: "polymer", Say: b.Last.Polymer}}
	n := 0
	for _, x := range b.Put {
		if x.Mass > 0 {
			v.Record = append(v.Record, forms.Option{Value: fmt.Sprintf("from.%d.lot", n), Say: string(x.Lot)}, forms.Option{Value: fmt.Sprintf("from.%d.mass_kg", n), Say: strconv.FormatFloat(x.Mass*1000, 'f', -1, 64) + " g"})
			n++
		}
	}
	v.RecordTo = fmt.Sprintf("/record/blend?portions=%d", n)
}
