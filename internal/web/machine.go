package web

import (
	"hopperful/fact"
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
		t.Missing = missing(m.Mill)
		t.Can = []link{{learnPath(m.Name), "What its records taught"}, {upkeepPath(m.Name), d.say.Line("page.upkeep_title", fact.Name("mill", m.Name))}, {"/dose", d.say.Line("page.dose_title")}, {"/record/service?mill=" + queryEscape(m.Name), "Look after it"}, {"/record/event?mill=" + queryEscape(m.Name), "Something went wrong"}}
		if m.Ground > 0 {
			t.Facts = append(t.Facts, option{"Ground so far", grams(m.Ground) + " in " + plural(len(m.Runs), "charge")})
		}
		if m.Held > 0 {
			t.Facts = append(t.Facts, option{"Holds now", grams(m.Held)})
		}
		v.Mills = append(v.Mills, t)
	}
	for _, x := range d.state.Scales {
		v.Scales = append(v.Scales, d.thing("scale", x.Name, &shop.ScaleSet{Scale: x}, x.Retired))
	}
	for _, x := range d.state.Printers {
		t := d.thing("printer", x.Name, &shop.PrinterSet{Printer: x}, x.Retired)
		t.Can = []link{{"/record/flow?printer=" + queryEscape(x.Name), "Test the flow"}, {"/record/event?printer=" + queryEscape(x.Name), "Something went wrong"}}
		v.Printers = append(v.Printers, t)
	}
	for _, x := range d.state.Dryers {
		v.Dryers = append(v.Dryers, d.thing("dryer", x.Name, &shop.DryerSet{Dryer: x}, x.Retired))
	}
	for _, x := range d.state.People {
		v.People = append(v.People, thing{Name: x.Name, Edit: editPath("person", x.Name), Retired: x.Retired})
	}
	set := d.state.Shop
	v.Shop = d.thing("shop", orSay(set.Name, "This shop"), &set, false)
	v.Shop.Edit = "/record/shop"
	s.render(w, r, http.StatusOK, "machines", view{Title: "Machines", Place: "machines", Body: v})
}

func editPath(what, name string) string {
	return "/record/" + what + "?of=" + queryEscape(name)
}

// thing shows a described thing by the questions of its own sheet.
func (d *desk) thing(what, name string, body shop.Body, retired bool) thing {
	t := thing{Name: name, Edit: editPath(what, name), Retired: retired}
	for _, line := range spelled(sheets[what](d), shop.Record{At: d.now, Body: body}, d) {
		if line.Say != name && line.Value != "No longer used" {
			t.Facts = append(t.Facts, line)
		}
	}
	return t
}

// missing lists what is not known of a mill and matters most to a plan.
func missing(m shop.Mill) []string {
	var list []string
	for _, q := range []struct {
		known bool
		say   string
	}{
		{m.RatedPower != nil, "rated power"}, {m.Chamber != nil, "chamber volume"}, {m.Screen.Hole != nil, "hole of the screen"},
		{m.WallMass != nil, "mass of pot, plate and lid"}, {m.Jar != nil, "container under the outlet"}, {m.Noise != nil, "noise at your ear"},
		{m.Earth != shop.Unknown, "whether it is earthed"}, {m.LidSwitch != shop.Unknown, "whether it has a lid switch"},
	} {
		if !q.known {
			list = append(list, q.say)
		}
	}
	return list
}
