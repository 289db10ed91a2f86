package identify

import (
	"math"
	"net/url"
	"strings"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/forms"
	"hopperful/plan/identification"
	"hopperful/quantity"
	"hopperful/shop"
)

// pieceView is the page that asks what a piece is.
type pieceView struct {
	Asked      string // whose piece it is
	Answer     figures.Document
	Stopped    bool // everything stops
	Wrong      []forms.Wrong
	Hollow     *forms.Wrong
	Air        bool   // somebody said it is hollow
	SolidNow   string // address that says there is a solid chip; "" when that was said
	TakeSolid  string // address without what was floated and weighed
	Likely     []shareView
	Rest       []shareView
	Moved      bool
	Prior      string
	Found      []foundView
	Card       *cardView
	KeepFirst  bool   // sure enough to be kept before anything else is tried
	Slip       string // address without the word of chlorine; "" when nobody gave it
	PutOff     int
	Again      string // address that takes up what was put off
	Others     []otherView
	Later      []otherView // the less telling ones, folded
	Part       *otherView  // a liquid between the two likeliest
	Measure    *measureView
	Keep       *keepView
	Known      forms.View
	Mixed      string
	MarkAction string // where the lot is marked; "" when it cannot be
	MarkSay    string
	Lot        shop.LotID
	Said       []forms.Option // the dialogue so far, which every form sends along
	SaidRest   []forms.Option // the same without what is asked again
	Here       string
	MayHeat    bool
	KnownWrong bool
}

// shareView is a plastic with its share as a bar.
type shareView struct {
	figures.View
	Polymer string
	Words   string
	Width   float64 // of the bar, 0 to 200
	Was     float64 // of the outline, what was thought before the last finding
	WasSay  string  // in words; "" when it did not change
	Grades  []figures.View
}

// foundView is a finding with what it moved.
type foundView struct {
	Say, Moved string
	Width, Was float64 // of the bar and its outline: the share after and before
	Back       string  // the address without it
}

// keepView is how the answer is written down.
type keepView struct {
	Say    string
	Action string
	Sheet  string // the sorting sheet, filled in
}

// The bars shown at once: what is worth one, within bounds; the rest unfolds.
const (
	leastBars, mostBars = 3, 4
	worthABar           = 0.02
)

// mostOthers are the other tests shown at once.
const mostOthers = 5

func viewPiece(d *desk.Desk, a *pieceAsked, lot *shop.Lot, out identification.Identification, m *measureView) pieceView {
	v := pieceView{Asked: d.Say.Line("page.piece"), Answer: figures.Laid(d.Say, out.Document), Prior: d.Say.Say(out.Prior), Measure: m, Mixed: "/identify/mixed"}
	if w, is := a.in.Wrong["found"]; is {
		v.Wrong = append(v.Wrong, w)
	} else if len(a.in.Wrong) > 0 {
		v.Wrong = append(v.Wrong, forms.Wrong{Say: d.Say.Line("page.one_wrong"), Hint: d.Say.Line("page.mend_there")})
	}
	_, v.KnownWrong = a.in.Wrong["label"]
	if lot != nil {
		v.Lot, v.Asked = lot.ID, d.Say.Line("go.identify", fact.Name("lot", desk.LotLine(d.Say, lot)))
		v.Mixed += "?lot=" + string(lot.ID)
	}
	for key, list := range a.said {
		for _, text := range list {
			v.Said = append(v.Said, forms.Option{Value: key, Say: text})
		}
	}
	sortSaid(v.Said)
	for _, x := range v.Said {
		if x.Value != "label" && x.Value != "label_by" {
			v.SaidRest = append(v.SaidRest, x)
		}
	}
	v.Here = a.path
	v.Found = a.viewFound(d.Say, out)
	v.Known = a.knownForm(d)
	if out.Stopped {
		v.stop(a)
		return v
	}
	v.bars(d.Say, out)
	v.Card = a.card(d.Say, out)
	if !a.begun() {
		v.Answer.Spoilers, v.Measure = nil, nil
		return v
	}
	v.Others = a.others(d.Say, out, v.Card)
	if len(v.Others) > mostOthers+1 {
		v.Others, v.Later = v.Others[:mostOthers], v.Others[mostOthers:]
	}
	v.PutOff, v.MayHeat = len(a.said["skip"]), out.MayHeat
	again := saidOf(a.said)
	again.Del("skip")
	v.Again = a.to(again)
	if v.Air = a.opt.Solid == shop.No; a.opt.Solid != shop.Yes {
		v.SolidNow = a.with("solid", "yes")
	}
	v.TakeSolid = a.withoutSolid()
	if p := out.Part; p != nil {
		c := a.testCard(d.Say, p.Test)
		v.Part = &otherView{Ask: v.Answer.Spoilers[0].Say, Yes: c.Yes, No: c.No, Mix: c.Mix}
		v.Answer.Spoilers = v.Answer.Spoilers[1:]
	}
	v.Keep = keepOf(d, a, lot, out)
	v.KeepFirst = v.Keep != nil && (out.Verdict == answer.Yes || v.Card == nil)
	return v
}

// stop leaves nothing but what to do.
func (v *pieceView) stop(a *pieceAsked) {
	v.Stopped, v.Measure = true, nil
	for i := range v.Found { // only to take one back that was a slip
		v.Found[i].Moved = ""
	}
	if a.opt.Chlorine == shop.Yes {
		q := saidOf(a.said)
		q.Del("chlorine")
		v.Slip = a.to(q)
	}
	if len(v.Answer.Steps) > 0 {
		v.MarkAction, v.MarkSay = a.path, v.Answer.Steps[0].Say
	}
}

// bars lay the shares out, the likeliest first.
func (v *pieceView) bars(p *say.Printer, out identification.Identification) {
	for _, m := range out.Materials {
		b := shareView{View: figures.Of(p, m.Share), Polymer: p.Fact(identification.PolymerName("", m.Polymer)), Words: p.Say(m.Words), Width: barAt(m.Share.Value)}
		b.Value, b.Unit = p.Fact(identification.Percent("", m.Share.Value)), ""
		if m.Was != nil {
			v.Moved, b.Was = true, barAt(m.Was.Value)
			if was := p.Fact(identification.Percent("", m.Was.Value)); was != b.Value {
				b.WasSay = was
			}
		}
		b.Grades = figures.All(p, m.Grades)
		if n := len(v.Likely); n < leastBars || n < mostBars && m.Share.Value >= worthABar {
			v.Likely = append(v.Likely, b)
		} else {
			v.Rest = append(v.Rest, b)
		}
	}
}

// barAt is how long the bar of a share is drawn.
func barAt(share float64) float64 { return math.Round(10*figures.BarWidth*share) / 10 }

// viewFound lists the findings that counted, each with the way to take it back.
func (a *pieceAsked) viewFound(p *say.Printer, out identification.Identification) []foundView {
	var list []foundView
	for i, m := range out.Moved {
		moved := []string{p.Fact(identification.PolymerName("", m.Polymer)), p.Fact(identification.Percent("", m.Before.Value)), "→", p.Fact(identification.Percent("", m.After.Value))}
		f := foundView{Say: p.Say(m.Finding), Moved: strings.Join(moved, " "), Width: barAt(m.After.Value), Was: barAt(m.Before.Value)}
		if len(out.Moved) == len(a.found) {
			f.Back = a.without("found", a.found[i])
		}
		list = append(list, f)
	}
	return list
}

// withoutSolid is the address without what only a solid piece may tell.
func (a *pieceAsked) withoutSolid() string {
	q := saidOf(a.said)
	q.Del("found")
	for i, f := range a.opt.Findings {
		if !needsSolid(f) {
			q.Add("found", a.found[i])
		}
	}
	return a.to(q)
}

// sortSaid puts what a form sends along in an order that does not change.
func sortSaid(said []forms.Option) {
	order := map[string]int{"label": 0, "label_by": 1, "chlorine": 2, "solid": 3, "found": 4, "skip": 5}
	for i := 1; i < len(said); i++ {
		for j := i; j > 0 && order[said[j].Value] < order[said[j-1].Value]; j-- {
			said[j], said[j-1] = said[j-1], said[j]
		}
	}
}

// keepOf is how the answer is written down; nil while it cannot be.
func keepOf(d *desk.Desk, a *pieceAsked, lot *shop.Lot, out identification.Identification) *keepView {
	if lot == nil || len(a.in.Wrong) > 0 {
		return nil
	}
	rec, err := identification.Keep(d.State, a.opt, out)
	if err != nil {
		return nil
	}
	p := rec.Body.(*shop.Sorted).Into[0] // Keep makes one heap
	q := url.Values{"lot": {string(lot.ID)}, "into.0.mass_kg": {quantity.OnScale(p.Mass)}, "into.0.polymer": {p.Polymer},
		"into.0.sure": {quantity.Share.Exact(*p.Sure)}, "into.0.name": {p.Name}, "note": {d.Say.Say(out.Note())}}
	return &keepView{Say: d.Say.Line("page.piece_keeping", fact.Measured("mass", quantity.Mass, p.Mass), answer.Lot("lot", lot), fact.Name("polymer", p.Polymer), fact.Set("sure", quantity.Share, *p.Sure)),
		Action: a.path, Sheet: "/record/sort?" + q.Encode()}
}

// knownForm asks what is known of the piece before any test.
func (a *pieceAsked) knownForm(d *desk.Desk) forms.View {
	p := d.Say
	sh := forms.Sheet{Submit: p.Line("page.take_into_account"), Groups: []forms.Group{{Fields: []forms.Field{
		{Path: "label", Label: p.Line("page.piece_label"), As: forms.AsText, Help: p.Line("page.piece_label_help"), Suggest: d.Materials().Names()},
		{Path: "label_by", Label: p.Line("page.piece_label_by"), As: forms.AsChoice, Choices: []forms.Option{{Value: "", Say: p.Line("page.by_hand")}, {Value: "supplier", Say: p.Line("page.by_supplier")}}},
		{Path: "lot", Label: p.Line("page.piece_lot"), As: forms.AsSelect, First: string(a.opt.Lot), Choices: d.LotOptions(p.Line("page.none"), shop.Scrap, shop.Regrind, shop.Virgin, shop.Print)},
	}}}}
	f := forms.Laid(sh, a.in, "/identify", nil)
	f.Get = true
	return f
}
