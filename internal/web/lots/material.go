package lots

import (
	"errors"
	"net/http"
	"slices"

	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/site"
	"hopperful/plan/fit"
	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
)

// materialRow is one material in the list.
type materialRow struct {
	Name, Words string
	Density     string
	Softens     string
	Refused     string
	Own         bool
	OnHand      string
}

// ShowMaterials lists the materials.
func ShowMaterials(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	table := d.Materials()
	var rows []materialRow
	for _, name := range table.Names() {
		p, err := table.Find(name)
		if err != nil {
			continue // a name of the table is always found in it
		}
		row := materialRow{Name: p.Name, Words: d.Say.Word(p.Words), Own: ownValues(d, p.Name)}
		show := func(prop polymer.Property) string {
			if v, err := p.Value(prop); err == nil {
				return d.Say.Number(v.Kind.Show(v.Value))
			}
			return "form.not_known"
		}
		row.Density, row.Softens = show(polymer.Density), show(polymer.Softening)
		if bar := shop.BarOf(p.Name); bar != nil {
			why, _ := bar.Says()
			row.Refused = d.Say.Say(why)
		}
		row.OnHand = onHand(d, p.Name)
		rows = append(rows, row)
	}
	s.Render(w, r, http.StatusOK, "materials", site.View{Title: "form.materials", Place: "materials", Body: rows})
}

func ownValues(d *desk.Desk, name string) bool {
	for _, m := range d.State.Materials {
		if m.Polymer == name {
			return true
		}
	}
	return false
}

// onHand is how much of a material the shop has, "" when none.
func onHand(d *desk.Desk, name string) string {
	sum := shop.MassOf(slices.DeleteFunc(d.State.Stock(""), func(l *shop.Lot) bool { return l.Polymer != name }))
	if sum <= 0 {
		return ""
	}
	return d.Say.Number(quantity.Mass.Bare(sum))
}

// materialView is a material's page.
type materialView struct {
	Name, Words string
	Bar         *setAside
	Drying      string // how this shop dries it
	Cautions    []string
	Values      []valueRow // what a person acts on
	Further     []valueRow
	Unsaid      []namedProperty // properties the table is silent about
}

// namedProperty is a property with its name in words.
type namedProperty struct{ Property, Name string }

// valueRow is one property: the value that holds, and the lines that disagree.
type valueRow struct {
	Polymer  string
	Property namedProperty
	Figure   figures.View
	At, Note string
	Mark     string
	Others   []valueRow
}

// actedOn are the properties that mill, dryer and printer are set by; all others are
// folded.
var actedOn = []polymer.Property{polymer.Density, polymer.GlassTransition, polymer.Softening, polymer.DryingTemperature, polymer.DryingTime,
	polymer.MoistureLimit, polymer.MeltLow, polymer.PrintTemperature, polymer.MeltCeiling}

// ShowMaterial is the page of one material and its values.
func ShowMaterial(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	p, err := d.Materials().Find(r.PathValue("name"))
	var unknown *polymer.UnknownError
	if errors.As(err, &unknown) {
		s.Fail(w, r, site.Fault{Status: http.StatusNotFound, Say: d.Say.Say(shop.WhyNot(unknown)), Hint: "form.no_such_material_advice"})
		return
	}
	v := materialView{Name: p.Name, Words: d.Say.Word(p.Words)}
	for _, c := range p.Cautions() {
		v.Cautions = append(v.Cautions, d.Say.Say(c.Says()))
	}
	v.Bar, v.Drying = setAsideOf(d, shop.BarOf(p.Name)), figures.Ended(d.Say.Say(fit.DryingOf(d.State, p.Name, d.Now)))
	said := map[polymer.Property]bool{}
	for _, desc := range polymer.Properties() {
		lines := p.All(desc.Property)
		if len(lines) == 0 {
			continue
		}
		said[desc.Property] = true
		row := viewValue(d, lines[0])
		for _, other := range lines[1:] {
			row.Others = append(row.Others, viewValue(d, other))
		}
		if slices.Contains(actedOn, desc.Property) {
			v.Values = append(v.Values, row)
		} else {
			v.Further = append(v.Further, row)
		}
	}
	for _, desc := range polymer.Properties() {
		if !said[desc.Property] {
			v.Unsaid = append(v.Unsaid, namedValue(d, desc.Property))
		}
	}
	s.Render(w, r, http.StatusOK, "material", site.View{Title: p.Name, Place: "materials",
		Crumb: &address.Link{To: "/materials", Say: "form.materials"}, Body: v})
}

// setAside is what keeps something from mill, dryer and printer.
type setAside struct{ Why, Instead string }

func setAsideOf(d *desk.Desk, bar *shop.Bar) *setAside {
	if bar == nil {
		return nil
	}
	why, instead := bar.Says()
	return &setAside{d.Say.Say(why), d.Say.Say(instead)}
}

// namedValue is a property with its name in words.
func namedValue(d *desk.Desk, p polymer.Property) namedProperty {
	return namedProperty{string(p), d.Say.Word(p.Name())}
}

func viewValue(d *desk.Desk, v polymer.Value) valueRow {
	f := figures.Of(d.Say, v.Figure())
	// What a table says is no forecast: it keeps its third digit.
	f.Value, f.Unit = figures.SplitUnit(d.Say.Number(v.Kind.Show(v.Value)))
	return valueRow{Polymer: v.Polymer, Property: namedValue(d, v.Property), Figure: f, At: d.Say.Conditions(v.At), Note: d.Say.Conditions(string(v.Note)), Mark: d.Say.Fact(fact.Term("", "mark", string(v.Mark)))}
}
