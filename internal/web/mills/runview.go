package mills

import (
	"net/url"
	"slices"

	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/prints"
	"hopperful/internal/web/site"
	"hopperful/plan/campaign"
	"hopperful/plan/plausibility"
	"hopperful/plan/sensing"
	"hopperful/quantity"
	"hopperful/shop"
)

// atMillView is the page of a campaign. Every stage's own part is drawn and those that
// do not apply are hidden, so that a device without a network can go on.
type atMillView struct {
	figures.Document
	ID                 shop.RecordID
	Mill               string
	Stage              string // sheet, ready, running, stopped, paused, enough, over
	K, N               int
	Charge, Level, Run string // as read at two metres
	Dial               string // the countdown as it stands
	Now                int64  // ms, the server's clock
	From               int64  // ms, when the run started or the mill stopped; 0 when neither counts
	RunFor, RestFor    float64
	Keys               []string // of this page's forms
	Changed            string   // what the last charge changed in the plan, and why
	Sheet              []checkView
	Form               forms.View
	Steps              []stripView
	Planning           bool
	Noise              bool
	Doubts             []site.QuestionView
	Live               *liveView
	Ran                string // what the sensors showed of the run that stopped, "" for nothing
	Correct            string // where the charge is that another device wrote down, "" for none
}

// checkView is a line of the sheet before the first charge.
type checkView struct {
	Value, Say string
	Ticked     bool
}

// stripView is a charge in the strip of all of them.
type stripView struct {
	Out        string
	Done, Next bool
}

// mostStrip is how many charges a phone's width shows side by side.
const mostStrip = 12

// stageOf is the part of the page that applies.
func stageOf(c shop.Campaign) string {
	switch {
	case !c.Open():
		return "over"
	case c.Stage == shop.RunStage, c.Stage == shop.NoteStage:
		return string(c.Stage)
	case c.Enough():
		return "enough"
	case c.Paused:
		return "paused"
	}
	return string(c.Stage)
}

// viewAtMill lays a campaign out.
func viewAtMill(d *desk.Desk, c shop.Campaign, a *campaign.Ahead, doc figures.Document, in *forms.Input, ran *sensing.Run) atMillView {
	next := campaign.Charge(c, a)
	cycle := next
	if c.Stage == shop.RunStage || c.Stage == shop.NoteStage {
		cycle = c.Now
	}
	v := atMillView{Document: doc, ID: c.ID, Mill: c.Mill, Stage: stageOf(c), K: c.Done() + 1, N: c.Done() + max(1, cycle.Charges), Now: d.Now.UnixMilli(),
		Charge: d.Say.Number(quantity.Mass.Plain(cycle.Charge)), Run: d.Say.Number(quantity.Duration.Plain(cycle.Run)),
		RunFor: cycle.Run, RestFor: next.Rest, Noise: c.Noise}
	if cycle.Level != nil {
		v.Level = address.Number(*cycle.Level)
	}
	switch v.Stage {
	case "running":
		v.From, v.Dial = c.Started.UnixMilli(), clockFace(max(0, campaign.Runs(c, d.Now)))
	case "ready", "stopped", "paused":
		if !c.Stopped.IsZero() {
			v.From, v.Dial = c.Stopped.UnixMilli(), clockFace(campaign.Rests(c, next, d.Now))
		}
	}
	for range 12 {
		v.Keys = append(v.Keys, prints.NewKey())
	}
	if len(doc.Steps) > 0 {
		v.Changed = doc.Steps[0].Why
	}
	for _, item := range shop.SheetItems() {
		v.Sheet = append(v.Sheet, checkView{string(item), sheetLine(d, item), slices.Contains(c.Ticked, item)})
	}
	v.strip(d, c)
	v.record(d, c, in, ran)
	for _, run := range slices.Backward(c.Runs) { // the latest that waits for an answer, one at a time
		if v.Doubts = site.Questions(d, run, plausibility.Of(d.State, run), address.Run(c.ID)); len(v.Doubts) > 0 {
			break
		}
	}
	return v
}

// openCautions is how many cautions stand open beside the mill: those one stops at once for.
const openCautions = 2

// AtOnce are the cautions that stand open.
func (v atMillView) AtOnce() []figures.Finding {
	return v.Cautions[:min(openCautions, len(v.Cautions))]
}

// Besides are the cautions that wait to be opened.
func (v atMillView) Besides() []figures.Finding {
	return v.Cautions[min(openCautions, len(v.Cautions)):]
}

// clockFace is a countdown as a clock shows it.
func clockFace(s float64) string {
	whole := int(s + 0.999)
	text := address.Number(whole%60 + 100)
	return address.Number(whole/60) + ":" + text[1:]
}

// strip is all charges side by side, as far as a phone is wide.
func (v *atMillView) strip(d *desk.Desk, c shop.Campaign) {
	if v.N > mostStrip {
		return
	}
	for i := range v.N {
		one := stripView{Done: i < c.Done(), Next: i == c.Done()}
		if one.Done {
			if r, ok := d.State.Record(c.Runs[i]); ok {
				if g := r.Body.(*shop.Ground); g.Product != nil {
					one.Out = d.Say.Number(quantity.Mass.Plain(*g.Product))
				}
			}
		}
		v.Steps = append(v.Steps, one)
	}
}

// filledFrom is the charge that ran as the plan and the sensors have it.
func filledFrom(s *shop.State, c shop.Campaign, ran *sensing.Run) *shop.Ground {
	g := campaign.Filled(s, c, nil)
	if ran != nil {
		run := g.Run
		ran.Into(g)
		g.Run = run // the touches say that, as long as they were made
	}
	return g
}

// record fills the sheet of the charge in: from the plan, or with what was typed.
func (v *atMillView) record(d *desk.Desk, c shop.Campaign, in *forms.Input, ran *sensing.Run) {
	sh := runSheet(d, c)
	if in == nil {
		in = forms.NewInput(d.Say, forms.AnswersOf(sh, shop.Record{At: d.Now, Body: filledFrom(d.State, c, ran)}, d.Now.Location(), d.Say))
	} else if len(in.Wrong) > 0 {
		v.Stage = "stopped"
		if n := len(c.Runs); n > 0 && in.Wrong[""].Say == d.Say.Line("page.run_written_already") {
			q := url.Values{}
			for _, path := range []string{"product_kg", "left_kg", "wall_after_k"} {
				if t := in.Typed(path); t != "" {
					q.Set(path, t)
				}
			}
			v.Correct = "/records/" + address.Number(c.Runs[n-1]) + "/correct?" + q.Encode()
		}
	}
	v.Form = forms.Laid(sh, in, address.Run(c.ID)+"/charge", nil)
	for i := range v.Form.Groups { // filled in as planned, it need not be looked at
		g := &v.Form.Groups[i]
		g.Open = slices.ContainsFunc(g.Fields, func(f forms.FieldView) bool { return f.Wrong != nil })
	}
}

// runSheet asks the two or three numbers of a charge; the rest is filled in.
func runSheet(d *desk.Desk, c shop.Campaign) forms.Sheet {
	ask := forms.Of("ground")
	product := ask("product_kg")
	if e := c.Now.Expect; e != nil {
		product.Hint = d.Say.Number(quantity.Mass.Rough(*e))
	}
	short := func(f forms.Field, code string) forms.Field { f.Label, f.Help = d.Say.Line(code), ""; return f }
	return forms.Sheet{Kind: "ground", Groups: []forms.Group{
		{Class: "run-numbers", Fields: []forms.Field{short(product, "page.run_came_out"), short(ask("left_kg"), "page.run_stayed"), short(ask("wall_after_k"), "page.run_wall")}},
		{Title: d.Say.Line("page.run_more"), Folded: true, Fields: []forms.Field{
			short(ask("charge_kg"), "page.run_went_in"), short(ask("run_s"), "page.run_ran"), short(ask("level"), "page.run_level"),
			short(ask("from").Among(d.LotOptions("", shop.Scrap, shop.Regrind)), "page.run_from"),
			short(ask("into").Among(d.LotOptions(d.Say.Line("page.run_new_lot"), shop.Regrind)), "page.run_into"),
			short(ask("charge_after_k"), "page.run_charge_after"), short(ask("energy_j"), "page.run_energy"), short(ask("stalled"), "page.run_stalled"),
		}},
	}}
}

// sheetLine words a line of the sheet before the first charge.
func sheetLine(d *desk.Desk, item shop.SheetItem) string {
	switch item {
	case shop.EarthItem:
		return d.Say.Line("page.sheet_earth")
	case shop.LidItem:
		return d.Say.Line("page.sheet_lid")
	case shop.ScreenItem:
		return d.Say.Line("page.sheet_screen")
	case shop.PlateItem:
		return d.Say.Line("page.sheet_plate")
	case shop.MagnetItem:
		return d.Say.Line("page.sheet_magnet")
	case shop.EarsItem:
		return d.Say.Line("page.sheet_ears")
	case shop.EyesItem:
		return d.Say.Line("page.sheet_eyes")
	}
	return d.Say.Line("page.sheet_dust")
}
