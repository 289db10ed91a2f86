package fit

// The one answer to "how to dry this": by the dryers the shop has.

import (
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/quantity"
	"hopperful/shop"
)

// DryWith is what one dryer would take.
type DryWith struct {
	Dryer       string // its name; empty: a kind nobody has described
	Way         shop.Way
	Possible    bool
	Temperature figure.Figure
	Time        figure.Figure   // in it; plan for the high end
	Blocked     *answer.Finding // why not
}

// Dry says how to dry a lot or a polymer: with the dryer asked for, else with the
// one of the shop's that does it soonest, else with each kind there is. A dryer
// that is too hot, too humid or too deeply filled is an answer with the reason and
// the remedy.
func Dry(s *shop.State, req DryRequest) (Drying, error) {
	dryers := dryersFor(s, req)
	var best *Drying
	var all []DryWith
	for _, with := range dryers {
		d, err := dryWith(s, req, with)
		if err != nil {
			return d, err
		}
		all = append(all, DryWith{Dryer: with.Name, Way: with.Way, Possible: d.Possible, Temperature: d.Temperature, Time: d.Time, Blocked: d.Blocked})
		if best == nil || d.Possible && (!best.Possible || d.Time.Value < best.Time.Value) {
			best = &d
		}
		if d.Barred || d.Possible && !d.Needed {
			break // no dryer changes that
		}
	}
	if best.Needed && len(dryers) > 1 {
		best.With = all
	}
	best.Assumed = dryers[0].Name == "" && req.Way == "" && best.Needed && !best.Barred
	best.Document = best.document()
	return *best, nil
}

// dryersFor are the dryers a request is answered for.
func dryersFor(s *shop.State, req DryRequest) []shop.Dryer {
	var all []shop.Dryer
	for _, d := range s.Dryers {
		if !d.Retired && (req.Way == "" || d.Way == req.Way) {
			all = append(all, d)
		}
	}
	switch {
	case len(all) == 0 && req.Way == "":
		for _, way := range ways {
			all = append(all, shop.Dryer{Way: way})
		}
	case req.Way != "":
		return append(all, shop.Dryer{Way: req.Way})[:1]
	}
	return all
}

// dryWith answers for one dryer; what the request says goes before what the dryer
// is described as.
func dryWith(s *shop.State, req DryRequest, with shop.Dryer) (Drying, error) {
	req.Way = with.Way
	for _, x := range []struct{ into, of **float64 }{{&req.Bed, &with.Bed}, {&req.Flow, &with.Flow}, {&req.DewPoint, &with.DewPoint}, {&req.Humidity, &with.Humidity}} {
		if *x.into == nil {
			*x.into = *x.of
		}
	}
	j, err := newDryJob(s, req)
	if err != nil {
		return Drying{}, err
	}
	j.with = with
	if bar := j.barred(); bar != nil {
		d, why := j.frame(), answer.Bars(bar)
		d.Blocked, d.By, d.Needed, d.Barred = &why, "bar", true, true
		return d, nil
	}
	if err := j.prepare(); err != nil {
		return Drying{}, err
	}
	d, err := j.plan()
	d.Dryer = with.Name
	return d, err
}

// document lays the plan out as an answer.
func (d Drying) document() answer.Document {
	doc := answer.Document{Cautions: d.cautions, Spoilers: d.doubts, Charts: d.charts}
	what, in := fact.Name("what", d.Polymer), d.in("in")
	if d.lot.ID != "" {
		what = answer.Lot("what", d.lot)
	}
	switch {
	case d.Barred:
		doc.Verdict, doc.Head = answer.No, answer.Found(fact.Say("dry.barred", what.As("what"), fact.Parts("why", d.Blocked.Saying)), d.Blocked.Remedies...)
		return doc
	case d.Possible && !d.Needed:
		doc.Head = answer.Found(fact.Say("dry.is_dry", what.As("what"), fact.Figure("water", d.Start), fact.Figure("limit", d.Limit)))
		doc.Steps = []answer.Action{{Do: fact.Say("dry.keep_closed")}}
	case d.Possible:
		time := d.plannedTime()
		doc.Head = answer.Found(fact.Say("dry.head", what.As("what"), in.As("in"), fact.Figure("at", d.Temperature), time.As("time")))
		doc.Steps = d.steps
	default:
		doc.Verdict = answer.No
		doc.Head = answer.Found(fact.Say("dry.not_so", what.As("what"), in.As("in"), fact.Figure("at", d.Temperature), fact.Parts("why", d.Blocked.Saying)), d.Blocked.Remedies...)
	}
	if d.Assumed {
		doc.Steps = append([]answer.Action{{Do: fact.Say("do.describe_dryer"), Why: fact.Say("dry.assumed", in.As("in"))}}, doc.Steps...)
	}
	acted := []figure.Figure{d.Time, d.Temperature, d.Depth, d.Open, d.Start}
	if !d.Possible || !d.Needed {
		acted = []figure.Figure{d.Temperature, d.Depth, d.Start}
	}
	doc.Figures = acted
	doc.Limits = []answer.Bound{{Figure: d.Rest, Binds: d.By == "air"}}
	if t := d.table(); len(t.Rows) > 0 {
		doc.Tables = []answer.Table{t}
	}
	behind := answer.Section{Key: "drying", Figures: append([]figure.Figure{d.Limit}, d.Figures...)}
	for _, w := range d.With {
		if w.Blocked != nil && w.Way != d.Way {
			behind.Notes = append(behind.Notes, fact.Say("dry.why_not", fact.Parts("in", In(w.Way)), fact.Parts("why", w.Blocked.Saying)))
		}
	}
	doc.Reasons = []answer.Section{behind}
	return doc
}

// plannedTime is the time to plan for.
func (d Drying) plannedTime() fact.Fact { return fact.About("time", quantity.Duration, d.Time.High) }

// keep says how long what was dried may lie about.
func keep(open figure.Figure) fact.Saying {
	switch {
	case open.Low >= month:
		return fact.Say("dry.stays_dry")
	case open.Value < 60:
		return fact.Say("dry.keep_closed_at_once")
	case open.Value < 600:
		return fact.Say("dry.keep_closed_from_then", fact.About("time", quantity.Duration, open.Value))
	}
	return fact.Say("dry.print_within", fact.About("time", quantity.Duration, max(open.Low, 60)))
}

// table is what each dryer or kind would take.
func (d Drying) table() answer.Table {
	t := answer.Table{Key: "dryers", Leads: true, Columns: []answer.Column{{Key: "dryer"}, {Key: "at", Numbers: true}, {Key: "time", Numbers: true}}}
	for _, w := range d.With {
		name, time := fact.Parts("", In(w.Way)), fact.Word("", "dry.not_at_all")
		if w.Dryer != "" {
			name = fact.Name("", w.Dryer)
		}
		if w.Possible {
			time = fact.About("", quantity.Duration, w.Time.High)
		}
		t.Rows = append(t.Rows, []fact.Fact{name, fact.Figure("", w.Temperature), time})
	}
	return t
}

// Instruction is the answer as one line for other rooms: what to set, for how
// long; empty where there is nothing to do. Where no dryer is described it says so.
func (d Drying) Instruction() fact.Saying {
	in, time, lot := d.in("in"), d.plannedTime(), fact.Lot("lot", string(d.lot.ID), d.lot.Name)
	switch {
	case !d.Needed && d.Possible:
		return fact.Saying{}
	case d.Possible && d.Assumed:
		return fact.Say("do.describe_dryer_for", in.As("in"), fact.Figure("at", d.Temperature), time.As("time"), fact.Figure("depth", d.Depth), lot.As("lot"))
	case d.Possible:
		return fact.Say("do.dry", in.As("in"), fact.Figure("at", d.Temperature), time.As("time"), fact.Figure("depth", d.Depth), lot.As("lot"))
	}
	remedy := fact.Parts("remedy", d.Blocked.Remedies...)
	return fact.Say("do.dry_otherwise", in.As("in"), fact.Parts("why", d.Blocked.Saying), remedy.As("remedy"), lot.As("lot"))
}

// in names the dryer in a sentence.
func (d Drying) in(name string) fact.Fact {
	if d.Dryer == "" {
		return fact.Parts(name, In(d.Way))
	}
	return fact.Parts(name, fact.Say("dry.in_named", fact.Parts("in", In(d.Way)), fact.Name("name", d.Dryer)))
}

// DryingOf is how the shop dries a kilogram of a plastic, as one line; empty where
// there is nothing to do, or it is barred.
func DryingOf(s *shop.State, plastic string, now time.Time) fact.Saying {
	if shop.BarOf(plastic) != nil {
		return fact.Saying{}
	}
	d, err := Dry(s, DryRequest{Polymer: plastic, Now: now})
	if err != nil {
		return fact.Saying{}
	}
	return d.Instruction()
}
