package fit

import (
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/upkeep"
	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
)

// answer asks every question and sums up.
func (j *job) answer() (Fitness, error) {
	var f Fitness
	for _, ask := range []func() (Item, error){
		j.enough, j.onePolymer, j.metalOut, j.sizes, j.isDry, j.runsOut, j.takesItIn, j.melts, j.bearable, j.staysOpen, j.holdsStill,
	} {
		x, err := ask()
		if err != nil {
			return f, err
		}
		f.Items = append(f.Items, x)
	}
	j.afterSieving(f.Items)
	w := worst(f.Items)
	f.Verdict, f.Decides, f.Chance = w.Verdict, w.Key, j.allWell(f.Items)
	var err error
	if f.Settings, err = j.settings(); err != nil {
		return f, err
	}
	f.Document, err = j.document(f, w)
	return f, err
}

// mostSettings are the settings to enter before it starts: temperature, speed and
// flow factor; the others are for later.
const mostSettings = 3

// document lays the check out as an answer.
func (j *job) document(f Fitness, w Item) (answer.Document, error) {
	d := answer.Document{Head: j.sum(w), Verdict: f.Verdict, Cautions: j.cautions(), Tables: f.tables()}
	bad := f.byWorth()
	j.steps(&d, bad)
	j.spoilers(&d, bad)
	d.Figures = f.Settings[:mostSettings]
	said, changes := answer.Section{Key: "questions"}, answer.Section{Key: "changes"}
	for _, x := range f.Items {
		d.Limits = append(d.Limits, answer.Bound{Figure: *x.Figure, Binds: x.Key == f.Decides && f.Verdict != answer.Yes})
		said.Notes = append(said.Notes, fact.Say("fit.judged", fact.Parts("question", x.Question), x.Verdict.Fact("verdict"), fact.Parts("says", x.Says)))
		if c := x.Change; c != nil {
			changes.Notes = append(changes.Notes, fact.Say("fit.change", fact.Parts("question", x.Question), fact.Parts("do", c.Do), c.takes("takes"), c.after("after")))
		}
	}
	settings := answer.Section{Key: "settings", Notes: j.advice(), Figures: f.Settings[mostSettings:]}
	behind := answer.Section{Key: "behind", Figures: append([]figure.Figure{f.Chance}, j.background()...),
		Notes: []fact.Saying{fact.Say("fit.drawn", fact.Count("n", j.req.Draws), fact.Count("seed", int(j.req.Seed)))}}
	d.Reasons = []answer.Section{said, changes, settings, behind}
	var err error
	d.Charts, err = j.charts()
	return d, err
}

// refused is the answer for what must not be melted.
func (j *job) refused(bar *shop.Bar, mixed answer.Finding) Fitness {
	f := Fitness{Verdict: answer.No, Decides: "polymer", Refused: bar, Mixed: bar == nil, Chance: figure.Exact("all_well", "fit.all_well", quantity.Share, 0, figure.Reckoned)}
	why := mixed
	if bar != nil {
		why = answer.Bars(bar)
	}
	f.Document = answer.Document{Verdict: answer.No,
		Head:  answer.Found(fact.Say("fit.must_not_melt", answer.Lot("lot", j.lot), fact.Parts("why", why.Saying))),
		Steps: []answer.Action{{Do: fact.Say("do.set_aside", answer.Lot("lot", j.lot))}}, Cautions: []answer.Finding{answer.Found(why.Remedies[0])}}
	return f
}

// allWell is the chance that everything goes well at once: the share of the draws in which
// it does, joined with the prints of the lot, each of which tried all of it but whether there
// is enough and whether it is the right plastic.
func (j *job) allWell(items []Item) figure.Figure {
	all := 0.0
	have, need, most := j.lot.Mass, *j.req.Strength, j.limit(shop.MostMetal)
	there := func(r run) bool { return r.want <= have && r.rightOne }
	well := func(r run) bool {
		return r.metal <= most && r.d95 <= r.feed && r.fines <= r.borne && r.water <= r.dryLimit &&
			r.bridge.Runs() && r.takesIn >= r.peak && r.melts >= r.mean && r.warm && r.pressure <= r.bears && r.pumps >= r.mean &&
			r.opens && r.strength >= need
	}
	wrong := slices.ContainsFunc(items, func(x Item) bool { return x.Key == "polymer" && x.Verdict == answer.No })
	switch {
	case wrong:
	case j.facts.ranSince+j.facts.failedSince == 0:
		all = share(j.runs, func(r run) bool { return there(r) && well(r) })
	default:
		all = share(j.runs, there) * j.facts.whole(share(j.runs, well))
	}
	return figure.Exact("all_well", "fit.all_well", quantity.Share, all, figure.Reckoned).From("how.all_well")
}

// sum is the whole: no better than its worst item.
func (j *job) sum(w Item) answer.Finding {
	lot, print := answer.Lot("lot", j.lot), fact.Word("print", "fit.this_print")
	if name := j.req.Need.Name; name != "" {
		print = fact.Name("print", name)
	}
	weakest := fact.Say("fit.weakest", fact.Parts("question", w.Question), fact.Parts("says", w.Says))
	switch w.Verdict {
	case answer.Yes:
		return answer.Found(fact.Say("fit.is_fit", lot.As("lot"), print.As("print")))
	case answer.Likely:
		return answer.Found(fact.Say("fit.is_likely", lot.As("lot"), print.As("print")), weakest)
	case answer.Open:
		return answer.Found(fact.Say("fit.is_open", lot.As("lot"), print.As("print")), weakest)
	case answer.Unknown:
		return answer.Found(fact.Say("fit.is_unknown", lot.As("lot"), print.As("print")), weakest)
	case answer.Unlikely:
		return answer.Found(fact.Say("fit.is_unlikely", lot.As("lot"), print.As("print")), weakest)
	}
	return answer.Found(fact.Say("fit.is_not", lot.As("lot"), print.As("print")), weakest)
}

// byWorth are the items that are not yes, the worst first.
func (f Fitness) byWorth() []Item {
	bad := slices.DeleteFunc(slices.Clone(f.Items), func(x Item) bool { return x.Change == nil })
	slices.SortStableFunc(bad, worse)
	return bad
}

// steps are what would change the worst answers, what is only assumed of the
// printer first; where the plastic is the wrong one, only to take another lot.
func (j *job) steps(d *answer.Document, bad []Item) {
	if len(bad) > 0 && bad[0].wrong() {
		bad = bad[:1] // what else could be done to this lot is in vain
	} else if j.printer.Name == "" {
		b := &j.beliefs
		d.Steps = append(d.Steps, answer.Action{Do: fact.Say("do.describe_printer"), Why: fact.Say("fit.printer_assumed",
			fact.Set("nozzle", quantity.Length, b[fNozzle].Median), fact.Set("barrel", quantity.Length, b[fScrew].Median),
			fact.Set("exit", quantity.Length, b[fExit].Median), fact.Set("heaters", quantity.Power, b[fHeaters].Median))})
	}
	done := map[string]bool{}
	for _, x := range bad {
		undescribed := j.printer.Name == "" && x.Change.Do.Code == "do.describe_hopper"
		if done[x.Change.Do.Code] || undescribed || len(done) == answer.MostSpoilers {
			continue // one sieving answers two questions
		}
		done[x.Change.Do.Code] = true
		a := answer.Action{Do: x.Change.Do, Why: fact.Say("fit.because", fact.Parts("question", x.Question), x.Verdict.Fact("verdict"))}
		if _, told := x.Change.Do.Fact("time"); x.Change.Time > 0 && !told {
			takes := figure.Exact("takes_"+x.Key, "fit.takes", quantity.Duration, x.Change.Time, figure.Assumed)
			a.Takes = &takes
		}
		d.Steps = append(d.Steps, a)
	}
	if len(bad) == 0 {
		d.Steps = append(d.Steps, answer.Action{Do: fact.Say("do.record_print", answer.Lot("lot", j.lot), fact.Name("need", j.req.Need.Name))})
	}
}

// spoilers are entries that cannot be true, a print that failed, and why the
// next worst answer is no better than it is; the head tells the worst.
func (j *job) spoilers(d *answer.Document, bad []Item) {
	var all []answer.Finding
	for _, x := range upkeep.SuspectOf(j.state, j.lot.ID) {
		f := answer.Found(fact.Say("fit.marked", fact.Name("mill", x.Mill), upkeep.PartWord(x.Part), fact.Count("record", int(x.Found))), upkeep.Check(x, j.lot))
		f.Weight = 1
		all = append(all, f)
	}
	all = append(all, j.doubts...)
	if len(j.facts.failed) > 0 {
		all = append(all, answer.Found(fact.Say("fit.failed_before", fact.Name("why", j.facts.failed[0])), fact.Say("fit.cause_gone")))
	}
	if len(bad) > 1 && len(all) == 0 {
		x := bad[1]
		all = append(all, answer.Finding{Saying: x.Says, Weight: 1 - x.Chance, Lots: []shop.LotID{j.lot.ID}})
	}
	d.Spoilers = all[:min(len(all), answer.MostSpoilers)]
}

// mostRows are how many questions lead; all of them wait behind.
const mostRows = 5

// tables are the worst questions that are not yet answered with yes, and all.
func (f Fitness) tables() []answer.Table {
	bad := f.byWorth()
	bad = bad[:min(len(bad), mostRows)]
	lead := f.table("fit", func(x Item) bool { return slices.ContainsFunc(bad, func(b Item) bool { return b.Key == x.Key }) })
	lead.Leads = true
	lead.Notes = []fact.Saying{fact.Say("fit.all_at_once", fact.Figure("chance", f.Chance), fact.Count("yes", len(f.Items)-len(f.byWorth())), fact.Count("n", len(f.Items)))}
	all := f.table("fit_all", func(Item) bool { return true })
	if len(bad) == 0 {
		return []answer.Table{all}
	}
	return []answer.Table{lead, all}
}

// table has the questions that are wanted with answer, figure and bound, in the
// order the material travels.
func (f Fitness) table(key string, wanted func(Item) bool) answer.Table {
	t := answer.Table{Key: key, Columns: []answer.Column{{Key: "question"}, {Key: "verdict"}, {Key: "figure", Numbers: true}, {Key: "bound", Numbers: true}}}
	for _, x := range f.Items {
		if !wanted(x) {
			continue
		}
		limit := x.Figure.Limit
		bound := fact.Say("limit.at_most", fact.About("value", x.Figure.Kind, limit.Value))
		if limit.Side == figure.Over {
			bound = fact.Say("limit.at_least", fact.About("value", x.Figure.Kind, limit.Value))
		}
		t.Rows = append(t.Rows, []fact.Fact{fact.Parts("", x.Question), x.Verdict.Fact(""), fact.Figure("", *x.Figure), fact.Parts("", bound)})
	}
	return t
}

// takes is how long a remedy takes, nothing where nobody can say.
func (r *Remedy) takes(name string) fact.Fact {
	if r.Time <= 0 {
		return fact.Parts(name)
	}
	return fact.About(name, quantity.Duration, r.Time)
}

// after is the chance of the item afterwards, nothing where it cannot be forecast.
func (r *Remedy) after(name string) fact.Fact {
	if r.Chance == nil {
		return fact.Parts(name)
	}
	return fact.About(name, quantity.Share, *r.Chance)
}

// background are the figures behind the check that no item shows.
func (j *job) background() []figure.Figure {
	var all []figure.Figure
	for _, p := range []param{fBulk, fFines, fSolid, fDryLimit, fWear, fPerTurn, fMostSpeed, fMostPressure, fHeaters, fRunny, fFlow, fPeak} {
		if p == fPerTurn && !j.measuredTurn() {
			continue
		}
		all = append(all, beliefFigure(j.beliefs[p]))
	}
	return all
}

// cautions gathers what a person should hear before the nozzle is hot.
func (j *job) cautions() []answer.Finding {
	all := append([]answer.Finding{answer.Found(fact.Say("fit.hot_parts"))}, answer.NotCleared(j.lot)...)
	return append(append(all, answer.Found(fact.Say("fit.never_alone"))), j.materialCautions()...)
}

// materialCautions are the polymer's own about heat.
func (j *job) materialCautions() []answer.Finding {
	var all []answer.Finding
	for _, c := range j.polymer.Cautions() {
		if c.Kind == polymer.Fumes || c.Kind == polymer.Drying {
			all = append(all, answer.Found(c.Says()))
		}
	}
	return all
}
