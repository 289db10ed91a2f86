package web

import (
	"errors"
	"net/http"

	"hopperful/fact"
	"hopperful/plan/fit"
	"hopperful/polymer"
	"hopperful/shop"
)

// materialSheet gives one property of a material this shop's own value. The
// address names the two.
func materialSheet(d *desk) sheet {
	p := polymer.Property(d.query("property"))
	desc, _ := p.Description()
	unit := desc.Kind.Default()
	return sheet{
		Kind: "material_set", Title: d.query("polymer") + ": " + d.say.Word(p.Name()), Submit: "form.use_this_value", Place: "materials",
		Intro: "form.your_own_value_stands_before",
		Groups: []group{{Fields: []field{
			{Path: "polymer", As: asHidden, First: d.query("polymer"), Must: true},
			{Path: "property", As: asHidden, First: d.query("property"), Must: true},
			amount("value", "form.value", desc.Kind, unit, d.say.Word(desc.Use())).must(),
			amount("low", "form.low_end", desc.Kind, unit, "form.one_in_ten_measurements_lies").must(),
			amount("high", "form.high_end", desc.Kind, unit, "form.one_in_ten_lies_above").must(),
			text("why", "form.where_it_comes_from", "form.a_data_sheet_your_own"),
		}}},
		Check: checkOwnValue,
		After: func(_ *shop.State, r shop.Record) string {
			return "/materials/" + pathSegment(r.Body.(*shop.MaterialSet).Polymer)
		},
	}
}

// checkOwnValue asks the table of materials whether it would take the value, so
// that a slip of the unit is refused here and not in a plan.
func checkOwnValue(in *input) {
	p := polymer.Property(in.typed("property"))
	desc, known := p.Description()
	if !known {
		in.refuse("", "form.there_is_no_such_property", "form.choose_one_on_the_page")
		return
	}
	var n [3]float64
	for i, path := range []string{"value", "low", "high"} {
		v, err := desc.Kind.ParseOr(in.typed(path), desc.Kind.Default())
		if err != nil {
			return // said at the field already
		}
		n[i] = v
	}
	if _, err := polymer.Own(in.typed("polymer"), p, n[0], n[1], n[2], polymer.Entered, in.typed("why")); err != nil {
		say, hint := saidIn(in.say, err)
		in.refuse("value", say, hint)
	}
}

// materialRow is one material in the list.
type materialRow struct {
	Name, Words string
	Density     string
	Softens     string
	Refused     string
	Own         bool
	OnHand      string
}

func (s *server) showMaterials(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	table := d.materials()
	var rows []materialRow
	for _, name := range table.Names() {
		p, err := table.Find(name)
		if err != nil {
			continue // a name of the table is always found in it
		}
		row := materialRow{Name: p.Name, Words: d.say.Word(p.Words), Own: d.ownValues(p.Name)}
		show := func(prop polymer.Property) string {
			if v, err := p.Value(prop); err == nil {
				return d.say.Number(v.Kind.Show(v.Value))
			}
			return "form.not_known"
		}
		row.Density, row.Softens = show(polymer.Density), show(polymer.Softening)
		if bar := shop.BarOf(p.Name); bar != nil {
			why, _ := bar.Says()
			row.Refused = d.say.Say(why)
		}
		row.OnHand = d.onHand(p.Name)
		rows = append(rows, row)
	}
	s.render(w, r, http.StatusOK, "materials", view{Title: "form.materials", Place: "materials", Body: rows})
}

func (d *desk) ownValues(name string) bool {
	for _, m := range d.state.Materials {
		if m.Polymer == name {
			return true
		}
	}
	return false
}

// onHand is how much of a material the shop has, "" when none.
func (d *desk) onHand(name string) string {
	sum := 0.0
	for _, l := range d.state.Stock("") { // always alike, so that the last digit is too
		if l.Polymer == name {
			sum += l.Mass
		}
	}
	if sum <= 0 {
		return ""
	}
	return d.say.Weighed(sum)
}

// materialView is a material's page.
type materialView struct {
	Name, Words string
	Bar         *setAside
	Drying      string // how this shop dries it
	Cautions    []string
	Values      []valueRow
	Unsaid      []namedProperty // properties the table is silent about
}

// namedProperty is a property with its name in words.
type namedProperty struct{ Property, Name string }

// valueRow is one property: the value that holds, and the lines that disagree.
type valueRow struct {
	Polymer  string
	Property namedProperty
	Figure   figView
	At, Note string
	Mark     string
	Others   []valueRow
}

func (s *server) showMaterial(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	p, err := d.materials().Find(r.PathValue("name"))
	var unknown *polymer.UnknownError
	if errors.As(err, &unknown) {
		s.fail(w, r, fault{http.StatusNotFound, d.say.Say(shop.WhyNot(unknown)), "form.the_list_of_materials_shows"})
		return
	}
	v := materialView{Name: p.Name, Words: d.say.Word(p.Words)}
	for _, c := range p.Cautions() {
		v.Cautions = append(v.Cautions, d.say.Say(c.Says()))
	}
	v.Bar, v.Drying = d.setAside(shop.BarOf(p.Name)), ended(d.say.Say(fit.DryingOf(d.state, p.Name, d.now)))
	said := map[polymer.Property]bool{}
	for _, desc := range polymer.Properties() {
		lines := p.All(desc.Property)
		if len(lines) == 0 {
			continue
		}
		said[desc.Property] = true
		row := d.viewValue(lines[0])
		for _, other := range lines[1:] {
			row.Others = append(row.Others, d.viewValue(other))
		}
		v.Values = append(v.Values, row)
	}
	for _, desc := range polymer.Properties() {
		if !said[desc.Property] {
			v.Unsaid = append(v.Unsaid, d.named(desc.Property))
		}
	}
	s.render(w, r, http.StatusOK, "material", view{Title: p.Name, Place: "materials",
		Crumb: &link{"/materials", "form.materials"}, Body: v})
}

// setAside is what keeps something from mill, dryer and printer.
type setAside struct{ Why, Instead string }

func (d *desk) setAside(bar *shop.Bar) *setAside {
	if bar == nil {
		return nil
	}
	why, instead := bar.Says()
	return &setAside{d.say.Say(why), d.say.Say(instead)}
}

// named is a property with its name in words.
func (d *desk) named(p polymer.Property) namedProperty {
	return namedProperty{string(p), d.say.Word(p.Name())}
}

func (d *desk) viewValue(v polymer.Value) valueRow {
	f := viewFigureIn(d.say, v.Figure())
	// What a table says is no forecast: it keeps its third digit.
	f.Value, f.Unit = splitUnit(d.say.Number(v.Kind.Show(v.Value)))
	return valueRow{Polymer: v.Polymer, Property: d.named(v.Property), Figure: f, At: d.say.Conditions(v.At), Note: d.say.Conditions(string(v.Note)), Mark: d.say.Fact(fact.Term("", "mark", string(v.Mark)))}
}
