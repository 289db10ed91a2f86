package plan

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/fit"
	"hopperful/quantity"
)

// newGround is how far from practice a campaign counts as one that nobody has
// run.
const newGround = 0.25

// steps is the plan as things to do, in order.
func (j *job) steps(g *Grinding, t campaign) []answer.Action {
	var all []answer.Action
	do := func(s fact.Saying) { all = append(all, answer.Action{Do: s}) }
	takes := func(s fact.Saying, f *figure.Figure) { all = append(all, answer.Action{Do: s, Takes: f}) }
	for _, lot := range j.toPrepare(g) {
		do(fact.Say("plan.prepare_lot", answer.Lot("lot", lot.Lot), fact.Parts("how", lot.prepare)))
	}
	for _, take := range g.Take {
		if g.Trial != nil {
			do(take.weighOut())
			continue
		}
		do(fact.Say("plan.have_at_hand", take.lot(), take.mass()))
	}
	if g.Empty != nil {
		do(fact.Say("plan.empty_first", fact.Figure("lies", *g.Empty)))
	}
	switch below := g.Setting.Below; {
	case below != nil && j.bench.still.warm():
		takes(fact.Say("plan.still_warm_until", fact.Set("below", quantity.Temperature, below.Value)), g.Setting.Wait)
	case g.Setting.Wait != nil:
		takes(fact.Say("plan.still_warm"), g.Setting.Wait)
	}
	if t.d.Level > 0 {
		do(fact.Say("plan.set_level", fact.Count("level", t.d.Level)))
	}
	charge := fact.Set("charge", quantity.Mass, t.mass)
	takes(fact.Say("plan.fill", charge.As("charge")), &g.Setting.Run)
	if g.Trial != nil {
		return append(all, j.trialSteps(g)...)
	}
	if t.away > newGround || j.strange() {
		do(j.tryFirst(t))
	}
	if t.charges > 1 {
		takes(fact.Say("plan.stop_and_rest"), &g.Setting.Rest)
		if below := g.Setting.Below; below != nil {
			do(fact.Say("plan.start_when_cool", fact.Set("below", quantity.Temperature, below.Value)))
		}
		if over := j.bench.emptyAt(t); over < t.mass {
			do(fact.Say("plan.empty_when", fact.About("over", quantity.Mass, over)))
		}
		do(fact.Say("plan.weigh_jar", fact.Count("n", t.charges), fact.Figure("mass", g.Setting.StopAt)))
	}
	do(fact.Say("plan.empty_jar", fact.Count("n", max(int(g.Setting.JarEvery.Value), 1))))
	if probe := j.probe(t); !probe.Empty() {
		do(probe)
	}
	if after := g.Setting.Replan; len(after) > 0 {
		do(fact.Say("plan.record_each", fact.Count("n", len(after)), charges(after)))
	} else {
		do(fact.Say("plan.record_it"))
	}
	return all
}

// trialSteps follow the one charge of a trial.
func (j *job) trialSteps(g *Grinding) []answer.Action {
	all := []answer.Action{{Do: fact.Say("plan.stop_at_once")}}
	for _, read := range g.Trial.Read {
		all = append(all, answer.Action{Do: read})
	}
	return append(all, answer.Action{Do: fact.Say("plan.record_and_plan")})
}

// probe asks for the charge's temperature, and says what a cool one would gain; nothing
// where enough were read and it lengthens no rest.
func (j *job) probe(t campaign) fact.Saying {
	b := j.bench
	free := b.eased(func(b *bench) { b.bounds.margin = -200 })
	if sooner, ok := free.rested(campaign{cell: t.cell, k: t.k, charges: t.charges, pause: b.handling, away: t.away, turned: t.turned}); ok && t.charges > 1 && sooner.rest <= muchLess*t.rest {
		return fact.Say("plan.probe_gains", fact.About("below", quantity.Temperature, b.beliefs[estimate.Softening].Median-b.bounds.margin), fact.About("rest", quantity.Duration, sooner.rest))
	}
	if b.practice.read.charge < fewReadings {
		return fact.Say("plan.probe")
	}
	return fact.Saying{}
}

// muchLess is the share of a rest that is worth a reading.
const muchLess = 0.7

// tryFirst asks for one charge before the rest where nobody has run the mill so.
func (j *job) tryFirst(t campaign) fact.Saying {
	if j.strange() {
		return fact.Say("plan.try_strange", fact.Name("polymer", j.polymer.Name))
	}
	return fact.Say("plan.try_new", fact.Parts("how", j.near(t)...))
}

// charges lists charges by their numbers.
func charges(n []int) fact.Fact {
	texts := make([]string, len(n))
	for i, one := range n {
		texts[i] = strconv.Itoa(one)
	}
	return fact.Names("after", texts)
}

// spoilers lists what could spoil the plan, worst first.
func (j *job) spoilers(g *Grinding) []answer.Finding {
	var all []answer.Finding
	add := func(weight float64, what, remedy fact.Saying) {
		f := answer.Found(what, remedy)
		f.Weight = weight
		all = append(all, f)
	}
	for _, l := range g.Limits {
		if out := 1 - l.Holds(); l.Holds() < answer.SureShare {
			limit := fact.Parts("limit", fact.Saying{Code: l.Figure.Limit.Name, Facts: []fact.Fact{fact.Name("about", l.Figure.About)}})
			share := fact.About("share", quantity.Share, out)
			what := fact.Say("plan.limit_fails", share, limit)
			if g.Trial == nil && slices.Contains(l.Figure.Warnings, asWarmAsBefore) {
				what = fact.Say("plan.limit_fails_by_forecast", share, limit)
			}
			add(out, what, remedyFor(l.Key))
		}
	}
	if lots := j.toPrepare(g); len(lots) > 0 {
		add(0.5, fact.Say("plan.too_large", answer.Lot("lot", lots[0].Lot)), fact.Say("plan.before_grinding", fact.Parts("how", lots[0].prepare)))
	}
	if j.bench.mill.RatedPower == nil && (j.bench.mill.Controller == nil || len(j.bench.mill.Controller.Watts) == 0) {
		add(0.4, fact.Say("plan.draw_unknown"), fact.Say("plan.read_meter"))
	}
	if j.bench.mill.ContinuousPower == nil {
		add(0.15, fact.Say("plan.rating_unknown"), fact.Say("plan.look_at_plate"))
	}
	if c, ok := j.known.fitted.Change(); ok {
		add(c.Probability, pace(c, j.known.log.times[c.Since]), fact.Say("learn.write_change"))
	}
	if wide := g.Product; wide.Low < 0.8*wide.Value {
		add(0.2, fact.Say("plan.uncertain", fact.Figure("product", wide)), fact.Say("plan.weigh_first"))
	}
	slices.SortStableFunc(all, func(a, b answer.Finding) int { return cmp.Compare(b.Weight, a.Weight) })
	return all[:min(len(all), answer.MostSpoilers)]
}

// doubted are the lots that count as ready by a mass that rests on a record asked about: a product
// written down ten times too large would leave a print without granulate.
func (j *job) doubted(g *Grinding) []answer.Finding {
	var all []answer.Finding
	for _, take := range g.OnHand {
		lot := j.state.Lots.At(take.Lot)
		if asked := j.state.Overstated(lot); asked != 0 {
			f := answer.Found(fact.Say("plan.ready_asked", answer.Lot("lot", lot), fact.Set("mass", quantity.Mass, take.Mass.Value)),
				fact.Say("do.answer_question", fact.Name("record", strconv.FormatInt(int64(asked), 10))))
			f.Weight = 1
			all = append(all, f)
		}
	}
	return all
}

// remedyFor says what helps when a limit is likely to fail.
func remedyFor(key string) fact.Saying {
	switch key {
	case "charge_temperature":
		return fact.Say("plan.look_into_charge")
	case "wall_temperature":
		return fact.Say("plan.feel_the_pot")
	case "fill":
		return fact.Say("plan.do_not_press")
	case "jar":
		return fact.Say("plan.look_at_jar")
	case "stall":
		return fact.Say("plan.start_empty")
	case "noise":
		return fact.Say("plan.protect_ears")
	}
	return fact.Say("plan.watch_plug")
}

// next says what still stands between the granulate and the print.
func (j *job) next() []fact.Saying {
	all := []fact.Saying{fact.Say("plan.run_a_magnet")}
	if dry := j.drying(); !dry.Empty() {
		all = append(all, dry)
	}
	return append(all, fact.Say("plan.check_a_handful"))
}

// drying is how what this mill makes of the polymer is dried, as it is answered
// everywhere.
func (j *job) drying() fact.Saying {
	mass := math.Max(j.want.figure.High, 1e-3)
	d, err := fit.Dry(j.state, fit.DryRequest{Polymer: j.polymer.Name, Hole: j.mill.Screen.Hole, Mass: &mass, Now: j.req.Now})
	if err != nil {
		return fact.Saying{}
	}
	return d.Instruction()
}

// nothingToGrind is the answer when what is on hand is enough.
func (j *job) nothingToGrind(g Grinding) (Grinding, error) {
	g.Possible = true
	g.Says = fact.Say("plan.nothing_to_grind", fact.Set("on_hand", quantity.Mass, j.want.onHand), fact.Name("polymer", j.polymer.Name), fact.About("enough", quantity.Mass, g.Need.High))
	j.still(&g)
	for _, take := range g.OnHand {
		g.Steps = append(g.Steps, answer.Action{Do: take.weighOut()})
	}
	if rgb := j.req.Need.RGB; rgb != "" {
		g.Spoilers = append(g.Spoilers, answer.Found(fact.Say("plan.no_mixing", fact.Name("rgb", rgb)), fact.Say("do.find_recipe", fact.Name("need", j.req.Need.Name))))
	}
	g.Next = j.next()
	return g, nil
}

// still fills every figure of a plan in which nothing runs.
func (j *job) still(g *Grinding) {
	zero := func(key, name string, kind quantity.Kind) figure.Figure {
		return figure.Exact(key, name, kind, 0, figure.Reckoned)
	}
	g.Product = zero("product", nameProduct, quantity.Mass)
	g.Balance = Balance{In: zero("in", nameIn, quantity.Mass), Product: g.Product,
		Left: zero("left", nameLeft, quantity.Mass), Lost: zero("lost", nameLost, quantity.Mass)}
	g.Setting = Setting{
		Charge: zero("charge", "plan.charge", quantity.Mass), Charges: zero("charges", "plan.charges", quantity.Count),
		Power: zero("power", "mill.power", quantity.Power), Run: zero("run", "plan.run", quantity.Duration),
		Rest: zero("rest", "plan.rest", quantity.Duration), JarEvery: zero("jar_every", "plan.jar_every", quantity.Count),
		Total:  zero("total", "plan.total", quantity.Duration),
		StopAt: zero("stop_at", "plan.stop_at", quantity.Mass), Replan: []int{}, Finish: j.req.Now,
	}
}

// noScrap is the answer when there is nothing that could be ground.
func (j *job) noScrap(g Grinding) (Grinding, error) {
	missing := fact.About("missing", quantity.Mass, answer.Quantile(j.want.make, 0.5))
	g.Says = fact.Say("plan.no_scrap", missing.As("missing"), fact.Name("polymer", j.polymer.Name), fact.Name("colour", j.req.Colour))
	g.Blocked = &answer.Block{Limit: fact.Say("plan.way_need"), Why: g.Says, Nearest: fact.Say("plan.take_in_scrap", missing.As("missing"))}
	j.still(&g)
	return g, nil
}

// impossible is the answer when no campaign keeps every limit. Where scrap or
// time stand in the way, the nearest plan is reported as far as it goes; where
// the mill does, one charge.
func (j *job) impossible(g Grinding, cells []*cell) (Grinding, error) {
	b := j.bench
	r, t := b.obstacle(cells)
	if t == nil {
		return j.blockedByMill(g, "product")
	}
	if r.nearest == nil {
		return j.blockedByMill(g, r.limit)
	}
	near, err := j.nearest(g, r, *t)
	if err != nil {
		return g, err
	}
	near.Possible = false
	near.Says = fact.Say("plan.not_possible", inTheWay(r.limit))
	near.Blocked = &answer.Block{Limit: r.name(), Why: near.Says, Nearest: r.nearest(b, *t)}
	near.Steps, near.Next = nil, nil
	return near, nil
}

// hopeless is the answer when even dropping any one limit does not help.
func (j *job) hopeless(g Grinding, r release) (Grinding, error) {
	g.Says = fact.Say("plan.hopeless")
	g.Blocked = &answer.Block{Limit: r.name(), Why: g.Says, Nearest: fact.Say("plan.take_less")}
	j.still(&g)
	return g, nil
}

// nearest reports the campaign that would be possible with a limit dropped.
func (j *job) nearest(g Grinding, r release, t campaign) (Grinding, error) {
	free := *j
	free.bench = j.bench.eased(r.by)
	full, ok, err := free.bench.settle(t)
	if err != nil {
		return g, err
	}
	if !ok {
		return free.hopeless(g, r)
	}
	free.bench.available = math.Max(j.bench.available, math.Min(free.bench.available, float64(full.charges)*full.mass))
	return free.report(g, full, nil)
}
