package web

import (
	"math"
	"net/http"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/plan/identification"
	"hopperful/quantity"
	"hopperful/shop"
)

// mixedView is the page that says how mixed a lot is.
type mixedView struct {
	Asked  string
	Answer docView
	Found  bool
	Bar    *mixedBar
	Ask    formView
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
func mixedSheet(d *desk) sheet {
	p := d.say
	return sheet{Submit: p.Line("page.mixed"), Groups: []group{
		{Fields: []field{
			{Path: "lot", As: asHidden},
			{Path: "host", Label: p.Line("page.host"), As: asText, Must: true, Help: p.Line("page.host_help"), Suggest: d.materials().Names()},
			{Path: "stray", Label: p.Line("page.stray"), As: asText, Must: true, Suggest: d.materials().Names()},
			{Path: "pieces", Label: p.Line("page.pieces_seen"), As: asWhole, Help: p.Line("page.pieces_seen_help")},
			{Path: "wrong", Label: p.Line("page.pieces_wrong"), As: asWhole, Help: p.Line("page.pieces_wrong_help")},
			text("in", p.Line("page.parted_in"), p.Line("page.parted_in_help")),
		}},
		{Title: p.Line("page.weighed_instead"), Folded: true, Fields: []field{
			amount("floated", p.Line("page.floated"), quantity.Mass, "g", ""),
			amount("sank", p.Line("page.sank"), quantity.Mass, "g", ""),
			amount("piece", p.Line("page.piece_weighs"), quantity.Mass, "g", p.Line("identification.weigh_ten")),
		}},
	}}
}

// mixedAsked reads the address; false while nothing was counted yet.
func (d *desk) mixedAsked(r *http.Request, sh sheet) (identification.MixedRequest, asked, bool) {
	q := r.URL.Query()
	if id, err := shop.ParseLot(q.Get("lot")); err == nil && q.Get("host") == "" {
		if l, ok := d.state.Lot(id); ok && l.Polymer != "" {
			q.Set("host", l.Polymer)
		}
	}
	a := readQuery(d.say, q, sh)
	a.in.say = d.say
	req := identification.MixedRequest{Host: a.words["host"], Stray: a.words["stray"], Floated: a.numbers["floated"], Sank: a.numbers["sank"], Piece: a.numbers["piece"]}
	whole := func(path string) int {
		v, err := field{As: asWhole}.parse(a.in.typed(path))
		if n, ok := v.(int); err == nil && ok {
			return n
		}
		return 0
	}
	req.Pieces, req.Wrong = whole("pieces"), whole("wrong")
	if in := a.in.typed("in"); in != "" {
		rho, err := identification.ReadLiquid(in, roomWarm)
		if err != nil {
			say, hint := saidIn(d.say, err)
			a.in.refuse("in", say, hint)
		}
		req.Liquid = rho
	}
	if q.Get("pieces") == "" && q.Get("floated") == "" && q.Get("sank") == "" && !q.Has("stray") {
		return req, a, false
	}
	for _, path := range []string{"host", "stray"} {
		if a.in.typed(path) == "" {
			a.in.refuse(path, d.say.Line("page.needed"), "")
		}
	}
	return req, a, true
}

// roomWarm is the temperature of a liquid nobody measured [K].
const roomWarm = 293.15

func (s *server) showMixed(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	sh := mixedSheet(d)
	req, a, counted := d.mixedAsked(r, sh)
	var out identification.MixedLot
	if counted && len(a.in.Wrong) == 0 {
		var err error
		out, err = identification.MixedShare(d.state, req)
		switch {
		case err == nil:
		case wantsJSON(r) || !a.refused(fieldOf(err)):
			s.failWith(w, r, err)
			return
		}
	}
	if wantsJSON(r) {
		if !counted {
			a.in.refuse("pieces", d.say.Line("identification.nothing_seen"), d.say.Line("identification.give_counts"))
		}
		if !s.unreadable(w, r, a) {
			writeJSON(w, http.StatusOK, d.say.Document(out.Document))
		}
		return
	}
	v, status := mixedView{Answer: docView{Answer: d.say.Line("page.mixed_count")}}, http.StatusOK
	switch {
	case len(a.in.Wrong) > 0:
		v.Answer.Answer, status = d.say.Line("page.cannot_count"), http.StatusUnprocessableEntity
	case counted:
		v = viewMixed(d.say, out)
	}
	v.Asked = d.say.Line("page.mixed_lot")
	back := view{Title: d.say.Line("page.mixed"), Place: "materials", Crumb: &link{"/identify", d.say.Line("page.piece")}}
	if id, err := shop.ParseLot(d.query("lot")); err == nil {
		if l, ok := d.state.Lot(id); ok {
			v.Lot, v.Sort, v.Asked = id, "/record/sort?lot="+string(id), d.say.Line("page.mixed_of", fact.Name("lot", lotLine(d.say, l)))
			back.Place, back.Crumb = "stock", d.lotCrumb(id)
		}
	}
	v.Ask = askForm(r, sh, a)
	back.Body = v
	s.render(w, r, status, "mixed", back)
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
	v := mixedView{Found: true, Answer: viewDocument(p, m.Document), Apart: m.GoodFor != identification.ForParts && m.GoodFor != identification.ForJigs}
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
