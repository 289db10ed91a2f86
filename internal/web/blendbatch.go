package web

import (
	"fmt"
	"math"
	"net/http"
	"net/url"
	"strconv"
	"strings"

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
	Warn     []warnView
	Figures  []figView
	Broken   string
	Back     string
	Weighing string
}

// batchRow is a lot to weigh in.
type batchRow struct {
	Lot     shop.LotID
	Name    string
	Fill    rgb
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

// weighed are masses of lots in the order they are weighed, as an address holds
// them: "R1:0.12,R3:0.08".
type weighed []shop.Portion

func readWeighed(text string) (weighed, bool) {
	var list weighed
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

func (w weighed) String() string {
	words := make([]string, len(w))
	for i, x := range w {
		words[i] = string(x.Lot) + ":" + strconv.FormatFloat(math.Round(x.Mass*1e7)/1e7, 'f', -1, 64)
	}
	return strings.Join(words, ",")
}

func (w weighed) total() float64 {
	sum := 0.0
	for _, x := range w {
		sum += x.Mass
	}
	return sum
}

func (w weighed) of(lot shop.LotID) (float64, bool) {
	for _, x := range w {
		if x.Lot == lot {
			return x.Mass, true
		}
	}
	return 0, false
}

// batch is a recipe being weighed out.
type batch struct {
	q    blendAsked
	take weighed // as the recipe has it, in order
	put  weighed // in the bucket
	now  weighed // as it is to be, what is in the bucket as it is
	said string  // what the bucket breaks
	last blend.Blending
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
	b.take, b.put = take, put
	if len(take) == 0 || !takeRead || !putRead || len(q.in.Wrong) > 0 {
		s.fail(w, r, fault{http.StatusUnprocessableEntity, "The address does not say which lots are to be weighed.", "Begin at the page of the recipe."})
		return nil, false
	}
	for _, x := range append(append(weighed{}, take...), put...) {
		if _, known := d.state.Lot(x.Lot); !known {
			s.fail(w, r, fault{http.StatusNotFound, fmt.Sprintf("There is no lot %s.", x.Lot), "Begin at the page of the recipe."})
			return nil, false
		}
	}
	if err := s.balance(r, d, b); err != nil {
		s.failWith(w, r, err)
		return nil, false
	}
	return b, true
}

// balance makes the rest up around what is in the bucket, so that the limits
// hold; where none does, in the proportions of the recipe, and says what breaks.
func (s *server) balance(r *http.Request, d *desk, b *batch) error {
	req, whole, none := b.q.req, b.take.total(), 0.0
	fixed := b.put
	if len(b.put) == 0 {
		fixed = b.take
	}
	if b.finished() {
		whole, req.Step = b.put.total(), 1e-5 // as it was weighed
	}
	req.Soon, req.WhyNot, req.Without, req.Lots, req.Reserve = true, nil, nil, nil, &none
	req.Need.Mass, req.Need.Volume = &whole, nil
	for _, x := range b.take {
		req.Lots = append(req.Lots, x.Lot)
	}
	req.Weighed = []shop.Portion(fixed)
	req.MostLots = max(req.MostLots, len(b.take))
	h, err := s.shelfOf(d.state)
	if err == nil {
		b.last, err = h.Find(r.Context(), req)
	}
	if err == nil && !b.last.Possible {
		forgive(&req)
		b.last, err = h.Find(r.Context(), req)
	}
	if err != nil {
		return err
	}
	switch {
	case len(b.put) == 0:
		b.now = b.take
	case b.last.Possible:
		b.now = b.inOrder(b.last.Recipes[0])
	default:
		b.now = b.inProportion(d, whole)
	}
	if !b.last.Possible {
		b.said = b.last.Answer
	}
	return nil
}

// forgive lets every limit go by a two-hundredth: a limit that binds is met to the
// last digit, and nobody weighs that closely. Judgement.
func forgive(req *blend.Request) {
	const more = 1.005
	for _, v := range []**float64{&req.MeanAge, &req.Fines, &req.Moisture, &req.Metal, &req.FlowHigh, &req.WithinDE} {
		if *v != nil {
			wider := **v * more
			*v = &wider
		}
	}
	if req.FlowLow != nil {
		wider := *req.FlowLow / more
		req.FlowLow = &wider
	}
}

// finished reports whether nothing is left to weigh.
func (b *batch) finished() bool {
	for _, x := range b.take {
		if _, in := b.put.of(x.Lot); !in {
			return false
		}
	}
	return true
}

func (b *batch) inOrder(r blend.Recipe) weighed {
	var now weighed
	for _, x := range b.take {
		mass := 0.0
		for _, p := range r.Portions {
			if p.Lot == x.Lot {
				mass = p.Mass.Value
			}
		}
		now = append(now, shop.Portion{Lot: x.Lot, Mass: mass})
	}
	return now
}

// inProportion makes the rest up as the recipe had it, as far as each lot goes.
func (b *batch) inProportion(d *desk, whole float64) weighed {
	rest := 0.0
	for _, x := range b.take {
		if _, in := b.put.of(x.Lot); !in {
			rest += x.Mass
		}
	}
	now := append(weighed{}, b.take...)
	for i, x := range now {
		if mass, in := b.put.of(x.Lot); in {
			now[i].Mass = mass
		} else {
			now[i].Mass = min(max(0, whole-b.put.total())*x.Mass/rest, d.state.Lots[x.Lot].Mass)
		}
	}
	return now
}

// view lays the lots out in the order they are weighed.
func (b *batch) view(d *desk) batchView {
	v := batchView{Title: "Weigh the blend out for " + b.q.req.Need.Name, Total: quantity.Mass.Plain(b.now.total()), Warn: gather(b.last.Cautions),
		Back: b.q.with(nil), Weighing: b.at("weigh", b.put), Broken: b.said}
	running := 0.0
	for i, x := range b.now {
		l := d.state.Lots[x.Lot]
		running += x.Mass
		row := batchRow{Lot: x.Lot, Name: l.Name, Fill: d.paint(l), Planned: quantity.Mass.Plain(b.take[i].Mass), Grams: weighedOut(x.Mass),
			Running: weighedOut(running), Within: weighedOut(b.within(d, x.Mass))}
		if mass, in := b.put.of(x.Lot); in {
			row.Showed = weighedOut(mass)
		}
		v.Rows = append(v.Rows, row)
		if whole := b.now.total(); whole > 0 {
			v.Parts = append(v.Parts, portionView{X: 1000 * (running - x.Mass) / whole, Wide: 1000 * x.Mass / whole, Fill: row.Fill, ToCome: len(b.put) > 0 && row.Showed == ""})
		}
	}
	if b.last.Possible {
		for _, f := range b.last.Recipes[0].Figures {
			v.Figures = append(v.Figures, viewFigure(f))
		}
	}
	for _, x := range b.last.Steps {
		if !strings.HasPrefix(x.Do, "Add ") { // the table says that
			v.Do = append(v.Do, x.Do)
		}
	}
	return v
}

// within is how far a portion may be off: a step, or a hundredth of it.
func (b *batch) within(d *desk, mass float64) float64 {
	return max(b.q.req.Step, d.state.Resolution(mass), 0.01*mass)
}

// weighedOut is a mass as a scale of tenths of a gram shows it.
func weighedOut(kg float64) string { return grams(math.Round(kg*1e4) / 1e4) }

// at is a page of this weighing with so much in the bucket.
func (b *batch) at(page string, put weighed) string {
	set := map[string]string{"take": b.take.String()}
	if len(put) > 0 {
		set["put"] = put.String()
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
	v.Lead = fmt.Sprintf("%s of %s, of %s", v.Total, b.last.Polymer, plural(len(b.take), "lot"))
	s.render(w, r, http.StatusOK, "batch", view{Title: v.Title, Place: "plan", Crumb: &link{b.q.with(nil), "Recipe for " + b.q.req.Need.Name}, Body: v})
}

// showWeighing asks for one lot after the other, and takes down what the scale
// shows. All of it stands in the address, so nothing is lost.
func (s *server) showWeighing(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	b, ok := s.readBatch(w, r, d)
	if !ok {
		return
	}
	v := weighingView{Action: r.URL.Path, Sheet: b.at("sheet", nil), Of: len(b.take)}
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
	if n := len(b.put); n > 0 {
		v.Undo = b.at("weigh", b.put[:n-1])
	}
	for i, row := range v.Rows {
		if row.Showed == "" {
			v.Now, v.Step = &v.Rows[i], i+1
			break
		}
	}
	if v.Now == nil {
		b.record(&v)
	} else {
		v.Hidden = b.hidden(v.Now.Lot)
	}
	s.render(w, r, status, "weighing", view{Title: v.Title, Place: "plan", Crumb: &link{b.q.with(nil), "Recipe for " + b.q.req.Need.Name}, Body: v})
}

// weigh takes what the scale shows for what it holds in all.
func (b *batch) weigh(d *desk, shows string) (weighed, string) {
	lot, err := shop.ParseLot(d.query("lot"))
	planned, ours := b.take.of(lot)
	if _, in := b.put.of(lot); err != nil || !ours || in {
		return nil, "This lot is in the bucket already. Go on with the next one."
	}
	kg, err := quantity.Mass.ParseOr(shows, "g")
	if err != nil {
		say, hint := sentence(err)
		return nil, say + " " + hint
	}
	mass := kg - b.put.total()
	switch {
	case mass < 0:
		return nil, fmt.Sprintf("The scale showed %s before this lot. Type what it shows now in all, or take the last one back.", weighedOut(b.put.total()))
	case mass > 10*planned+1:
		return nil, fmt.Sprintf("That is %s of %s, far more than planned. Check the decimal point.", weighedOut(mass), lot)
	}
	return append(append(weighed{}, b.put...), shop.Portion{Lot: lot, Mass: mass}), ""
}

// hidden is the question, kept while what the scale shows is typed.
func (b *batch) hidden(lot shop.LotID) []option {
	_, query, _ := strings.Cut(b.at("weigh", b.put), "?")
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
func (b *batch) record(v *weighingView) {
	name := "for " + b.q.req.Need.Name
	if b.q.typed {
		name = ""
	}
	v.Record = []option{{"name", name}, {"polymer", b.last.Polymer}}
	n := 0
	for _, x := range b.put {
		if x.Mass > 0 {
			v.Record = append(v.Record, option{fmt.Sprintf("from.%d.lot", n), string(x.Lot)}, option{fmt.Sprintf("from.%d.mass_kg", n), strconv.FormatFloat(x.Mass*1000, 'f', -1, 64) + " g"})
			n++
		}
	}
	v.RecordTo = fmt.Sprintf("/record/blend?portions=%d", n)
}
