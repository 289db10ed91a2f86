package identify

import (
	"errors"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
	"hopperful/plan/identification"
	"hopperful/polymer"
	"hopperful/polymer/identify"
	"hopperful/shop"
)

// The dialogue about a piece lives in its address, in the order it was had:
//
//	/identify/S7?chlorine=no&found=limp70=no&found=floats water=no&solid=yes&skip=acetone
//
// so that back, reload and sharing work, and nothing typed is lost.

// mostFound bounds the findings of an address; nobody tries more.
const mostFound = 40

// pieceAsked is what an address says of a piece.
type pieceAsked struct {
	path  string     // /identify or /identify/S7
	said  url.Values // what of it counts, to build the next address from
	opt   identification.Options
	found []string // as written, one an opt.Findings
	in    *forms.Input
	say   *say.Printer
}

// saidOf are the parts of a form or an address that are the dialogue.
func saidOf(q url.Values) url.Values {
	said := url.Values{}
	for _, key := range []string{"found", "skip"} {
		for _, text := range q[key][:min(mostFound, len(q[key]))] {
			if text = strings.TrimSpace(text); text != "" && !slices.Contains(said[key], text) {
				said.Add(key, text)
			}
		}
	}
	for _, key := range []string{"chlorine", "solid", "label", "label_by"} {
		if text := strings.TrimSpace(q.Get(key)); text != "" {
			said.Set(key, text)
		}
	}
	return said
}

// readPiece reads the dialogue. What cannot be read is left in the input.
func readPiece(d *desk.Desk, lot shop.LotID, q url.Values) *pieceAsked {
	a := &pieceAsked{path: "/identify", said: saidOf(q), in: forms.NewInput(d.Say, q), say: d.Say, opt: identification.Options{Lot: lot}}
	if lot != "" {
		a.path = address.Piece(lot)
	}
	a.opt.Solid, a.opt.Chlorine = yesOrNo(a.said.Get("solid")), yesOrNo(a.said.Get("chlorine"))
	if label := a.said.Get("label"); label != "" {
		p, err := d.Materials().Find(label)
		switch {
		case err != nil:
			say, _ := forms.Said(d.Say, err)
			a.in.Refuse("label", say, d.Say.Line("page.materials_list"))
		case p.Name != polymer.Unknown:
			a.opt.Label = p.Name
		}
		if a.said.Get("label_by") == "supplier" {
			a.opt.LabelRight = identify.SupplierLabel
		}
	}
	for _, text := range a.said["found"] {
		f, err := identification.ReadFinding(text)
		if err != nil {
			say, hint := forms.Said(d.Say, err)
			a.in.Refuse("found", d.Say.Line("page.odd_finding", fact.Name("say", say)), hint)
			continue
		}
		a.found, a.opt.Findings = append(a.found, text), append(a.opt.Findings, f)
	}
	if a.said.Del("found"); len(a.found) > 0 { // what cannot be read leads nowhere
		a.said["found"] = a.found
	}
	return a
}

func yesOrNo(word string) shop.YesNo {
	if a := shop.YesNo(word); a == shop.Yes || a == shop.No {
		return a
	}
	return shop.Unknown
}

// with is the dialogue's address after one more answer.
func (a *pieceAsked) with(key, value string) string {
	q := saidOf(a.said)
	switch key {
	case "found", "skip":
		q.Add(key, value)
	default:
		q.Set(key, value)
	}
	return a.to(q)
}

// without is the address after an answer is taken back.
func (a *pieceAsked) without(key, value string) string {
	q := saidOf(a.said)
	q[key] = slices.DeleteFunc(q[key], func(v string) bool { return v == value })
	return a.to(q)
}

func (a *pieceAsked) to(q url.Values) string {
	if text := q.Encode(); text != "" {
		return a.path + "?" + text
	}
	return a.path
}

// identify asks the plan. Where what was floated or weighed is not solid it is
// left out, and the refusal is shown.
func (a *pieceAsked) identify(p *say.Printer, st *shop.State) (identification.Identification, *forms.Wrong, error) {
	out, err := identification.Identify(st, a.opt)
	var refused *shop.Error
	if !errors.As(err, &refused) || refused.Field != "solid" {
		return out, nil, err
	}
	rest := a.opt
	rest.Findings = slices.DeleteFunc(slices.Clone(rest.Findings), needsSolid)
	out, err = identification.Identify(st, rest)
	say, hint := p.Refusal(refused)
	return out, &forms.Wrong{Say: say, Hint: hint}, err
}

func needsSolid(f identify.Finding) bool { return f.Test == "floats" || f.Test == identify.Weighed }

// pieceLot is the lot of the address, "" for a piece of none.
func pieceLot(s *site.Site, w http.ResponseWriter, r *http.Request, d *desk.Desk) (*shop.Lot, shop.LotID, bool) {
	word := r.PathValue("lot")
	if word == "" {
		return nil, "", true
	}
	id, err := shop.ParseLot(word)
	l, ok := d.State.Lot(id)
	if err != nil || !ok {
		s.Fail(w, r, site.Fault{Status: http.StatusNotFound, Say: d.Say.Line("shop.no_lot", fact.Name("lot", word)), Hint: d.Say.Line("shop.stock_lists")})
		return nil, "", false
	}
	return l, id, true
}

// ShowPiece is the dialogue about a piece as far as its address tells it.
func ShowPiece(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	if lot := d.Query("lot"); lot != "" && r.PathValue("lot") == "" {
		q := saidOf(r.URL.Query())
		http.Redirect(w, r, (&pieceAsked{path: address.Piece(shop.LotID(lot))}).to(q), http.StatusSeeOther)
		return
	}
	lot, id, ok := pieceLot(s, w, r, d)
	if !ok {
		return
	}
	a := readPiece(d, id, r.URL.Query())
	m := measuring(d, a)
	if next := m.read(a); next != "" && len(a.in.Wrong) == 0 {
		http.Redirect(w, r, next, http.StatusSeeOther)
		return
	}
	out, hollow, err := a.identify(d.Say, d.State)
	switch {
	case err == nil && desk.WantsJSON(r) && hollow != nil:
		s.Fail(w, r, site.Fault{Status: http.StatusUnprocessableEntity, Say: hollow.Say, Hint: hollow.Hint})
		return
	case err == nil && desk.WantsJSON(r) && s.Unreadable(w, r, forms.Asked{In: a.in}):
		return
	case err != nil:
		s.FailWith(w, r, err)
		return
	case desk.WantsJSON(r):
		site.WriteJSON(w, http.StatusOK, d.Say.Document(out.Document))
		return
	}
	v, status := viewPiece(d, a, lot, out, m), http.StatusOK
	if v.Hollow = hollow; hollow != nil {
		v.Keep, v.KeepFirst = nil, false
	}
	if hollow != nil || len(a.in.Wrong) > 0 {
		status = http.StatusUnprocessableEntity
	}
	back := site.View{Title: d.Say.Line("page.piece"), Place: "materials", Crumb: &address.Link{To: "/materials", Say: d.Say.Line("page.materials")}, Body: v}
	if lot != nil {
		back.Title, back.Place, back.Crumb = d.Say.Line("go.identify", fact.Name("lot", string(id))), "stock", d.LotCrumb(id)
	}
	s.Render(w, r, status, "identify", back)
}

// PostPiece writes the answer down with its lot, or marks the lot.
func PostPiece(s *site.Site, w http.ResponseWriter, r *http.Request) {
	if !forms.ReadForm(w, r) {
		s.Fail(w, r, site.TooLarge)
		return
	}
	d := s.Desk(r)
	_, id, ok := pieceLot(s, w, r, d)
	if !ok {
		return
	}
	a := readPiece(d, id, r.PostForm)
	out, err := identification.Identify(d.State, a.opt)
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	keep := identification.Keep
	if r.PostForm.Get("mark") != "" {
		keep = identification.Suspect
	}
	rec, err := keep(d.State, a.opt, out)
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	rec.Note = d.Say.Say(out.Note())
	kept, err := s.Store.Append(r.Context(), s.Now(), rec)
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	made := kept[0].Body.(*shop.Sorted).Into[0].Lot // Keep and Suspect make one heap
	s.Follow(w, r, address.Lot(made), kept[0].ID)
}
