package web

import (
	"cmp"
	"net/http"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/lots"
	"hopperful/internal/web/sheets"
	"hopperful/internal/web/site"
	"hopperful/shop"
)

// thing is a machine, a person or the shop itself, with what is known.
type thing struct {
	Name    string
	Edit    string
	Can     []address.Link // what may be written down about it
	Facts   []forms.Option
	Missing []string // what nobody knows yet and would narrow plans
	Retired bool
}

// machinesView is the page of all that the shop owns.
type machinesView struct {
	Mills, Scales, Printers, Dryers, People []thing
	Shop                                    thing
	Version                                 string
}

func (s *server) showMachines(w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	v := machinesView{Version: s.version}
	for _, m := range d.State.Mills {
		t := thingOf(d, "mill", m.Name, &shop.MillSet{Mill: m.Mill}, m.Retired)
		t.Missing = missing(d.Say, m.Mill)
		t.Can = []address.Link{{To: address.Learned(m.Name), Say: "form.what_its_records_taught"}, {To: address.Upkeep(m.Name), Say: d.Say.Line("page.upkeep_title", fact.Name("mill", m.Name))}, {To: "/dose", Say: d.Say.Line("page.dose_title")}, {To: "/record/service?mill=" + address.Query(m.Name), Say: "form.look_after_it"}, {To: "/record/event?mill=" + address.Query(m.Name), Say: "form.something_went_wrong"}}
		if m.Ground > 0 {
			t.Facts = append(t.Facts, forms.Option{Value: d.Say.Line("form.ground_so_far"), Say: d.Say.Line("form.ground_in_charges", fact.Weighed("mass", m.Ground), fact.Count("n", len(m.Runs)))})
		}
		if m.Held > 0 {
			t.Facts = append(t.Facts, forms.Option{Value: d.Say.Line("form.holds_now"), Say: d.Say.Weighed(m.Held)})
		}
		v.Mills = append(v.Mills, t)
	}
	for _, x := range d.State.Scales {
		v.Scales = append(v.Scales, thingOf(d, "scale", x.Name, &shop.ScaleSet{Scale: x}, x.Retired))
	}
	for _, x := range d.State.Printers {
		t := thingOf(d, "printer", x.Name, &shop.PrinterSet{Printer: x}, x.Retired)
		t.Can = []address.Link{{To: "/record/flow?printer=" + address.Query(x.Name), Say: "form.test_the_flow"}, {To: "/record/event?printer=" + address.Query(x.Name), Say: "form.something_went_wrong"}}
		v.Printers = append(v.Printers, t)
	}
	for _, x := range d.State.Dryers {
		v.Dryers = append(v.Dryers, thingOf(d, "dryer", x.Name, &shop.DryerSet{Dryer: x}, x.Retired))
	}
	for _, x := range d.State.People {
		v.People = append(v.People, thing{Name: x.Name, Edit: address.Edit("person", x.Name), Retired: x.Retired})
	}
	set := d.State.Shop
	v.Shop = thingOf(d, "shop", cmp.Or(set.Name, d.Say.Line("form.this_shop")), &set, false)
	v.Shop.Edit = "/record/shop"
	s.Render(w, r, http.StatusOK, "machines", site.View{Title: "form.machines", Place: "machines", Body: v})
}

// thingOf shows a described thing by the questions of its own sheet.
func thingOf(d *desk.Desk, what, name string, body shop.Body, retired bool) thing {
	t := thing{Name: name, Edit: address.Edit(what, name), Retired: retired}
	for _, line := range lots.Spelled(sheets.All[what](d), shop.Record{At: d.Now, Body: body}, d) {
		if line.Say != name && line.Value != "form.no_longer_used" {
			t.Facts = append(t.Facts, line)
		}
	}
	return t
}

// missing lists what is not known of a mill and matters most to a plan.
func missing(p *say.Printer, m shop.Mill) []string {
	var list []string
	for _, q := range []struct {
		known bool
		say   string
	}{
		{m.RatedPower != nil, "form.rated_power"}, {m.Chamber != nil, "form.chamber_volume"}, {m.Screen.Hole != nil, "form.hole_of_the_screen"},
		{m.WallMass != nil, "form.pot_mass"}, {m.Jar != nil, "form.container_under_the_outlet"}, {m.Noise != nil, "form.noise_at_your_ear"},
		{m.Earth != shop.Unknown, "form.whether_it_is_earthed"}, {m.LidSwitch != shop.Unknown, "form.lid_switch"},
	} {
		if !q.known {
			list = append(list, p.Line(q.say))
		}
	}
	return list
}
