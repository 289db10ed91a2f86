package web

import (
	"errors"
	"net/http"
	"net/url"
	"strings"

	"hopperful/figure"
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
		Kind: "need_set", Title: "What do you want to print", Submit: "Make the plan", Place: "plan",
		Groups: []group{
			{Fields: []field{
				{Path: "file", Label: "A file of the print", As: asFile, Help: "G-code, plain or binary, STL or 3MF, up to 256 MiB. It is read here and not kept."},
				amount("mass", "Or the mass of plastic it eats", quantity.Mass, "g", ""),
				text("name", "What it is called", "Empty takes the name of the file."),
				d.polymerField("polymer", ""),
				d.colourField("colour"),
			}},
			{Title: "What it shall look like", Folded: true, Intro: "For a print of a colour that no lot has.", Fields: []field{
				{Path: "rgb", Label: "Its colour on the screen", As: asColour, Help: "A blend for it is held to this colour."},
			}},
			{Title: "How to read the file", Folded: true, Intro: "The plan says what was taken.", Fields: []field{
				{Path: "e", Label: "What E counts in G-code", As: asSelect, Choices: []option{
					{"", "as the file says, else length of filament"}, {"filament", "length of filament"}, {"volume", "volume in mm³"}, {"revolution", "turns of the screw"}}},
				amount("diameter", "Filament diameter", quantity.Length, "mm", "Empty takes what the file says, else 1.75 mm."),
				amount("per_turn", "Melt a turn of the screw gives", quantity.Volume, "mm³", d.perTurnHelp()),
				amount("acceleration", "Acceleration of the machine in m/s²", quantity.Number, "", "For G-code without M204."),
				amount("wall", "Wall thickness, for STL and 3MF", quantity.Length, "mm", "Empty takes the part as solid."),
				amount("infill", "Infill, for STL and 3MF", quantity.Share, "%", ""),
				amount("copies", "Copies of an STL or 3MF part", quantity.Number, "", "Empty takes one."),
				{Path: "unit", Label: "Unit of an STL", As: asSelect, Choices: []option{
					{"", "millimetres, asked again where that is unlikely"}, {"mm", "millimetres"}, {"cm", "centimetres"}, {"m", "metres"}, {"inch", "inches"}}},
				text("plate", "Plate of a sliced 3MF", "Its name or its number, where the file holds several."),
			}},
		},
	}
}

// perTurnHelp says what an empty answer takes.
func (d *desk) perTurnHelp() string {
	if v := consumption.PerTurn(d.state); v > 0 {
		return "When E counts turns. Empty takes the printer's, " + quantity.Volume.Plain(v) + "."
	}
	return "Needed when E counts turns. No printer's record says it."
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
	s.drawNeeds(w, r, d, http.StatusOK, newInput(url.Values{}))
}

func (s *server) drawNeeds(w http.ResponseWriter, r *http.Request, d *desk, status int, in *input) {
	v := needsView{Form: form(wantSheet(d), in, r.URL.Path, nil)}
	if strings.HasPrefix(r.URL.Path, "/start/") {
		v.Stages = stagesAt("need")
		s.render(w, r, status, "want", view{Title: "Your print", Bare: true, Body: v})
		return
	}
	for i := len(d.state.Needs) - 1; i >= 0; i-- {
		if row := d.needRow(d.state.Needs[i]); row.Done {
			v.Done = append(v.Done, row)
		} else {
			v.Open = append(v.Open, row)
		}
	}
	s.render(w, r, status, "needs", view{Title: "Plan", Place: "plan", Body: v})
}

func (d *desk) needRow(n shop.Need) needRow {
	row := needRow{Name: n.Name, Done: n.Done, Swatch: colourOf(n.RGB, n.Colour).String(), What: strings.TrimSpace(n.Colour + " " + orSay(n.Polymer, "plastic not chosen yet"))}
	if m, ok := d.massOf(n); ok {
		v := viewFigure(m)
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
		in := newInput(url.Values{})
		in.refuse("file", "The file is larger than 256 MiB, or it arrived incomplete.", "Use hopperful need FILE on the command line for larger ones.")
		s.drawNeeds(w, r, d, http.StatusRequestEntityTooLarge, in)
		return
	}
	in := newInput(r.PostForm)
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
			say, hint := sentence(err)
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
		in.refuse("file", "Choose a file, or type a mass.", "Either is enough.")
	}
	need.Polymer, need.Colour = known(d, in.typed("polymer")), in.typed("colour")
	if rgb := in.typed("rgb"); rgb != "none" && rgb != noColour.String() {
		need.RGB = rgb
	}
	if name := in.typed("name"); name != "" {
		need.Name = name
	}
	if need.Name == "" {
		in.refuse("name", "Give it a name.", "The plan is found again under it.")
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
		in.refuse("file", "The file could not be read.", "Send it once more.")
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
		say, hint := sentence(err)
		at := "file"
		if own := (*shop.Error)(nil); errors.As(err, &own) && (own.Field == "unit" || own.Field == "plate" || own.Field == "copies") {
			at = own.Field
		}
		in.refuse(at, say, orSay(hint, "Choose it again; the rest of what you typed is kept."))
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
