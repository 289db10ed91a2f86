package web

import (
	"net/http"
	"net/url"

	"hopperful/shop"
)

// sheets lists every sheet by the word its address has.
var sheets = map[string]func(*desk) sheet{
	"take-in": takeInSheet, "charge": chargeSheet, "sort": sortSheet, "weigh": weighSheet,
	"magnet": magnetSheet, "dedust": dedustSheet, "dry": drySheet, "jar": jarSheet, "colour": colourSheet, "flow": flowSheet, "sieve": sieveSheet,
	"service": serviceSheet, "event": eventSheet,
	"blend": blendSheet, "print": printSheet, "discard": discardSheet,
	"mill": millSheet, "scale": scaleSheet, "printer": printerSheet, "dryer": dryerSheet,
	"shop": shopSheet, "person": personSheet, "material": materialSheet, "need": needSheet,
}

// sheetOfRecord is the sheet a record was written on, for its correction.
func sheetOfRecord(d *desk, b shop.Body) (sheet, bool) {
	with := *d
	switch b := b.(type) {
	case *shop.MaterialSet:
		with.query = url.Values{"polymer": {b.Polymer}, "property": {b.Property}}.Get
	case *shop.Sieved:
		with.query = stackQuery(b).Get
	}
	return sheetFor(&with, b.Kind())
}

// sheetFor is the sheet of a kind of record.
func sheetFor(d *desk, kind string) (sheet, bool) {
	for _, make := range sheets {
		if sh := make(d); sh.Kind == kind {
			return sh, true
		}
	}
	return sheet{}, false
}

// sheetView is a page with one sheet.
type sheetView struct {
	Form   formView
	Stages []stageView // of the first steps; nil elsewhere
	Stack  *stackView  // of the sheet of a sieving; nil elsewhere
	Colour *colourView // of the sheet of a colour; nil elsewhere
}

func (s *server) sheetOf(w http.ResponseWriter, r *http.Request, d *desk) (sheet, bool) {
	make, ok := sheets[r.PathValue("what")]
	if !ok {
		s.showMissing(w, r)
		return sheet{}, false
	}
	return make(d), true
}

// showSheet shows an empty sheet, or the latest description of a named thing to
// change (?of=NAME); answers in the address are filled in.
func (s *server) showSheet(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	sh, ok := s.sheetOf(w, r, d)
	if !ok {
		return
	}
	values := url.Values{}
	if was, found := d.latest(sh.Kind, d.query("of")); found {
		values = answersOf(sh, shop.Record{At: d.now, Body: was}, d.now.Location(), d.say)
		values.Del("at")
	}
	sh.fields(func(f field) {
		if v := d.query(f.Path); v != "" {
			values.Set(f.Path, v)
		}
	})
	s.drawSheet(w, r, d, http.StatusOK, sh, newInput(d.say, values))
}

func (s *server) drawSheet(w http.ResponseWriter, r *http.Request, d *desk, status int, sh sheet, in *input) {
	action := r.URL.RequestURI()
	if sh.Stack != nil {
		action = sh.Stack.asked(r.URL)
	}
	f := form(sh, in, action, d.state.People)
	f.Next = localPath(d.query("next"), "")
	s.render(w, r, status, "sheet", view{Title: sh.Title, Place: sh.Place, Crumb: placeLink(sh.Place), Body: sheetView{Form: f, Stack: d.viewStack(sh.Stack), Colour: d.viewColour(sh)}})
}

// latest is the body that last described a named thing.
func (d *desk) latest(kind, name string) (shop.Body, bool) {
	if kind == "shop_set" {
		set := d.state.Shop
		return &set, true
	}
	for _, r := range d.state.Records.LatestOf(&shop.MillSet{}, &shop.ScaleSet{}, &shop.PrinterSet{}, &shop.DryerSet{}, &shop.MaterialSet{}, &shop.PersonSet{}, &shop.NeedSet{}) {
		if name != "" && r.Body.Kind() == kind && nameOf(r.Body) == name {
			return r.Body, true
		}
	}
	return nil, false
}

// nameOf is the name of the thing a body describes, "" for things that happen.
func nameOf(b shop.Body) string {
	switch t := b.(type) {
	case *shop.MillSet:
		return t.Mill.Name
	case *shop.ScaleSet:
		return t.Scale.Name
	case *shop.PrinterSet:
		return t.Printer.Name
	case *shop.DryerSet:
		return t.Dryer.Name
	case *shop.PersonSet:
		return t.Name
	case *shop.NeedSet:
		return t.Need.Name
	}
	return ""
}

// postSheet writes a filled sheet down, or shows it again with what is wrong.
func (s *server) postSheet(w http.ResponseWriter, r *http.Request) {
	if !readForm(w, r) {
		s.fail(w, r, tooLarge)
		return
	}
	d := s.desk(r)
	sh, ok := s.sheetOf(w, r, d)
	if !ok {
		return
	}
	in := newInput(d.say, r.PostForm)
	was, _ := d.latest(sh.Kind, d.query("of"))
	rec, ok := s.writeSheet(w, r, d, sh, in, was, 0)
	if !ok {
		return
	}
	s.follow(w, r, sh.After(s.store.State(), rec), rec.ID)
}

// writeSheet reads, checks and appends one record; on a refusal it answers with
// the sheet, everything typed kept.
func (s *server) writeSheet(w http.ResponseWriter, r *http.Request, d *desk, sh sheet, in *input, was shop.Body, corrects shop.RecordID) (shop.Record, bool) {
	rec, err := s.keep(r, d, sh, in, was, corrects)
	switch {
	case err != nil:
		s.failWith(w, r, err)
	case len(in.Wrong) > 0:
		s.drawSheet(w, r, d, http.StatusUnprocessableEntity, sh, in)
	}
	return rec, err == nil && len(in.Wrong) == 0
}

// keep appends what was typed. What the person can mend is left in in.Wrong;
// the error is for what they cannot.
func (s *server) keep(r *http.Request, d *desk, sh sheet, in *input, was shop.Body, corrects shop.RecordID) (shop.Record, error) {
	rec := shop.Record{At: in.moment(d.now.Location()), By: in.typed("by"), Note: in.typed("note"), Corrects: corrects}
	rec.Body = in.read(sh, was)
	if len(in.Wrong) > 0 {
		return shop.Record{}, nil
	}
	kept, err := s.store.Append(r.Context(), s.now(), rec)
	if err != nil && in.refused(err) {
		return shop.Record{}, nil
	}
	if err != nil {
		return shop.Record{}, err
	}
	return kept[0], nil
}

// follow leads on after a write, to the page the form asked for or the
// record's own, where the bar offers to take it back.
func (s *server) follow(w http.ResponseWriter, r *http.Request, own string, id shop.RecordID) {
	next := localPath(r.PostForm.Get("next"), own)
	u, err := url.Parse(next)
	if err != nil {
		u = &url.URL{Path: "/"}
	}
	q := u.Query()
	q.Set("done", toString(id))
	u.RawQuery = q.Encode()
	http.Redirect(w, r, u.String(), http.StatusSeeOther)
}

// placeLink is the crumb of each place.
func placeLink(place string) *link {
	switch place {
	case "stock":
		return &link{"/stock", "form.stock"}
	case "plan":
		return &link{"/plan", "form.plan"}
	case "machines":
		return &link{"/machines", "form.machines"}
	case "materials":
		return &link{"/materials", "form.materials"}
	}
	return &link{"/", "form.now"}
}
