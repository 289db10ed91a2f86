package prints

import (
	"cmp"
	"errors"
	"net/http"
	"net/url"
	"strings"

	"hopperful/fact"
	"hopperful/figure"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/drawing"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/sheets"
	"hopperful/internal/web/site"
	"hopperful/plan/consumption"
	"hopperful/process/mesh"
	"hopperful/process/toolpath"
	"hopperful/quantity"
	"hopperful/shop"
)

// mostUpload bounds an uploaded file of a print.
const mostUpload = 256 << 20

// UploadInMemory is how much of an upload stays in memory; the rest waits in a
// temporary file that is removed when the answer is out.
const UploadInMemory = 4 << 20

// wantSheet asks what will be printed: from a file, or as a typed mass.
func wantSheet(d *desk.Desk) forms.Sheet {
	return forms.Sheet{
		Kind: "need_set", Title: "form.what_to_print", Submit: "form.make_the_plan", Place: "plan",
		Groups: []forms.Group{
			{Fields: []forms.Field{
				{Path: "file", Label: "form.a_file_of_the_print", As: forms.AsFile, Help: "form.need_file_help"},
				forms.Amount("mass", "form.need_mass", quantity.Mass, "g", ""),
				forms.Text("name", "form.what_it_is_called", "form.need_name_help"),
				sheets.PolymerField(d, "polymer", ""),
				sheets.ColourField(d, "colour"),
			}},
			{Title: "form.what_it_shall_look_like", Folded: true, Intro: "form.wanted_look_intro", Fields: []forms.Field{
				{Path: "rgb", Label: "form.its_colour_on_the_screen", As: forms.AsColour, Help: "form.wanted_colour_help"},
			}},
			{Title: "form.how_to_read_the_file", Folded: true, Intro: "form.plan_parts_help", Fields: []forms.Field{
				{Path: "e", Label: "form.e_meaning", As: forms.AsSelect, Choices: []forms.Option{
					{Value: "", Say: "form.e_meaning_by_file"}, {Value: "filament", Say: "form.length_of_filament"}, {Value: "volume", Say: "form.volume_in_mm"}, {Value: "revolution", Say: "form.turns_of_the_screw"}}},
				forms.Amount("diameter", "form.filament_diameter", quantity.Length, "mm", "form.filament_help"),
				forms.Amount("per_turn", "form.melt_per_turn", quantity.Volume, "mm³", perTurnHelp(d)),
				forms.Amount("acceleration", "form.acceleration_gravity", quantity.Number, "", "form.for_g_code_without_m204"),
				forms.Amount("wall", "form.mesh_wall", quantity.Length, "mm", "form.wall_help"),
				forms.Amount("infill", "form.infill_for_stl_and_3mf", quantity.Share, "%", ""),
				forms.Amount("copies", "form.mesh_copies", quantity.Number, "", "form.empty_takes_one"),
				{Path: "unit", Label: "form.unit_of_an_stl", As: forms.AsSelect, Choices: []forms.Option{
					{Value: "", Say: "form.mesh_unit_by_file"}, {Value: "mm", Say: "form.millimetres"}, {Value: "cm", Say: "form.centimetres"}, {Value: "m", Say: "form.metres"}, {Value: "inch", Say: "form.inches"}}},
				forms.Text("plate", "form.plate_of_a_sliced_3mf", "form.object_help"),
			}},
		},
	}
}

// perTurnHelp says what an empty answer takes.
func perTurnHelp(d *desk.Desk) string {
	if v := consumption.PerTurn(d.State); v > 0 {
		return d.Say.Line("form.e_turn_default_help", fact.Set("v", quantity.Volume, v))
	}
	return d.Say.Line("form.e_turn_needed_help")
}

// NeedRow is a need in the list.
type NeedRow struct {
	Name, What string
	Eats       *figures.View // its mass, nil when the plastic is not known
	Done       bool
	Swatch     string
}

// needsView is the plan place: what is wanted, and the sheet for more.
type needsView struct {
	Open, Done []NeedRow
	Form       forms.View
	Stages     []site.StageView
}

// ShowNeeds lists the prints that are wanted, and asks for another.
func ShowNeeds(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	drawNeeds(s, w, r, d, http.StatusOK, forms.NewInput(d.Say, url.Values{}))
}

func drawNeeds(s *site.Site, w http.ResponseWriter, r *http.Request, d *desk.Desk, status int, in *forms.Input) {
	v := needsView{Form: forms.Laid(wantSheet(d), in, r.URL.Path, nil)}
	if strings.HasPrefix(r.URL.Path, "/start/") {
		v.Stages = stagesAt("need")
		s.Render(w, r, status, "want", site.View{Title: "form.your_print", Bare: true, Body: v})
		return
	}
	for i := len(d.State.Needs) - 1; i >= 0; i-- {
		if row := NeedRowOf(d, d.State.Needs[i]); row.Done {
			v.Done = append(v.Done, row)
		} else {
			v.Open = append(v.Open, row)
		}
	}
	s.Render(w, r, status, "needs", site.View{Title: "form.plan", Place: "plan", Body: v})
}

// NeedRowOf is a need on one line.
func NeedRowOf(d *desk.Desk, n shop.Need) NeedRow {
	row := NeedRow{Name: n.Name, Done: n.Done, Swatch: drawing.ColourOf(n.RGB, n.Colour).String(), What: strings.TrimSpace(n.Colour + " " + cmp.Or(n.Polymer, d.Say.Line("form.plastic_not_chosen_yet")))}
	if m, ok := massOf(d, n); ok {
		v := figures.Of(d.Say, m)
		row.Eats = &v
	}
	return row
}

// massOf is the mass of the need's part.
func massOf(d *desk.Desk, n shop.Need) (figure.Figure, bool) {
	figs, err := consumption.Of(d.Materials(), n)
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

// PostNeed reads an uploaded file or a typed mass into a need and goes on to
// its plan.
func PostNeed(s *site.Site, w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, mostUpload+forms.MostForm)
	err := r.ParseMultipartForm(UploadInMemory)
	if errors.Is(err, http.ErrNotMultipart) {
		err = nil // a form without a file; ParseForm has read it
	}
	if r.MultipartForm != nil {
		defer r.MultipartForm.RemoveAll()
	}
	d := s.Desk(r)
	if err != nil {
		in := forms.NewInput(d.Say, url.Values{})
		in.Refuse("file", "form.file_too_large", "form.file_too_large_advice")
		drawNeeds(s, w, r, d, http.StatusRequestEntityTooLarge, in)
		return
	}
	in := forms.NewInput(d.Say, r.PostForm)
	in.Under = "need."
	rec := shop.Record{}
	if need, note := readNeed(r, d, in); need != nil {
		rec.Body, rec.Note = &shop.NeedSet{Need: *need}, note
		kept, err := s.Store.Append(r.Context(), s.Now(), rec)
		if err == nil {
			s.Follow(w, r, address.Plan(need.Name), kept[0].ID)
			return
		}
		if !in.Refused(err) {
			s.FailWith(w, r, err)
			return
		}
	}
	drawNeeds(s, w, r, d, http.StatusUnprocessableEntity, in)
}

// readNeed makes a need of the form; nil when something in it is wrong. The
// note holds what the reader of the file warned of.
func readNeed(r *http.Request, d *desk.Desk, in *forms.Input) (*shop.Need, string) {
	answers := map[string]float64{}
	wantSheet(d).Fields(func(f forms.Field) {
		if f.As != forms.AsAmount {
			return
		}
		v, err := f.Parse(in.Typed(f.Path))
		if err != nil {
			say, hint := forms.Said(d.Say, err)
			in.Refuse(f.Path, say, hint)
		} else if n, ok := v.(float64); ok {
			answers[f.Path] = n
		}
	})
	need, note := shop.Need{From: "typed"}, ""
	if found, has := readUpload(r, d, in, answers); has {
		need, note = found.Need, clipped(strings.Join(d.Say.All(found.Warnings), "\n"))
	} else if mass, ok := answers["mass"]; ok {
		need.Mass = &mass
	} else if in.Typed("mass") == "" {
		in.Refuse("file", "form.need_empty", "form.either_is_enough")
	}
	need.Polymer, need.Colour = Known(d, in.Typed("polymer")), in.Typed("colour")
	if rgb := in.Typed("rgb"); rgb != "none" && rgb != drawing.NoColour.String() {
		need.RGB = rgb
	}
	if name := in.Typed("name"); name != "" {
		need.Name = name
	}
	if need.Name == "" {
		in.Refuse("name", "form.give_it_a_name", "form.plan_name_help")
	}
	if len(in.Wrong) > 0 {
		in.RefusedAt(shop.Sound(&shop.NeedSet{Need: need}), wantSheet(d))
		return nil, ""
	}
	return &need, note
}

// Known is the table's own spelling of a plastic, or what was typed.
func Known(d *desk.Desk, typed string) string {
	if p, err := d.Materials().Find(typed); err == nil && typed != "" {
		return p.Name
	}
	return typed
}

// readUpload reads the file, if one was sent.
func readUpload(r *http.Request, d *desk.Desk, in *forms.Input, answers map[string]float64) (consumption.Found, bool) {
	if r.MultipartForm == nil || len(r.MultipartForm.File["file"]) == 0 || r.MultipartForm.File["file"][0].Filename == "" {
		return consumption.Found{}, false
	}
	head := r.MultipartForm.File["file"][0]
	file, err := head.Open()
	if err != nil {
		in.Refuse("file", "form.file_unreadable", "form.send_it_once_more")
		return consumption.Found{}, true
	}
	defer file.Close()
	how := consumption.Reading{Wall: answers["wall"], Infill: answers["infill"], Copies: int(answers["copies"]), Plate: in.Typed("plate"),
		Mesh:     mesh.Options{Unit: consumption.Units[in.Typed("unit")]},
		Toolpath: toolpath.Options{Diameter: answers["diameter"], PerRevolution: answers["per_turn"], Acceleration: answers["acceleration"], MaxBytes: 64 * mostUpload}}
	if how.Toolpath.PerRevolution == 0 {
		how.Toolpath.PerRevolution = consumption.PerTurn(d.State)
	}
	switch in.Typed("e") {
	case "filament":
		how.Toolpath.E = toolpath.EFilament
	case "volume":
		how.Toolpath.E = toolpath.EVolume
	case "revolution":
		how.Toolpath.E = toolpath.ERevolution
	}
	found, err := consumption.ReadNeed(head.Filename, file, head.Size, how)
	if err != nil {
		say, hint := forms.Said(d.Say, err)
		at := "file"
		if own := (*shop.Error)(nil); errors.As(err, &own) && (own.Field == "unit" || own.Field == "plate" || own.Field == "copies") {
			at = own.Field
		}
		in.Refuse(at, say, cmp.Or(hint, d.Say.Line("form.file_again_advice")))
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
