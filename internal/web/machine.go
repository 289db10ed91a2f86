package web

import (
	"hopperful/fact"
	"hopperful/internal/say"
	"net/http"

	"hopperful/shop"
)

// thing is a machine, a person or the shop itself, with what is known.
type thing struct {
	Name    string
	Edit    string
	Can     []link // what may be written down about it
	Facts   []option
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
	d := s.desk(r)
	v := machinesView{Version: s.version}
	for _, m := range d.state.Mills {
		t := d.thing("mill", m.Name, &shop.MillSet{Mill: m.Mill}, m.Retired)
		t.Missing = missing(d.say, m.Mill)
		t.Can = []link{{learnPath(m.Name), "form.what_its_records_taught"}, {upkeepPath(m.Name), d.say.Line("page.upkeep_title", fact.Name("mill", m.Name))}, {"/dose", d.say.Line("page.dose_title")}, {"/record/service?mill=" + queryEscape(m.Name), "form.look_after_it"}, {"/record/event?mill=" + queryEscape(m.Name), "form.something_went_wrong"}}
		if m.Ground > 0 {
			t.Facts = append(t.Facts, option{d.say.Line("form.ground_so_far"), d.say.Line("form.ground_in_charges", fact.Weighed("mass", m.Ground), fact.Count("n", len(m.Runs)))})
		}
		if m.Held > 0 {
			t.Facts = append(t.Facts, option{d.say.Line("form.holds_now"), d.say.Weighed(m.Held)})
		}
		v.Mills = append(v.Mills, t)
	}
	for _, x := range d.state.Scales {
		v.Scales = append(v.Scales, d.thing("scale", x.Name, &shop.ScaleSet{Scale: x}, x.Retired))
	}
	for _, x := range d.state.Printers {
		t := d.thing("printer", x.Name, &shop.PrinterSet{Printer: x}, x.Retired)
		t.Can = []link{{"/record/flow?printer=" + queryEscape(x.Name), "form.test_the_flow"}, {"/record/event?printer=" + queryEscape(x.Name), "form.something_went_wrong"}}
		v.Printers = append(v.Printers, t)
	}
	for _, x := range d.state.Dryers {
		v.Dryers = append(v.Dryers, d.thing("dryer", x.Name, &shop.DryerSet{Dryer: x}, x.Retired))
	}
	for _, x := range d.state.People {
		v.People = append(v.People, thing{Name: x.Name, Edit: editPath("person", x.Name), Retired: x.Retired})
	}
	set := d.state.Shop
	v.Shop = d.thing("shop", orSay(set.Name, d.say.Line("form.this_shop")), &set, false)
	v.Shop.Edit = "/record/shop"
	s.render(w, r, http.StatusOK, "machines", view{Title: "form.machines", Place: "machines", Body: v})
}

func editPath(what, name string) string {
	return "/record/" + what + "?of=" + queryEscape(name)
}

// thing shows a described thing by the questions of its own sheet.
func (d *desk) thing(what, name string, body shop.Body, retired bool) thing {
	t := thing{Name: name, Edit: editPath(what, name), Retired: retired}
	for _, line := range spelled(sheets[what](d), shop.Record{At: d.now, Body: body}, d) {
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
		{m.WallMass != nil, "form.mass_of_pot_plate_and"}, {m.Jar != nil, "form.container_under_the_outlet"}, {m.Noise != nil, "form.noise_at_your_ear"},
		{m.Earth != shop.Unknown, "form.whether_it_is_earthed"}, {m.LidSwitch != shop.Unknown, "form.whether_it_has_a_lid"},
	} {
		if !q.known {
			list = append(list, p.Line(q.say))
		}
	}
	return list
}
