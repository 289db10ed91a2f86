package consumption

import (
	"strings"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
)

// Asked is what is wanted of the answer about needs.
type Asked struct {
	Saved   bool             // these are the needs the shop has saved
	Layers  bool             // the table of layers shall be shown
	Refused []answer.Finding // what could not be read, beside them
}

// Tell says what prints eat, each by itself and all together. There is no sum
// where one mass is not known or something could not be read.
func Tell(table *polymer.Table, all []Found, ask Asked) (answer.Document, error) {
	d := answer.Document{Spoilers: ask.Refused}
	list := answer.Table{Key: "needs", Leads: true, Columns: []answer.Column{{Key: "need"}, {Key: "plastic"}, {Key: "mass", Numbers: true}, {Key: "print_time", Numbers: true}, {Key: "state"}}}
	reasons := answer.Section{Key: "read"}
	var masses []figure.Figure
	for _, f := range all {
		if bar := f.Need.Bar(); bar != nil {
			return d, bar.Refusal("polymer")
		}
		figures, err := Of(table, f.Need)
		if err != nil {
			return d, err
		}
		mass, time := fact.Word("", "need.not_known"), fact.Word("", "need.not_known")
		for _, x := range figures {
			switch x.Key {
			case "mass":
				masses, mass = append(masses, x), fact.Figure("", x)
			case "print_time":
				time = fact.Figure("", x)
			}
		}
		state := fact.Word("", "need.open")
		if f.Need.Done {
			state = fact.Word("", "need.done")
		}
		plastic := strings.TrimSpace(f.Need.Polymer + " " + f.Need.Colour)
		list.Rows = append(list.Rows, []fact.Fact{fact.Name("", f.Need.Name), fact.Name("", plastic), mass, time, state})
		d.Spoilers = append(d.Spoilers, f.doubts(len(all) > 1)...)
		f.behind(&reasons, &d, ask.Layers)
		if f.Kept {
			d.Steps = append(d.Steps, answer.Action{Do: fact.Say("do.plan", fact.Name("need", f.Need.Name))})
		}
		if len(all) == 1 && !ask.Saved {
			d.Figures, d.Head = figures, headOf(f.Need, figures)
		}
	}
	sum := len(masses) == len(all) && len(ask.Refused) == 0
	switch {
	case ask.Saved && len(all) == 0:
		d.Head = answer.Found(fact.Say("need.none_saved"), fact.Say("do.say_need"))
	case ask.Saved:
		d.Head = answer.Found(fact.Say("need.saved", fact.Count("n", len(all))))
		d.Tables = append(d.Tables, list)
	case len(all) > 1:
		d.Head = answer.Found(fact.Say("need.several", fact.Count("n", len(all))))
		if sum {
			total := Together(masses)
			d.Figures = []figure.Figure{total}
			d.Head = answer.Found(fact.Say("need.together", fact.Count("n", len(all)), fact.Figure("mass", total)))
		}
		d.Tables = append([]answer.Table{list}, d.Tables...)
	}
	if len(reasons.Notes)+len(reasons.Figures) > 0 {
		d.Reasons = append(d.Reasons, reasons)
	}
	return d, nil
}

// headOf is the answer about one need.
func headOf(n shop.Need, figures []figure.Figure) answer.Finding {
	name, plastic := fact.Name("name", n.Name), fact.Name("plastic", n.Polymer)
	for _, x := range figures {
		if x.Key == "mass" {
			return answer.Found(fact.Say("need.eats", name, fact.Figure("mass", x), plastic))
		}
	}
	for _, x := range figures {
		if x.Key == "volume" {
			return answer.Found(fact.Say("need.holds", name, fact.Figure("volume", x)), fact.Say("do.name_polymer"))
		}
	}
	return answer.Found(fact.Say("need.nothing_known", name), fact.Say("do.say_need"))
}

// doubts are what its file leaves open, with the file's name where there are
// several.
func (f Found) doubts(several bool) []answer.Finding {
	of := fact.Name("of", "")
	if several {
		of.Text = f.Need.Name
	}
	var all []answer.Finding
	if code, _ := takenOf(f.Need); code == takenSolid || code == takenCopies {
		all = append(all, answer.Found(fact.Say("need.as_solid", of), fact.Say("do.name_walls")))
	}
	if f.Solid != nil && !f.Solid.Closed {
		all = append(all, answer.Found(fact.Say("need.open_edges", fact.Count("n", f.Solid.OpenEdges), of), fact.Say("need.close_mesh")))
	}
	if f.oddSize {
		all = append(all, answer.Found(fact.Say("need.odd_size", of, fact.Name("box", edges(f.Solid.Size())), fact.Measured("volume", quantity.Volume, f.Solid.Volume))))
	}
	for _, w := range f.Warnings {
		all = append(all, answer.Found(fact.Say("need.warned", of, fact.Parts("text", w))))
	}
	return all
}

// behind puts what the file held into the reasons and the tables.
func (f Found) behind(reasons *answer.Section, d *answer.Document, layers bool) {
	if f.Need.From != "typed" && f.Need.Taken != "" {
		reasons.Notes = append(reasons.Notes, fact.Say("need.read_as", fact.Name("name", f.Need.Name), fact.Parts("how", takenAs(f.Need))))
	}
	if s := f.Solid; s != nil {
		size := s.Size()
		for _, x := range []struct {
			key, name string
			kind      quantity.Kind
			value     float64
		}{{"solid_volume", "need.solid_volume", quantity.Volume, s.Volume}, {"area", "need.area", quantity.Area, s.Area}, {"size_x", "need.size_x", quantity.Length, size[0]},
			{"size_y", "need.size_y", quantity.Length, size[1]}, {"size_z", "need.size_z", quantity.Length, size[2]},
			{"facets", "need.facets", quantity.Count, float64(s.Facets)}, {"open_edges", "need.edges", quantity.Count, float64(s.OpenEdges)}} {
			reasons.Figures = append(reasons.Figures, figure.Exact(x.key, x.name, x.kind, x.value, figure.Reckoned))
		}
	}
	if f.Path == nil {
		return
	}
	t := answer.Table{Key: "tools", Columns: []answer.Column{{Key: "tool"}, {Key: "plastic", Numbers: true}, {Key: "print_time", Numbers: true}}}
	for _, x := range f.Path.Tools {
		t.Rows = append(t.Rows, []fact.Fact{fact.Count("", x.Number), fact.Measured("", quantity.Volume, x.Volume), fact.Measured("", quantity.Duration, x.Time)})
	}
	if len(t.Rows) > 1 {
		d.Tables = append(d.Tables, t)
	}
	if !layers {
		return
	}
	t = answer.Table{Key: "layers", Leads: true, Columns: []answer.Column{{Key: "height", Numbers: true}, {Key: "plastic", Numbers: true}, {Key: "print_time", Numbers: true}, {Key: "peak_flow", Numbers: true}, {Key: "moves", Numbers: true}}}
	for _, l := range f.Path.Layers {
		t.Rows = append(t.Rows, []fact.Fact{fact.Measured("", quantity.Length, l.Z), fact.Measured("", quantity.Volume, l.Volume),
			fact.Measured("", quantity.Duration, l.Time), fact.Measured("", quantity.VolumeFlow, l.Peak), fact.Count("", int(l.Moves))})
	}
	d.Tables = append(d.Tables, t)
}
