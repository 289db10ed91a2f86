package web

import (
	"html/template"
	"net/http"
	"strings"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/internal/web/drawing"
	"hopperful/plan/plausibility"
	"hopperful/quantity"
	"hopperful/shop"
)

// lotCard is a lot on the shelf.
type lotCard struct {
	ID     shop.LotID
	Name   string
	What   string
	Mass   string
	Age    string
	Heap   template.HTML
	Rings  template.HTML
	Care   string // why it needs a look, "" when it does not
	Colour string
}

func (d *desk) card(l *shop.Lot) lotCard {
	born := d.born(l)
	return lotCard{ID: l.ID, Name: l.Name, What: lotWhat(d.say, l), Mass: d.say.Weighed(l.Mass), Age: d.aged(born),
		Heap: drawing.Heap(l, d.coarseness(l), d.paint(l), false), Rings: drawing.Rings(l.ID, born, d.now), Care: care(d.say, l), Colour: l.Colour}
}

// born is when a lot came.
func (d *desk) born(l *shop.Lot) time.Time {
	if r, ok := d.state.Record(l.Born); ok {
		return r.At
	}
	return time.Time{}
}

// coarseness is how large a lot's grains are drawn: its largest piece, or the
// hole of the screen it last came through. Nobody said: 0.
func (d *desk) coarseness(l *shop.Lot) float64 {
	if l.Pieces.Largest != nil {
		return *l.Pieces.Largest
	}
	for i := len(l.Records) - 1; i >= 0; i-- {
		r, _ := d.state.Record(l.Records[i])
		g, ok := r.Body.(*shop.Ground)
		if !ok || g.Into != l.ID {
			continue
		}
		if g.Hole != nil {
			return *g.Hole
		}
		if m, ok := d.state.MillAt(r.ID); ok && m.Screen.Hole != nil {
			return *m.Screen.Hole
		}
	}
	return 0
}

// care says why a lot needs a look before it is used.
func care(p *say.Printer, l *shop.Lot) string {
	switch bar := l.Bar(); {
	case bar != nil:
		return p.Say(bar.Because())
	case l.Metal != "" && l.Class == shop.Scrap:
		return p.Line("form.metal_in_it", fact.Name("metal", l.Metal))
	}
	return ""
}

// kin is a lot this one came from or went to.
type kin struct {
	lotCard
	Share string // of mass
	Whole bool   // the lot is still known
}

// lotView is a lot's page.
type lotView struct {
	lotCard
	Class   shop.Class
	Answer  string
	Facts   []option
	Family  familyView
	Plastic ageView // how old it is
	Tint    lotColourView
	Made    []kin // of which lots taken in it consists
	Losses  []option
	Log     []recordRow
	Gone    bool   // nothing is left
	Earlier *link  // to those the log leaves out
	Can     []link // the usual first
	Further []link // seldom wanted, folded
	MainAct link
	Compare *comparedView  // of the charge just recorded
	Bar     *setAside      // what keeps it from mill, dryer and printer
	Asked   []questionView // about what was written down of it
	Sieved  *link          // its newest sieve analysis
	Marked  *link          // a damaged part may have spoilt it
	Album   []pictureLine
	Picture string // of its grains, the newest kept; "" without one
}

// openActs is how many of the further things to do with a lot stand open.
const openActs = 5

// lotRecords is how many of its records a lot's page shows unless all are asked for.
const lotRecords = 3

func (s *server) showLot(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	l, ok := s.lotAsked(w, r, d)
	if !ok {
		return
	}
	id := l.ID
	v := lotView{lotCard: d.card(l), Bar: d.setAside(l.Bar()), Class: l.Class, Gone: l.Mass <= 0, Answer: lotAnswer(d.say, l), Facts: d.facts(l)}
	if earlier := len(l.Records) - lotRecords; earlier > 0 && d.query("records") != "all" {
		v.Earlier = &link{lotPath(id) + "?records=all", d.say.Line("form.show_the_earlier_records", fact.Count("n", earlier))}
		v.Log = d.logOf(l.Records[earlier:])
	} else {
		v.Log = d.logOf(l.Records)
	}
	if made := d.state.Composition(id); len(made) > 1 {
		for _, e := range made {
			e.Mass *= l.Mass // Composition gives shares
			v.Made = append(v.Made, d.kin([]shop.Edge{e})...)
		}
	}
	var err error
	var strange []answer.Finding
	if v.Family, err = d.viewFamily(id, true); err != nil {
		s.failWith(w, r, err)
		return
	}
	v.Plastic = d.viewAge(l)
	v.Heap = drawing.Heap(l, d.coarseness(l), d.paint(l), true)
	v.Losses = d.losses(id)
	if v.Tint, strange, err = d.viewColourOf(l); err != nil {
		s.failWith(w, r, err)
		return
	}
	for _, id := range l.Records {
		var list []plausibility.Question
		if id == l.TakenBy {
			list = plausibility.Coloured(d.state, id, strange) // reckoned just now
		} else if rec, _ := d.state.Record(id); rec.Body != nil && rec.Body.Kind() != "coloured" {
			list = plausibility.Of(d.state, id)
		}
		v.Asked = append(v.Asked, d.questions(id, list, r.URL.RequestURI())...)
	}
	v.MainAct, v.Can = lotActs(l)
	v.Album = d.album(id, 0)
	v.Can = append(v.Can, link{photoPath(id, 0), d.say.Line("page.photo_take")}, link{"/labels?lots=" + string(id), d.say.Line("page.labels_one")})
	v.Marked = d.markedLot(id)
	v.Can = append(v.Can, link{lotPath(id) + "/books", d.say.Line("page.books_grams")})
	if all := d.state.Sievings(id); len(all) > 0 {
		v.Sieved = &link{sievePath(id, all[0].ID), d.say.Line("form.its_sieving_of", fact.Name("now", d.clock(all[0].At)))}
		for _, e := range all {
			if rec, ok := d.state.Record(e.ID); ok && v.Picture == "" {
				v.Picture = keptPicture(rec)
			}
		}
	}
	if run, ok := justGround(d); ok {
		v.Compare = s.compare(w, r, d.state, run, lotPath(id)+"?done="+toString(run))
		v.Can = append([]link{v.MainAct}, v.Can...)
		v.MainAct = link{"/record/charge", "form.record_the_next_charge"}
	}
	if len(v.Can) > openActs+1 {
		v.Can, v.Further = v.Can[:openActs], v.Can[openActs:]
	}
	s.render(w, r, http.StatusOK, "lot", view{Title: string(id) + ", " + lotWhat(d.say, l), Place: "stock", Crumb: &link{"/stock", "form.stock"}, Body: v})
}

// losses are what left a lot other than into another, each name once.
func (d *desk) losses(id shop.LotID) []option {
	var names []string
	sum := map[string]float64{}
	for loss := range d.state.Losses.Of(id) {
		if _, seen := sum[loss.Name]; !seen {
			names = append(names, loss.Name)
		}
		sum[loss.Name] += loss.Mass
	}
	var list []option
	for _, name := range names {
		list = append(list, option{d.say.Line("loss." + strings.ReplaceAll(name, " ", "_")), d.say.Weighed(sum[name])})
	}
	return list
}

func lotAnswer(p *say.Printer, l *shop.Lot) string {
	if l.Mass <= 0 {
		return p.Line("form.is_used_up", fact.Name("id", string(l.ID)), fact.Name("l", lotWhat(p, l)))
	}
	return p.Line("form.mass_of_lot", fact.Weighed("mass", l.Mass), fact.Name("l", lotWhat(p, l)))
}

// unsure reports a lot whose plastic is worth finding out before it is used.
// Below 0.9 it is not ground with others of its name.
func unsure(l *shop.Lot) bool {
	const enough = 0.9
	return l.Polymer == "" || l.Sure != nil && *l.Sure < enough
}

// lotActs are what can be done with a lot, the usual one first.
func lotActs(l *shop.Lot) (link, []link) {
	at := func(what, say string) link { return link{"/record/" + what + "?lot=" + string(l.ID), say} }
	if l.Mass <= 0 {
		return link{"/stock", "form.see_what_is_in_stock"}, []link{at("weigh", "form.weigh_it_if_some_is")}
	}
	rest := []link{at("weigh", "form.weigh_it"), at("sort", "form.sort_it"), at("discard", "form.throw_some_away"), at("colour", "form.take_its_colour")}
	what := link{piecePath(l.ID), "form.what_is_it"}
	rest = append(rest, link{"/identify/mixed?lot=" + string(l.ID), "form.how_mixed_is_it"})
	if bar := l.Bar(); bar != nil && bar.Code != shop.BarUnknown {
		return at("discard", "form.record_that_it_was_handed"), append([]link{what}, rest[:2]...)
	}
	switch l.Class {
	case shop.Scrap:
		switch {
		case unsure(l):
			return what, append([]link{at("charge", "form.record_a_charge")}, rest...)
		}
		return at("charge", "form.record_a_charge"), append([]link{what}, rest...)
	case shop.Print:
		return at("sort", "form.sort_it"), append([]link{what}, append(rest[:1:1], rest[2:4]...)...)
	}
	care := []link{{"/fit?lot=" + string(l.ID), "form.is_it_fit_to_print"}, {"/dry/" + string(l.ID), "form.how_to_dry_it"},
		at("sieve", "form.sieve_a_sample"), {grainsPath(l.ID), "form.photograph_its_grains"}, at("magnet", "form.past_the_magnet"), at("dedust", "form.take_the_dust_off"), at("dry", "form.record_a_drying"),
		at("jar", "form.weigh_a_jar_of_it"), at("flow", "form.test_the_flow"), at("event", "form.something_went_wrong")}
	if l.Class != shop.Virgin && l.Polymer != "" {
		care = append(care, link{topicPath("loop") + "?material=" + queryEscape(l.Polymer), "form.how_much_regrind_may_go"})
	}
	return at("print", "form.record_a_print"), append(append(append(care, what), rest...), at("charge", "form.grind_it_again"), link{"/blend?only=" + string(l.ID), "form.blend_it"})
}

func (d *desk) kin(edges []shop.Edge) []kin {
	var list []kin
	sum := map[shop.LotID]float64{}
	for _, e := range edges {
		sum[e.Lot] += e.Mass
	}
	seen := map[shop.LotID]bool{}
	for _, e := range edges {
		if l, ok := d.state.Lot(e.Lot); ok && !seen[e.Lot] {
			seen[e.Lot] = true
			list = append(list, kin{d.card(l), d.say.Weighed(sum[e.Lot]), true})
		}
	}
	return list
}

// facts are what is known about a lot, in words.
func (d *desk) facts(l *shop.Lot) []option {
	var f []option
	add := func(name, value string) {
		if value != "" {
			f = append(f, option{name, value}) // the question, the answer
		}
	}
	amount := func(name string, k quantity.Kind, v *float64) {
		if v != nil {
			add(name, d.say.Number(k.Show(*v)))
		}
	}
	add(d.say.Line("form.name"), l.Name)
	add(d.say.Line("form.plastic"), orSay(l.Polymer, d.say.Line("form.not_known")))
	amount(d.say.Line("form.how_sure"), quantity.Share, l.Sure)
	add(d.say.Line("form.colour"), orSay(l.Colour, d.say.Line("form.not_said")))
	amount(d.say.Line("form.largest_piece"), quantity.Length, l.Pieces.Largest)
	amount(d.say.Line("form.walls"), quantity.Length, l.Pieces.Wall)
	amount(d.say.Line("form.infill"), quantity.Share, l.Pieces.Infill)
	if l.Class == shop.Scrap && l.Pieces.Bricks() {
		add(d.say.Line("page.before_grinding"), d.say.Say(l.Pieces.BreakUp()))
	}
	add(d.say.Line("form.metal_in_it_label"), l.Metal)
	if l.Halogen != shop.Unknown {
		add(d.say.Line("form.chlorine_or_flame_retardant"), d.say.Line("yes_no."+string(l.Halogen)))
	}
	add(d.say.Line("form.came"), d.clock(d.born(l)))
	add(d.say.Line("form.ever_came_in"), d.say.Weighed(l.In))
	return f
}

func orSay(s, other string) string {
	if s == "" {
		return other
	}
	return s
}
