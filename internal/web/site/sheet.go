package site

import (
	"net/http"
	"net/url"
	"slices"

	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/sheets"
	"hopperful/shop"
)

// ColourView is what stands beside the sheet of a colour: the picker, and a
// table to read from a file.
type ColourView struct {
	Lot   string
	Wrong *forms.Wrong // with the file
	Notes []string
}

// viewColour is nil for every other sheet.
func viewColour(d *desk.Desk, sh forms.Sheet) *ColourView {
	if sh.Kind != "coloured" {
		return nil
	}
	return &ColourView{Lot: d.Query("lot")}
}

// StageView is a step in the row at the top.
type StageView struct {
	Word          string
	Past, Current bool
}

// SheetView is a page with one sheet.
type SheetView struct {
	Form   forms.View
	Stages []StageView         // of the first steps; nil elsewhere
	Stack  *sheets.StackChoice // of the sheet of a sieving; nil elsewhere
	Colour *ColourView         // of the sheet of a colour; nil elsewhere
	Latest []desk.RecordRow    // of what the sheet records, beside it on a desk
	Before []address.Link      // what has to be written down first; empty where nothing lacks
}

// before is what has to be written down before a sheet can be: what it needs and lets
// choose, where the shop has none.
func before(d *desk.Desk, sh forms.Sheet) (all []address.Link) {
	for _, g := range sh.Groups {
		for _, f := range g.Fields {
			if !f.Must || f.As != forms.AsSelect || slices.ContainsFunc(f.Choices, func(o forms.Option) bool { return o.Value != "" }) {
				continue
			}
			to := *address.OfStep(d.Say, fact.Say("do.take_in"))
			switch {
			case f.Path == "mill":
				to = *address.OfStep(d.Say, fact.Say("do.describe_mill"))
			case f.Path == "printer":
				to = *address.OfStep(d.Say, fact.Say("do.describe_printer"))
			case sh.Kind != "ground" && len(d.State.Order) > 0: // what there is, is not ground yet
				to = address.Link{To: "/record/charge", Say: d.Say.Line("go.charge")}
			}
			if !slices.Contains(all, to) {
				all = append(all, to)
			}
		}
	}
	return all
}

// LatestBeside are the records that stand beside a sheet: the latest of what it records,
// none of what it describes.
func LatestBeside(d *desk.Desk, sh forms.Sheet) []desk.RecordRow {
	if !sh.Timed {
		return nil
	}
	return desk.Latest(d, sh.Kind)
}

// DrawSheet draws a sheet with what was typed.
func (s *Site) DrawSheet(w http.ResponseWriter, r *http.Request, d *desk.Desk, status int, sh forms.Sheet, in *forms.Input) {
	action := r.URL.RequestURI()
	if sh.Stack != nil {
		action = sh.Stack.Sent(r.URL)
	}
	f := forms.Laid(sh, in, action, d.State.People)
	f.Next = address.Local(d.Query("next"), "")
	s.Render(w, r, status, "sheet", View{Title: sh.Title, Place: sh.Place, Crumb: PlaceLink(sh.Place), Body: SheetView{Form: f, Stack: sheets.StackOf(d, sh.Stack), Colour: viewColour(d, sh), Latest: LatestBeside(d, sh), Before: before(d, sh)}})
}

// WriteSheet reads, checks and appends one record; on a refusal it answers with
// the sheet, everything typed kept.
func (s *Site) WriteSheet(w http.ResponseWriter, r *http.Request, d *desk.Desk, sh forms.Sheet, in *forms.Input, was shop.Body, corrects shop.RecordID) (shop.Record, bool) {
	rec, err := s.Keep(r, d, sh, in, was, corrects)
	switch {
	case err != nil:
		s.FailWith(w, r, err)
	case len(in.Wrong) > 0:
		s.DrawSheet(w, r, d, http.StatusUnprocessableEntity, sh, in)
	}
	return rec, err == nil && len(in.Wrong) == 0
}

// Keep appends what was typed. What the person can mend is left in in.Wrong;
// the error is for what they cannot.
func (s *Site) Keep(r *http.Request, d *desk.Desk, sh forms.Sheet, in *forms.Input, was shop.Body, corrects shop.RecordID) (shop.Record, error) {
	rec := shop.Record{At: in.Moment(d.Now.Location()), By: in.Typed("by"), Note: in.Typed("note"), Corrects: corrects}
	rec.Body = in.Read(sh, was)
	if len(in.Wrong) > 0 {
		return shop.Record{}, nil
	}
	kept, err := s.Store.Append(r.Context(), s.Now(), rec)
	if err != nil && in.Refused(err) {
		return shop.Record{}, nil
	}
	if err != nil {
		return shop.Record{}, err
	}
	return kept[0], nil
}

// Follow leads on after a write, to the page the form asked for or the
// record's own, where the bar offers to take it back.
func (s *Site) Follow(w http.ResponseWriter, r *http.Request, own string, id shop.RecordID) {
	next := address.Local(r.PostForm.Get("next"), own)
	u, err := url.Parse(next)
	if err != nil {
		u = &url.URL{Path: "/"}
	}
	q := u.Query()
	q.Set("done", address.Number(id))
	u.RawQuery = q.Encode()
	http.Redirect(w, r, u.String(), http.StatusSeeOther)
}

// PlaceLink is the crumb of each place.
func PlaceLink(place string) *address.Link {
	switch place {
	case "stock":
		return &address.Link{To: "/stock", Say: "form.stock"}
	case "plan":
		return &address.Link{To: "/plan", Say: "form.plan"}
	case "machines":
		return &address.Link{To: "/machines", Say: "form.machines"}
	case "materials":
		return &address.Link{To: "/materials", Say: "form.materials"}
	}
	return &address.Link{To: "/", Say: "form.now"}
}
