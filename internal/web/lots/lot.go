package lots

import (
	"cmp"
	"html/template"
	"net/http"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/drawing"
	"hopperful/internal/web/family"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/mills"
	"hopperful/internal/web/site"
	"hopperful/plan/plausibility"
	"hopperful/plan/upkeep"
	"hopperful/quantity"
	"hopperful/shop"
)

// LotCard is a lot on the shelf.
type LotCard struct {
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

// Card is a lot on the shelf.
func Card(d *desk.Desk, l *shop.Lot) LotCard {
	born := born(d, l)
	return LotCard{ID: l.ID, Name: l.Name, What: desk.LotWhat(d.Say, l), Mass: d.Say.Weighed(l.Mass), Age: d.Aged(born),
		Heap: drawing.Heap(l, d.Coarseness(l), d.Paint(l), false), Rings: drawing.Rings(l.ID, born, d.Now), Care: care(d.Say, l), Colour: l.Colour}
}

// born is when a lot came.
func born(d *desk.Desk, l *shop.Lot) time.Time {
	if r, ok := d.State.Record(l.Born); ok {
		return r.At
	}
	return time.Time{}
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
	LotCard
	Share string // of mass
	Whole bool   // the lot is still known
}

// lotView is a lot's page.
type lotView struct {
	LotCard
	Class   shop.Class
	Answer  string
	Facts   []forms.Option
	Family  family.View
	Plastic ageView // how old it is
	Tint    lotColourView
	Made    []kin // of which lots taken in it consists
	Losses  []forms.Option
	Log     []desk.RecordRow
	Gone    bool           // nothing is left
	Earlier *address.Link  // to those the log leaves out
	Can     []address.Link // the usual first
	Further []address.Link // seldom wanted, folded
	MainAct address.Link
	Compare *mills.ComparedView // of the charge just recorded
	Bar     *setAside           // what keeps it from mill, dryer and printer
	Asked   []site.QuestionView // about what was written down of it
	Sieved  *address.Link       // its newest sieve analysis
	Marked  *address.Link       // a damaged part may have spoilt it
	Album   []pictureLine
	Picture string // of its grains, the newest kept; "" without one
}

// openActs is how many of the further things to do with a lot stand open.
const openActs = 5

// lotRecords is how many of its records a lot's page shows unless all are asked for.
const lotRecords = 3

// ShowLot is the page of a lot.
func ShowLot(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	l, ok := s.LotAsked(w, r, d)
	if !ok {
		return
	}
	id := l.ID
	v := lotView{LotCard: Card(d, l), Bar: setAsideOf(d, l.Bar()), Class: l.Class, Gone: l.Mass <= 0, Answer: lotAnswer(d.Say, l), Facts: facts(d, l)}
	if earlier := len(l.Records) - lotRecords; earlier > 0 && d.Query("records") != "all" {
		v.Earlier = &address.Link{To: address.Lot(id) + "?records=all", Say: d.Say.Line("form.show_the_earlier_records", fact.Count("n", earlier))}
		v.Log = logOf(d, l.Records[earlier:])
	} else {
		v.Log = logOf(d, l.Records)
	}
	if made := d.State.Constituents(id); len(made) > 1 {
		v.Made = kinOf(d, made)
	}
	var err error
	var strange []answer.Finding
	if v.Family, err = family.Of(d, id, true); err != nil {
		s.FailWith(w, r, err)
		return
	}
	v.Plastic = viewAge(d, l)
	v.Heap = drawing.Heap(l, d.Coarseness(l), d.Paint(l), true)
	v.Losses = d.Losses(id)
	if v.Tint, strange, err = viewColourOf(d, l); err != nil {
		s.FailWith(w, r, err)
		return
	}
	for _, id := range l.Records {
		var list []plausibility.Question
		if id == l.TakenBy {
			list = plausibility.Coloured(d.State, id, strange) // reckoned just now
		} else if rec, _ := d.State.Record(id); rec.Body != nil && rec.Body.Kind() != "coloured" {
			list = plausibility.Of(d.State, id)
		}
		v.Asked = append(v.Asked, site.Questions(d, id, list, r.URL.RequestURI())...)
	}
	v.MainAct, v.Can = lotActs(l)
	v.Album = album(d, id, 0)
	v.Can = append(v.Can, address.Link{To: address.Photo(id, 0), Say: d.Say.Line("page.photo_take")}, address.Link{To: "/labels?lots=" + string(id), Say: d.Say.Line("page.labels_one")})
	v.Marked = markedLot(d, id)
	v.Can = append(v.Can, address.Link{To: address.Lot(id) + "/books", Say: d.Say.Line("page.books_grams")})
	if all := d.State.Sievings(id); len(all) > 0 {
		v.Sieved = &address.Link{To: address.Sieving(id, all[0].ID), Say: d.Say.Line("form.its_sieving_of", fact.Name("now", d.Clock(all[0].At)))}
		for _, e := range all {
			if rec, ok := d.State.Record(e.ID); ok && v.Picture == "" {
				v.Picture = KeptPicture(rec)
			}
		}
	}
	if run, ok := mills.JustGround(d); ok {
		v.Compare = mills.Compare(s, w, r, d.State, run, address.Lot(id)+"?done="+address.Number(run))
		v.Can = append([]address.Link{v.MainAct}, v.Can...)
		v.MainAct = address.Link{To: "/record/charge", Say: "form.record_the_next_charge"}
	}
	if len(v.Can) > openActs+1 {
		v.Can, v.Further = v.Can[:openActs], v.Can[openActs:]
	}
	s.Render(w, r, http.StatusOK, "lot", site.View{Title: string(id) + ", " + desk.LotWhat(d.Say, l), Place: "stock", Crumb: &address.Link{To: "/stock", Say: "form.stock"}, Body: v})
}

func lotAnswer(p *say.Printer, l *shop.Lot) string {
	if l.Mass <= 0 {
		return p.Line("form.is_used_up", fact.Name("id", string(l.ID)), fact.Name("l", desk.LotWhat(p, l)))
	}
	return p.Line("form.mass_of_lot", fact.Weighed("mass", l.Mass), fact.Name("l", desk.LotWhat(p, l)))
}

// unsure reports a lot whose plastic is worth finding out before it is used.
// What is less sure is not counted on.
func unsure(l *shop.Lot) bool {
	return l.Polymer == "" || l.Sure != nil && *l.Sure < answer.SureShare
}

// lotActs are what can be done with a lot, the usual one first.
func lotActs(l *shop.Lot) (address.Link, []address.Link) {
	at := func(what, say string) address.Link {
		return address.Link{To: "/record/" + what + "?lot=" + string(l.ID), Say: say}
	}
	if l.Mass <= 0 {
		return address.Link{To: "/stock", Say: "form.see_what_is_in_stock"}, []address.Link{at("weigh", "form.rest_weighed_help")}
	}
	rest := []address.Link{at("weigh", "form.weigh_it"), at("sort", "form.sort_it"), at("discard", "form.throw_some_away"), at("colour", "form.take_its_colour")}
	what := address.Link{To: address.Piece(l.ID), Say: "form.what_is_it"}
	rest = append(rest, address.Link{To: "/identify/mixed?lot=" + string(l.ID), Say: "form.how_mixed_is_it"})
	if bar := l.Bar(); bar != nil && bar.Code != shop.BarUnknown {
		return at("discard", "form.handed_over_submit"), append([]address.Link{what}, rest[:2]...)
	}
	switch l.Class {
	case shop.Scrap:
		switch {
		case unsure(l):
			return what, append([]address.Link{at("charge", "form.record_a_charge")}, rest...)
		}
		return at("charge", "form.record_a_charge"), append([]address.Link{what}, rest...)
	case shop.Print:
		return at("sort", "form.sort_it"), append([]address.Link{what}, append(rest[:1:1], rest[2:4]...)...)
	}
	care := []address.Link{{To: "/fit?lot=" + string(l.ID), Say: "form.is_it_fit_to_print"}, {To: "/dry/" + string(l.ID), Say: "form.how_to_dry_it"},
		at("sieve", "form.sieve_a_sample"), {To: address.Grains(l.ID), Say: "form.photograph_its_grains"}, at("magnet", "form.past_the_magnet"), at("dedust", "form.take_the_dust_off"), at("dry", "form.record_a_drying"),
		at("jar", "form.weigh_a_jar_of_it"), at("flow", "form.test_the_flow"), at("event", "form.something_went_wrong")}
	if l.Class != shop.Virgin && l.Polymer != "" {
		care = append(care, address.Link{To: address.Topic("loop") + "?material=" + address.Query(l.Polymer), Say: "form.regrind_share_question"})
	}
	return at("print", "form.record_a_print"), append(append(append(care, what), rest...), at("charge", "form.grind_it_again"), address.Link{To: "/blend?only=" + string(l.ID), Say: "form.blend_it"})
}

func kinOf(d *desk.Desk, edges []shop.Edge) []kin {
	var list []kin
	for _, e := range edges {
		if l, ok := d.State.Lot(e.Lot); ok {
			list = append(list, kin{Card(d, l), d.Say.Weighed(e.Mass), true})
		}
	}
	return list
}

// facts are what is known about a lot, in words.
func facts(d *desk.Desk, l *shop.Lot) []forms.Option {
	var f []forms.Option
	add := func(name, value string) {
		if value != "" {
			f = append(f, forms.Option{Value: name, Say: value}) // the question, the answer
		}
	}
	amount := func(name string, k quantity.Kind, v *float64) {
		if v != nil {
			add(name, d.Say.Number(k.Show(*v)))
		}
	}
	add(d.Say.Line("form.name"), l.Name)
	add(d.Say.Line("form.plastic"), cmp.Or(l.Polymer, d.Say.Line("form.not_known")))
	amount(d.Say.Line("form.how_sure"), quantity.Share, l.Sure)
	add(d.Say.Line("form.colour"), cmp.Or(l.Colour, d.Say.Line("form.not_said")))
	amount(d.Say.Line("form.largest_piece"), quantity.Length, l.Pieces.Largest)
	amount(d.Say.Line("form.walls"), quantity.Length, l.Pieces.Wall)
	amount(d.Say.Line("form.infill"), quantity.Share, l.Pieces.Infill)
	if l.Class == shop.Scrap && l.Pieces.Bricks() {
		add(d.Say.Line("page.before_grinding"), d.Say.Say(l.Pieces.BreakUp()))
	}
	add(d.Say.Line("form.metal_in_it_label"), l.Metal)
	if l.Halogen != shop.Unknown {
		add(d.Say.Line("form.chlorine_or_flame_retardant"), d.Say.Line("yes_no."+string(l.Halogen)))
	}
	add(d.Say.Line("form.came"), d.Clock(born(d, l)))
	add(d.Say.Line("form.ever_came_in"), d.Say.Weighed(l.In))
	return f
}

// markedLot says why a lot has to be checked, and what to do; nil where nothing does.
func markedLot(d *desk.Desk, id shop.LotID) *address.Link {
	all := upkeep.SuspectOf(d.State, id)
	if len(all) == 0 {
		return nil
	}
	return &address.Link{To: address.Upkeep(all[0].Mill), Say: d.Say.Line("page.upkeep_lot")}
}
