package identify

import (
	"math"
	"net/http"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
	"hopperful/plan/identification"
	"hopperful/quantity"
	"hopperful/shop"
)

// mixedView is the page that says how mixed a lot is.
type mixedView struct {
	Asked  string
	Answer figures.Document
	Found  bool
	Bar    *mixedBar
	Ask    forms.View
	Sort   string // where the lot is sorted; "" without one
	Lot    shop.LotID
	Apart  bool
}

// mixedBar is the share with its range and the pair's limits, on an axis where
// each mark is ten times the last.
type mixedBar struct {
	Lo, Width, Mid float64
	Limits         []mixedLimit
	Ticks          []mixedLimit
	Label          string // the whole in words
}

// mixedLimit is a line on the bar.
type mixedLimit struct {
	At        float64
	Say, Name string
}

// The axis of shares: from a thousandth to all of it [1], and how it is drawn.
const (
	leastShare, mostShare   = 1e-3, 1.0
	mixedWidth, mixedMargin = 320.0, 16.0
)

func shareAt(v float64) float64 {
	v = min(max(v, leastShare), mostShare)
	return math.Round(10*(mixedMargin+(mixedWidth-2*mixedMargin)*math.Log(v/leastShare)/math.Log(mostShare/leastShare))) / 10
}

// mixedSheet asks what was counted.
func mixedSheet(d *desk.Desk) forms.Sheet {
	p := d.Say
	return forms.Sheet{Submit: p.Line("page.mixed"), Groups: []forms.Group{
		{Fields: []forms.Field{
			{Path: "lot", As: forms.AsHidden},
			{Path: "host", Label: p.Line("page.host"), As: forms.AsText, Must: true, Help: p.Line("page.host_help"), Suggest: d.Materials().Names()},
			{Path: "stray", Label: p.Line("page.stray"), As: forms.AsText, Must: true, Suggest: d.Materials().Names()},
			{Path: "pieces", Label: p.Line("page.pieces_seen"), As: forms.AsWhole, Help: p.Line("page.pieces_seen_help")},
			{Path: "wrong", Label: p.Line("page.pieces_wrong"), As: forms.AsWhole, Help: p.Line("page.pieces_wrong_help")},
			forms.Text("in", p.Line("page.parted_in"), p.Line("page.parted_in_help")),
			forms.Amount("temperature", p.Line("page.liquid_temperature"), quantity.Temperature, "°C", p.Line("page.empty_takes_room")),
		}},
		{Title: p.Line("page.weighed_instead"), Folded: true, Fields: []forms.Field{
			forms.Amount("floated", p.Line("page.floated"), quantity.Mass, "g", ""),
			forms.Amount("sank", p.Line("page.sank"), quantity.Mass, "g", ""),
			forms.Amount("piece", p.Line("page.piece_weighs"), quantity.Mass, "g", p.Line("identification.weigh_ten")),
		}},
	}}
}

// mixedAsked reads the address; false while nothing was counted yet.
func mixedAsked(d *desk.Desk, r *http.Request, sh forms.Sheet) (identification.MixedRequest, forms.Asked, bool) {
	q := r.URL.Query()
	if id, err := shop.ParseLot(q.Get("lot")); err == nil && q.Get("host") == "" {
		if l, ok := d.State.Lot(id); ok && l.Polymer != "" {
			q.Set("host", l.Polymer)
		}
	}
	a := forms.Read(d.Say, q, sh)
	a.In.Say = d.Say
	req := identification.MixedRequest{Host: a.Words["host"], Stray: a.Words["stray"], Floated: a.Numbers["floated"], Sank: a.Numbers["sank"], Piece: a.Numbers["piece"]}
	whole := func(path string) int {
		v, err := forms.Field{As: forms.AsWhole}.Parse(a.In.Typed(path))
		if n, ok := v.(int); err == nil && ok {
			return n
		}
		return 0
	}
	req.Pieces, req.Wrong = whole("pieces"), whole("wrong")
	if in := a.In.Typed("in"); in != "" {
		warm := identification.UsualTemperature
		if at := a.Number("temperature"); at != nil {
			warm = *at
		}
		rho, err := identification.ReadLiquid(in, warm)
		if err != nil {
			say, hint := forms.Said(d.Say, err)
			a.In.Refuse("in", say, hint)
		}
		req.Liquid = rho
	}
	if q.Get("pieces") == "" && q.Get("floated") == "" && q.Get("sank") == "" && !q.Has("stray") {
		return req, a, false
	}
	for _, path := range []string{"host", "stray"} {
		if a.In.Typed(path) == "" {
			a.In.Refuse(path, d.Say.Line("page.needed"), "")
		}
	}
	return req, a, true
}

// ShowMixed is the page of how mixed a lot is.
func ShowMixed(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	sh := mixedSheet(d)
	req, a, counted := mixedAsked(d, r, sh)
	var out identification.MixedLot
	if counted && len(a.In.Wrong) == 0 {
		var err error
		out, err = identification.MixedShare(d.State, req)
		switch {
		case err == nil:
		case desk.WantsJSON(r) || !a.Refused(fieldOf(err)):
			s.FailWith(w, r, err)
			return
		}
	}
	if desk.WantsJSON(r) {
		if !counted {
			a.In.Refuse("pieces", d.Say.Line("identification.nothing_seen"), d.Say.Line("identification.give_counts"))
		}
		if !s.Unreadable(w, r, a) {
			site.WriteJSON(w, http.StatusOK, d.Say.Document(out.Document))
		}
		return
	}
	v, status := mixedView{Answer: figures.Document{Answer: d.Say.Line("page.mixed_count")}}, http.StatusOK
	switch {
	case len(a.In.Wrong) > 0:
		v.Answer.Answer, status = d.Say.Line("page.cannot_count"), http.StatusUnprocessableEntity
	case counted:
		v = viewMixed(d.Say, out)
	}
	v.Asked = d.Say.Line("page.mixed_lot")
	back := site.View{Title: d.Say.Line("page.mixed"), Place: "materials", Crumb: &address.Link{To: "/identify", Say: d.Say.Line("page.piece")}}
	if id, err := shop.ParseLot(d.Query("lot")); err == nil {
		if l, ok := d.State.Lot(id); ok {
			v.Lot, v.Sort, v.Asked = id, "/record/sort?lot="+string(id), d.Say.Line("page.mixed_of", fact.Name("lot", desk.LotLine(d.Say, l)))
			back.Place, back.Crumb = "stock", d.LotCrumb(id)
		}
	}
	v.Ask = forms.AskedForm(r, sh, a)
	back.Body = v
	s.Render(w, r, status, "mixed", back)
}

// fieldOf names the page's field for what the plan refuses.
func fieldOf(err error) error {
	if e, ok := err.(*shop.Error); ok && e.Field == "liquid" {
		there := *e
		there.Field = "in"
		return &there
	}
	return err
}

func viewMixed(p *say.Printer, m identification.MixedLot) mixedView {
	v := mixedView{Found: true, Answer: figures.Laid(p, m.Document), Apart: m.GoodFor != identification.ForParts && m.GoodFor != identification.ForJigs}
	share := p.Figure(m.Share)
	b := &mixedBar{Lo: shareAt(m.Share.Low), Mid: shareAt(m.Share.Value), Label: share.Name + ": " + p.Number(share.ShownRange())}
	b.Width = math.Max(2, shareAt(m.Share.High)-b.Lo)
	for _, l := range p.Figures(m.Limits) {
		b.Limits = append(b.Limits, mixedLimit{shareAt(l.Value), p.Number(quantity.Share.Plain(l.Value)), l.Name})
	}
	for _, t := range []float64{0.001, 0.01, 0.1, 1} {
		b.Ticks = append(b.Ticks, mixedLimit{At: shareAt(t), Say: p.Number(quantity.Share.Plain(t))})
	}
	v.Bar = b
	return v
}
