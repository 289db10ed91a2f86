package web

import (
	"fmt"
	"math"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"hopperful/fact"
	"hopperful/internal/web/drawing"
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
	Figures  []figView
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
	Hidden   []option // the question, kept while it is answered
	Action   string
	Typed    string // what the scale was said to show, when that cannot be
	Wrong    string
	Ways     []wayOut
	Undo     string // without what was weighed last
	Record   []option
	RecordTo string
	Sheet    string
}

// An address holds masses of lots in the order they are weighed: "R1:0.12,R3:0.08".

func readWeighed(text string) (blend.Weighed, bool) {
	var list blend.Weighed
	for part := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ',' }) {
		name, mass, _ := strings.Cut(part, ":")
		id, err := shop.ParseLot(name)
		kg, worse := strconv.ParseFloat(mass, 64)
		if err != nil || worse != nil || !(kg >= 0 && kg < 1e4) || len(list) == mostWeighed {
			return nil, false
		}
		list = append(list, shop.Portion{Lot: id, Mass: kg})
	}
	return list, true
}

// mostWeighed bounds the lots of one bucket.
const mostWeighed = 20

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
func (s *server) readBatch(w http.ResponseWriter, r *http.Request, d *desk) (*batch, bool) {
	q, ok := s.readBlend(w, r, d)
	if !ok {
		return nil, false
	}
	b := &batch{q: q}
	take, takeRead := readWeighed(d.query("take"))
	put, putRead := readWeighed(d.query("put"))
	if len(take) == 0 || !takeRead || !putRead || len(q.in.Wrong) > 0 {
		s.fail(w, r, fault{http.StatusUnprocessableEntity, d.say.Line("page.batch_no_lots"), d.say.Line("page.batch_begin")})
		return nil, false
	}
	for _, x := range append(append(blend.Weighed{}, take...), put...) {
		if _, known := d.state.Lot(x.Lot); !known {
			s.fail(w, r, fault{http.StatusNotFound, d.say.Line("shop.no_lot", fact.Name("lot", string(x.Lot))), d.say.Line("page.batch_begin")})
			return nil, false
		}
	}
	h, err := s.shelfOf(d.state)
	if err == nil {
		b.Batch, err = h.Batch(r.Context(), d.state, q.req, take, put)
	}
	if err != nil {
		s.failWith(w, r, err)
		return nil, false
	}
	return b, true
}

// view lays the lots out in the order they are weighed.
func (b *batch) view(d *desk) batchView {
	v := batchView{Title: d.say.Line("page.weigh_out_for", fact.Name("need", b.q.req.Need.Name)), Total: d.say.Number(quantity.Mass.Plain(b.Now.Total())),
		Back: b.q.with(nil), Weighing: b.at("weigh", b.Put)}
	if b.Broken {
		v.Broken = d.say.Say(b.Last.Says)
	}
	for _, c := range b.Last.Cautions {
		v.Warn = append(v.Warn, d.say.Say(c.Saying))
	}
	whole := b.Now.Total()
	for _, x := range b.Rows() {
		row := batchRow{Lot: x.Lot.ID, Name: x.Lot.Name, Fill: d.paint(x.Lot), Planned: d.say.Number(quantity.Mass.Plain(x.Planned)), Grams: d.say.Weighed(x.Mass),
			Running: d.say.Weighed(x.Running), Within: d.say.Weighed(x.Within)}
		if x.Put != nil {
			row.Showed = d.say.Weighed(*x.Put)
		}
		v.Rows = append(v.Rows, row)
		if whole > 0 {
			v.Parts = append(v.Parts, portionView{X: 1000 * (x.Running - x.Mass) / whole, Wide: 1000 * x.Mass / whole, Fill: row.Fill, ToCome: len(b.Put) > 0 && x.Put == nil})
		}
	}
	if b.Last.Possible {
		for _, f := range b.Last.Recipes[0].Figures {
			v.Figures = append(v.Figures, viewFigureIn(d.say, f))
		}
	}
	for _, x := range b.Last.Steps {
		if x.Do.Code != "blend.add" { // the table says the others
			v.Do = append(v.Do, d.say.Say(x.Do))
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

// showBatch is the sheet to print and weigh by.
func (s *server) showBatch(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	b, ok := s.readBatch(w, r, d)
	if !ok {
		return
	}
	v := b.view(d)
	v.Lead = d.say.Line("page.batch_lead", fact.Count("n", len(b.Take)), fact.Name("mass", v.Total), fact.Name("polymer", b.Last.Polymer))
	s.render(w, r, http.StatusOK, "batch", view{Title: v.Title, Place: "plan", Crumb: &link{b.q.with(nil), d.say.Line("page.recipe_for", fact.Name("need", b.q.req.Need.Name))}, Body: v})
}

// showWeighing asks for one lot after the other, and takes down what the scale
// shows. All of it stands in the address, so nothing is lost.
func (s *server) showWeighing(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	b, ok := s.readBatch(w, r, d)
	if !ok {
		return
	}
	v := weighingView{Action: r.URL.Path, Sheet: b.at("sheet", nil), Of: len(b.Take)}
	status := http.StatusOK
	if shows := d.query("shows"); shows != "" {
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
	s.render(w, r, status, "weighing", view{Title: v.Title, Place: "plan", Crumb: &link{b.q.with(nil), d.say.Line("page.recipe_for", fact.Name("need", b.q.req.Need.Name))}, Body: v})
}

// weigh takes what the scale shows for what it holds in all.
func (b *batch) weigh(d *desk, shows string) (blend.Weighed, string) {
	lot, err := shop.ParseLot(d.query("lot"))
	_, ours := b.Take.Of(lot)
	if _, in := b.Put.Of(lot); err != nil || !ours || in {
		return nil, d.say.Line("page.batch_in_already")
	}
	kg, err := quantity.Mass.ParseOr(shows, "g")
	if err != nil {
		say, hint := saidIn(d.say, err)
		return nil, say + " " + hint
	}
	mass, far := b.Shows(lot, kg)
	switch {
	case mass < 0:
		return nil, d.say.Line("page.batch_less", fact.Weighed("mass", b.Put.Total()))
	case far:
		return nil, d.say.Line("page.batch_far", fact.Weighed("mass", mass), fact.Name("lot", string(lot)))
	}
	return append(append(blend.Weighed{}, b.Put...), shop.Portion{Lot: lot, Mass: mass}), ""
}

// hidden is the question, kept while what the scale shows is typed.
func (b *batch) hidden(lot shop.LotID) []option {
	_, query, _ := strings.Cut(b.at("weigh", b.Put), "?")
	list := []option{{"lot", string(lot)}}
	values, _ := url.ParseQuery(query) // just written
	for k, v := range values {
		if k != "lot" && k != "shows" {
			list = append(list, option{k, v[0]})
		}
	}
	return list
}

// record fills the form that writes the blend down.
func (b *batch) record(d *desk, v *weighingView) {
	name := d.say.Line("page.for_need", fact.Name("need", b.q.req.Need.Name))
	if b.q.typed {
		name = ""
	}
	v.Record = []option{{"name", name}, {"polymer", b.Last.Polymer}}
	n := 0
	for _, x := range b.Put {
		if x.Mass > 0 {
			v.Record = append(v.Record, option{fmt.Sprintf("from.%d.lot", n), string(x.Lot)}, option{fmt.Sprintf("from.%d.mass_kg", n), strconv.FormatFloat(x.Mass*1000, 'f', -1, 64) + " g"})
			n++
		}
	}
	v.RecordTo = fmt.Sprintf("/record/blend?portions=%d", n)
}
