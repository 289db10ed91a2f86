package web

import (
	"math"
	"net/http"
	"strings"

	"hopperful/answer"
	"hopperful/plan/piece"
	"hopperful/quantity"
	"hopperful/shop"
)

// mixedView is the page that says how mixed a lot is.
type mixedView struct {
	Asked     string
	Say, More string
	Found     bool
	Mark      mark
	Becomes   string
	Bar       *mixedBar
	Numbers   []figView
	Settle    string
	Notes     []string
	Ask       formView
	Sort      string // where the lot is sorted; "" without one
	Lot       shop.LotID
	Apart     bool
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
	return sheet{Submit: "How mixed is it?", Groups: []group{
		{Fields: []field{
			{Path: "lot", As: asHidden},
			{Path: "host", Label: "It should be", As: asText, Must: true, Help: "The plastic the lot is meant to be.", Suggest: d.materials().Names()},
			{Path: "stray", Label: "What should not be there", As: asText, Must: true, Suggest: d.materials().Names()},
			{Path: "pieces", Label: "Pieces looked at", As: asWhole, Help: "Drawn at random, from all over the lot."},
			{Path: "wrong", Label: "Of them, the wrong ones", As: asWhole, Help: "Taken for the wrong plastic, or on its side of the liquid."},
			text("in", "The liquid that parted them", "Empty: told apart by eye. Else water, a density such as 1.08 g/cm³, or brine 12 %."),
		}},
		{Title: "Weighed instead of counted", Folded: true, Fields: []field{
			amount("floated", "Floated", quantity.Mass, "g", ""),
			amount("sank", "Sank", quantity.Mass, "g", ""),
			amount("piece", "A piece weighs on average", quantity.Mass, "g", "Weigh ten and divide."),
		}},
	}}
}

// mixedAsked reads the address; false while nothing was counted yet.
func (d *desk) mixedAsked(r *http.Request, sh sheet) (piece.MixedRequest, asked, bool) {
	q := r.URL.Query()
	if id, err := shop.ParseLot(q.Get("lot")); err == nil && q.Get("host") == "" {
		if l, ok := d.state.Lot(id); ok && l.Polymer != "" {
			q.Set("host", l.Polymer)
		}
	}
	a := readQuery(q, sh)
	req := piece.MixedRequest{Host: a.words["host"], Stray: a.words["stray"], Floated: a.numbers["floated"], Sank: a.numbers["sank"], Piece: a.numbers["piece"]}
	whole := func(path string) int {
		v, err := field{As: asWhole}.parse(a.in.typed(path))
		if n, ok := v.(int); err == nil && ok {
			return n
		}
		return 0
	}
	req.Pieces, req.Wrong = whole("pieces"), whole("wrong")
	if in := a.in.typed("in"); in != "" {
		rho, err := piece.ReadLiquid(in, roomWarm)
		if err != nil {
			say, hint := sentence(err)
			a.in.refuse("in", say, hint)
		}
		req.Liquid = rho
	}
	if q.Get("pieces") == "" && q.Get("floated") == "" && q.Get("sank") == "" && !q.Has("stray") {
		return req, a, false
	}
	for _, path := range []string{"host", "stray"} {
		if a.in.typed(path) == "" {
			a.in.refuse(path, "This is needed.", "")
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
	var out piece.MixedLot
	if counted && len(a.in.Wrong) == 0 {
		var err error
		out, err = piece.MixedShare(d.state, req)
		switch {
		case err == nil:
		case wantsJSON(r) || !a.refused(fieldOf(err)):
			s.failWith(w, r, err)
			return
		}
	}
	if wantsJSON(r) {
		if !counted {
			a.in.refuse("pieces", "Nothing was looked at.", "Give host, stray, pieces and wrong.")
		}
		if !s.unreadable(w, r, a) {
			writeJSON(w, http.StatusOK, out)
		}
		return
	}
	v, status := mixedView{Say: "Count the wrong pieces, and see whether they matter."}, http.StatusOK
	switch {
	case len(a.in.Wrong) > 0:
		v.Say, status = "It cannot be counted like that.", http.StatusUnprocessableEntity
	case counted:
		v = viewMixed(out)
	}
	v.Asked = "How mixed is a lot?"
	back := view{Title: "How mixed is it?", Place: "materials", Crumb: &link{"/identify", "What is this piece?"}}
	if id, err := shop.ParseLot(d.query("lot")); err == nil {
		if l, ok := d.state.Lot(id); ok {
			v.Lot, v.Sort, v.Asked = id, "/record/sort?lot="+string(id), "How mixed is "+lotLine(l)+"?"
			back.Place, back.Crumb = "stock", &link{lotPath(id), "Lot " + string(id)}
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

// markOfMixed is the mark of a verdict.
var markOfMixed = map[string]mark{"structural": {"little enough", shapes[answer.Fits]}, "visual": {"enough for jigs", shapes[answer.Likely]},
	"unclear": {"not known yet", shapes[answer.Unknown]}, "apart": {"too much", shapes[answer.Unlikely]}, "refuse": {"far too much", shapes[answer.No]}}

func viewMixed(m piece.MixedLot) mixedView {
	v := mixedView{Found: true, Mark: markOfMixed[m.Verdict], Becomes: m.Stray + " in " + m.Host + ": " + m.Becomes, Notes: m.Notes,
		Apart: m.Verdict == "apart" || m.Verdict == "refuse" || m.Verdict == "unclear"}
	v.Say, v.More = firstSentence(m.Answer)
	if head, tail, cut := strings.Cut(v.Say, ": "); cut {
		v.Say, v.More = head+".", strings.TrimSpace(sentenceOf(tail)+" "+v.More)
	}
	b := &mixedBar{Lo: shareAt(m.Share.Low), Mid: shareAt(m.Share.Value), Label: m.Share.Name + ": " + m.Share.ShownRange()}
	b.Width = math.Max(2, shareAt(m.Share.High)-b.Lo)
	for _, l := range m.Limits {
		b.Limits = append(b.Limits, mixedLimit{shareAt(l.Value), quantity.Share.Plain(l.Value), l.Name})
	}
	for _, t := range []float64{0.001, 0.01, 0.1, 1} {
		b.Ticks = append(b.Ticks, mixedLimit{At: shareAt(t), Say: quantity.Share.Plain(t)})
	}
	v.Bar = b
	v.Numbers = append(viewFigures(present(append(m.Limits[:0:0], m.Share, m.Seen))), viewFigures(m.Limits)...)
	if m.Enough != nil {
		v.Settle = m.Enough.Shown() + " pieces looked at without a single wrong one would show that it is little enough for parts that have to hold."
		v.Numbers = append(v.Numbers, viewFigure(*m.Enough))
	}
	return v
}

// sentenceOf starts with a capital.
func sentenceOf(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:]
}
