package web

import (
	"errors"
	"net/http"
	"net/url"
	"strings"

	"hopperful/fact"
	"hopperful/figure"
	"hopperful/internal/web/drawing"
	"hopperful/plan/consumption"
	"hopperful/process/mesh"
	"hopperful/process/toolpath"
	"hopperful/quantity"
	"hopperful/shop"
)

// mostUpload bounds an uploaded file of a print.
const mostUpload = 256 << 20

// uploadInMemory is how much of an upload stays in memory; the rest waits in a
// temporary file that is removed when the answer is out.
const uploadInMemory = 4 << 20

// wantSheet asks what will be printed: from a file, or as a typed mass.
func wantSheet(d *desk) sheet {
	return sheet{
		Kind: "need_set", Title: "form.what_do_you_want_to", Submit: "form.make_the_plan", Place: "plan",
		Groups: []group{
			{Fields: []field{
				{Path: "file", Label: "form.a_file_of_the_print", As: asFile, Help: "form.g_code_plain_or_binary"},
				amount("mass", "form.or_the_mass_of_plastic", quantity.Mass, "g", ""),
				text("name", "form.what_it_is_called", "form.empty_takes_the_name_of"),
				d.polymerField("polymer", ""),
				d.colourField("colour"),
			}},
			{Title: "form.what_it_shall_look_like", Folded: true, Intro: "form.for_a_print_of_a", Fields: []field{
				{Path: "rgb", Label: "form.its_colour_on_the_screen", As: asColour, Help: "form.a_blend_for_it_is"},
			}},
			{Title: "form.how_to_read_the_file", Folded: true, Intro: "form.the_plan_says_what_was", Fields: []field{
				{Path: "e", Label: "form.what_e_counts_in_g", As: asSelect, Choices: []option{
					{"", "form.as_the_file_says_else"}, {"filament", "form.length_of_filament"}, {"volume", "form.volume_in_mm"}, {"revolution", "form.turns_of_the_screw"}}},
				amount("diameter", "form.filament_diameter", quantity.Length, "mm", "form.empty_takes_what_the_file"),
				amount("per_turn", "form.melt_a_turn_of_the", quantity.Volume, "mm³", d.perTurnHelp()),
				amount("acceleration", "form.acceleration_of_the_machine_in", quantity.Number, "", "form.for_g_code_without_m204"),
				amount("wall", "form.wall_thickness_for_stl_and", quantity.Length, "mm", "form.empty_takes_the_part_as"),
				amount("infill", "form.infill_for_stl_and_3mf", quantity.Share, "%", ""),
				amount("copies", "form.copies_of_an_stl_or", quantity.Number, "", "form.empty_takes_one"),
				{Path: "unit", Label: "form.unit_of_an_stl", As: asSelect, Choices: []option{
					{"", "form.millimetres_asked_again_where_that"}, {"mm", "form.millimetres"}, {"cm", "form.centimetres"}, {"m", "form.metres"}, {"inch", "form.inches"}}},
				text("plate", "form.plate_of_a_sliced_3mf", "form.its_name_or_its_number"),
			}},
		},
	}
}

// perTurnHelp says what an empty answer takes.
func (d *desk) perTurnHelp() string {
	if v := consumption.PerTurn(d.state); v > 0 {
		return d.say.Line("form.when_e_counts_turns_empty", fact.Set("v", quantity.Volume, v))
	}
	return d.say.Line("form.needed_when_e_counts_turns")
}

// needRow is a need in the list.
type needRow struct {
	Name, What string
	Eats       *figView // its mass, nil when the plastic is not known
	Done       bool
	Swatch     string
}

// needsView is the plan place: what is wanted, and the sheet for more.
type needsView struct {
	Open, Done []needRow
	Form       formView
	Stages     []stageView
}

func (s *server) showNeeds(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	s.drawNeeds(w, r, d, http.StatusOK, newInput(d.say, url.Values{}))
}

func (s *server) drawNeeds(w http.ResponseWriter, r *http.Request, d *desk, status int, in *input) {
	v := needsView{Form: form(wantSheet(d), in, r.URL.Path, nil)}
	if strings.HasPrefix(r.URL.Path, "/start/") {
		v.Stages = stagesAt("need")
		s.render(w, r, status, "want", view{Title: "form.your_print", Bare: true, Body: v})
		return
	}
	for i := len(d.state.Needs) - 1; i >= 0; i-- {
		if row := d.needRow(d.state.Needs[i]); row.Done {
			v.Done = append(v.Done, row)
		} else {
			v.Open = append(v.Open, row)
		}
	}
	s.render(w, r, status, "needs", view{Title: "form.plan", Place: "plan", Body: v})
}

func (d *desk) needRow(n shop.Need) needRow {
	row := needRow{Name: n.Name, Done: n.Done, Swatch: drawing.ColourOf(n.RGB, n.Colour).String(), What: strings.TrimSpace(n.Colour + " " + orSay(n.Polymer, d.say.Line("form.plastic_not_chosen_yet")))}
	if m, ok := d.massOf(n); ok {
		v := viewFigureIn(d.say, m)
		row.Eats = &v
	}
	return row
}

// massOf is the mass of the need's part.
func (d *desk) massOf(n shop.Need) (figure.Figure, bool) {
	figs, err := consumption.Of(d.materials(), n)
	if err != nil {
		return figure.Figure{}, false
	}
	for _, f := range figs {
		if f.Kind == quantity.Mass {
			return f, true
		}
	}
	return figure.Figure{}, false
}

// postNeed reads an uploaded file or a typed mass into a need and goes on to
// its plan.
func (s *server) postNeed(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, mostUpload+mostForm)
	err := r.ParseMultipartForm(uploadInMemory)
	if errors.Is(err, http.ErrNotMultipart) {
		err = nil // a form without a file; ParseForm has read it
	}
	if r.MultipartForm != nil {
		defer r.MultipartForm.RemoveAll()
	}
	d := s.desk(r)
	if err != nil {
		in := newInput(d.say, url.Values{})
		in.refuse("file", "form.the_file_is_larger_than", "form.use_hopperful_need_file_on")
		s.drawNeeds(w, r, d, http.StatusRequestEntityTooLarge, in)
		return
	}
	in := newInput(d.say, r.PostForm)
	in.Under = "need."
	rec := shop.Record{}
	if need, note := readNeed(r, d, in); need != nil {
		rec.Body, rec.Note = &shop.NeedSet{Need: *need}, note
		kept, err := s.store.Append(r.Context(), s.now(), rec)
		if err == nil {
			s.follow(w, r, planPath(need.Name), kept[0].ID)
			return
		}
		if !in.refused(err) {
			s.failWith(w, r, err)
			return
		}
	}
	s.drawNeeds(w, r, d, http.StatusUnprocessableEntity, in)
}

// readNeed makes a need of the form; nil when something in it is wrong. The
// note holds what the reader of the file warned of.
func readNeed(r *http.Request, d *desk, in *input) (*shop.Need, string) {
	answers := map[string]float64{}
	wantSheet(d).fields(func(f field) {
		if f.As != asAmount {
			return
		}
		v, err := f.parse(in.typed(f.Path))
		if err != nil {
			say, hint := saidIn(d.say, err)
			in.refuse(f.Path, say, hint)
		} else if n, ok := v.(float64); ok {
			answers[f.Path] = n
		}
	})
	need, note := shop.Need{From: "typed"}, ""
	if found, has := readUpload(r, d, in, answers); has {
		need, note = found.Need, clipped(strings.Join(found.Warnings, "\n"))
	} else if mass, ok := answers["mass"]; ok {
		need.Mass = &mass
	} else if in.typed("mass") == "" {
		in.refuse("file", "form.choose_a_file_or_type", "form.either_is_enough")
	}
	need.Polymer, need.Colour = known(d, in.typed("polymer")), in.typed("colour")
	if rgb := in.typed("rgb"); rgb != "none" && rgb != drawing.NoColour.String() {
		need.RGB = rgb
	}
	if name := in.typed("name"); name != "" {
		need.Name = name
	}
	if need.Name == "" {
		in.refuse("name", "form.give_it_a_name", "form.the_plan_is_found_again")
	}
	if len(in.Wrong) > 0 {
		in.refusedAt(shop.Sound(&shop.NeedSet{Need: need}), wantSheet(d))
		return nil, ""
	}
	return &need, note
}

// known is the table's own spelling of a plastic, or what was typed.
func known(d *desk, typed string) string {
	if p, err := d.materials().Find(typed); err == nil && typed != "" {
		return p.Name
	}
	return typed
}

// readUpload reads the file, if one was sent.
func readUpload(r *http.Request, d *desk, in *input, answers map[string]float64) (consumption.Found, bool) {
	if r.MultipartForm == nil || len(r.MultipartForm.File["file"]) == 0 || r.MultipartForm.File["file"][0].Filename == "" {
		return consumption.Found{}, false
	}
	head := r.MultipartForm.File["file"][0]
	file, err := head.Open()
	if err != nil {
		in.refuse("file", "form.the_file_could_not_be", "form.send_it_once_more")
		return consumption.Found{}, true
	}
	defer file.Close()
	how := consumption.Reading{Wall: answers["wall"], Infill: answers["infill"], Copies: int(answers["copies"]), Plate: in.typed("plate"),
		Mesh:     mesh.Options{Unit: consumption.Units[in.typed("unit")]},
		Toolpath: toolpath.Options{Diameter: answers["diameter"], PerRevolution: answers["per_turn"], Acceleration: answers["acceleration"], MaxBytes: 64 * mostUpload}}
	if how.Toolpath.PerRevolution == 0 {
		how.Toolpath.PerRevolution = consumption.PerTurn(d.state)
	}
	switch in.typed("e") {
	case "filament":
		how.Toolpath.E = toolpath.EFilament
	case "volume":
		how.Toolpath.E = toolpath.EVolume
	case "revolution":
		how.Toolpath.E = toolpath.ERevolution
	}
	found, err := consumption.ReadNeed(head.Filename, file, head.Size, how)
	if err != nil {
		say, hint := saidIn(d.say, err)
		at := "file"
		if own := (*shop.Error)(nil); errors.As(err, &own) && (own.Field == "unit" || own.Field == "plate" || own.Field == "copies") {
			at = own.Field
		}
		in.refuse(at, say, orSay(hint, d.say.Line("form.choose_it_again_the_rest")))
	}
	return found, true
}

// clipped keeps the reader's warnings within what a note holds.
func clipped(note string) string {
	const most = 1900
	if r := []rune(note); len(r) > most {
		return string(r[:most]) + " …"
	}
	return note
}
