package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/fit"
	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
)

// newGround is how far from practice a campaign counts as one that nobody has
// run.
const newGround = 0.25

// steps is the plan as things to do, in order.
func (j *job) steps(g *Grinding, t campaign) []answer.Step {
	var all []answer.Step
	do := func(time float64, format string, args ...any) {
		s := answer.Step{Do: fmt.Sprintf(format, args...)}
		if time > 0 {
			s.Time = quantity.Duration.Plain(time)
		}
		all = append(all, s)
	}
	for _, lot := range j.toPrepare(g) {
		do(0, "Lot %s: %s.", lot.ID, lot.prepare)
	}
	for _, take := range g.Take {
		if g.Trial != nil {
			do(0, "Weigh out %s of lot %s%s.", quantity.Mass.Plain(take.Mass.Value), take.Lot, answer.Named(take.Name))
			continue
		}
		do(0, "Have %s of lot %s%s at hand, charge by charge.", quantity.Mass.Plain(take.Mass.Value), take.Lot, answer.Named(take.Name))
	}
	if lies := g.Empty; lies != nil {
		do(0, "Empty the mill first: %s may lie in it from earlier charges, more than goes well under this one. Weigh it, and record the next charge with the mill emptied and that mass swept up.", lies.ShownRange())
	}
	if wait := g.Setting.Wait; wait != nil {
		do(wait.Value, "The mill is still warm: let it rest first, lid open, plug pulled.")
	}
	if t.d.Level > 0 {
		do(0, "Set the controller to level %d.", t.d.Level)
	}
	do(t.run(), "Fill %s, close the lid, grind.", quantity.Mass.Plain(t.mass))
	if g.Trial != nil {
		return append(all, j.trialSteps(g)...)
	}
	if t.away > newGround || j.strange() {
		do(0, "%s", j.tryFirst(t))
	}
	if t.charges > 1 {
		do(t.rest, "Stop, pull the plug, open the lid and let the mill rest; weigh and fill the next charge meanwhile.")
		if below := g.Setting.Below; below != nil {
			do(0, "Start the next charge only when the wall is at most %s: sooner or later than by the clock.", quantity.Temperature.Plain(below.Value))
		}
		if over := j.bench.emptyAt(t); over < t.mass {
			do(0, "When %s more have gone in than have come out, empty the mill before the next charge.", quantity.Mass.Rough(over))
		}
		do(0, "Weigh what is in the jar after each charge; stop at %s, after %s at the most.", quantity.Mass.Plain(g.Setting.StopAt.Value), charges(t.charges))
	}
	every := int(g.Setting.JarEvery.Value)
	if every > 1 {
		do(0, "Empty the jar after every %s.", charges(every))
	} else {
		do(0, "Empty the jar after every charge.")
	}
	if j.bench.practice.read.charge < fewReadings {
		do(0, "Once or twice, hold a probe into the heap that stayed in the mill right after the stop, and record the charge's temperature: it decides how long to rest.")
	}
	if after := g.Setting.Replan; len(after) > 0 {
		do(0, "Record each charge: mass in, mass out, what stays, run time, temperatures. Plan again after %s: it learns most from the first.", chargesAfter(after))
	} else {
		do(0, "Record the charge: mass in, mass out, what stays, run time, temperatures. The next plan learns from it.")
	}
	return all
}

// trialSteps follow the one charge of a trial.
func (j *job) trialSteps(g *Grinding) []answer.Step {
	all := []answer.Step{{Do: "Stop at once when the rotor slows or grains stick together."}}
	for _, read := range g.Trial.Read {
		all = append(all, answer.Step{Do: answer.Sentence(read)})
	}
	return append(all, answer.Step{Do: "Record the charge and plan again."})
}

// tryFirst asks for one charge before the rest where nobody has run the mill so.
func (j *job) tryFirst(t campaign) string {
	if j.strange() {
		return fmt.Sprintf("Nobody has ground %s in this mill; try one charge first, record it and plan again.", j.polymer.Name)
	}
	if how := j.near(t); how != "" {
		return fmt.Sprintf("Nobody has run this mill so (%s); try one charge first, record it and plan again.", how)
	}
	return "Nobody has run this mill so; try one charge first, record it and plan again."
}

// chargesAfter is "charge 1", "charges 1, 2 and 3".
func chargesAfter(n []int) string {
	if len(n) == 1 {
		return fmt.Sprintf("charge %d", n[0])
	}
	var b strings.Builder
	for i, one := range n {
		switch {
		case i == len(n)-1:
			b.WriteString(" and ")
		case i > 0:
			b.WriteString(", ")
		}
		fmt.Fprint(&b, one)
	}
	return "charges " + b.String()
}

// spoilers lists what could spoil the plan, worst first.
func (j *job) spoilers(g *Grinding) []answer.Spoiler {
	type worry struct {
		answer.Spoiler
		weight float64 // the higher the worse
	}
	var all []worry
	add := func(weight float64, what, remedy string) {
		all = append(all, worry{answer.Spoiler{What: what, Remedy: remedy}, weight})
	}
	for _, l := range g.Limits {
		if l.Holds < answer.SureShare {
			add(1-l.Holds, fmt.Sprintf("In %s of cases this limit would not hold: %s.", quantity.Share.Rough(1-l.Holds), l.Name), remedyFor(l.Key))
		}
	}
	if lots := j.toPrepare(g); len(lots) > 0 {
		add(0.5, fmt.Sprintf("Pieces of lot %s are too large as they are.", lots[0].ID), fmt.Sprintf("Before grinding, %s.", lots[0].prepare))
	}
	if j.bench.mill.RatedPower == nil && (j.bench.mill.Controller == nil || len(j.bench.mill.Controller.Watts) == 0) {
		add(0.4, "Nobody knows what this mill draws, so times and temperatures are wide guesses.", "Read a plug-in meter at two or three levels and enter the watts.")
	}
	if j.bench.mill.ContinuousPower == nil {
		add(0.15, "The motor's continuous rating is not known, so its load is not checked.", "Look for it on the motor's own plate; the figure on the front is often the start-up draw.")
	}
	if c, ok := j.known.fitted.Change(); ok {
		way, by := "slower", 1-c.Factor
		if c.Factor > 1 {
			way, by = "faster", c.Factor-1
		}
		add(c.Probability, fmt.Sprintf("Since record %d it may grind about %s %s than before (chance %s); the plan reckons with it from %s on.",
			c.Since, quantity.Share.Rough(by), way, quantity.Share.Rough(c.Probability), quantity.Share.Rough(estimate.ChangeTaken)),
			"Look at blade, screen and scrap; if something was changed, write it down as service.")
	}
	if wide := g.Product; wide.Low < 0.8*wide.Value {
		add(0.2, fmt.Sprintf("What comes out is uncertain: %s.", wide.ShownRange()), "Weigh the first charge's product; grind more only if it falls short.")
	}
	slices.SortStableFunc(all, func(a, b worry) int { return cmp.Compare(b.weight, a.weight) })
	out := []answer.Spoiler{}
	for _, w := range all[:min(len(all), answer.MostSpoilers)] {
		out = append(out, w.Spoiler)
	}
	return out
}

// remedyFor says what helps when a limit is likely to fail.
func remedyFor(key string) string {
	switch key {
	case "charge_temperature":
		return "Look into the first charge: if grains stick together, use a lower level or a shorter run."
	case "wall_temperature":
		return "Feel the pot before each charge and rest longer when it is hot."
	case "fill":
		return "Do not press the charge down; leave some out if it stands higher than a third of the chamber."
	case "jar":
		return "Look at the jar halfway through a run."
	case "stall":
		return "Start empty and feed the charge in; stop at once when the rotor slows."
	case "noise":
		return "Wear hearing protection and measure the level at the ear once."
	}
	return "Watch plug and controller for heat, and stop at any smell."
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

// materialCautions are the polymer's own cautions for grinding.
func (j *job) materialCautions() []string {
	var all []string
	for _, c := range j.polymer.Cautions() {
		if c.Kind == polymer.Grinding || c.Kind == polymer.Fumes {
			all = append(all, c.Code)
		}
	}
	lots := make([]*shop.Lot, len(j.lots.grind))
	for i, lot := range j.lots.grind {
		lots[i] = lot.Lot
	}
	for _, c := range answer.Uncleared(lots...) {
		all = append(all, c.Text)
	}
	return all
}

// nothingToGrind is the answer when what is on hand is enough.
func (j *job) nothingToGrind(g Grinding) (Grinding, error) {
	g.Possible = true
	g.Answer = fmt.Sprintf("Nothing to grind: %s of %s is ready, and %s is enough in nine of ten cases.",
		quantity.Mass.Plain(j.want.onHand), j.polymer.Name, quantity.Mass.Rough(g.Need.High))
	zero := func(key, name string, kind quantity.Kind) figure.Figure {
		return figure.Exact(key, name, kind, 0, figure.Reckoned)
	}
	g.still(zero)
	g.Setting.Finish = j.req.Now
	for _, take := range g.OnHand {
		g.Steps = append(g.Steps, answer.Step{Do: fmt.Sprintf("Weigh out %s of lot %s%s.", quantity.Mass.Rough(take.Mass.Value), take.Lot, answer.Named(take.Name))})
	}
	if rgb := j.req.Need.RGB; rgb != "" {
		g.Spoilers = append(g.Spoilers, answer.Spoiler{What: fmt.Sprintf("It shall look like %s, and a plan does not mix colours.", rgb),
			Remedy: "Look for a recipe: it says how much of which lot gives the colour."})
	}
	g.Next = j.next()
	g.tidy()
	return g, nil
}

// still fills every figure of a plan in which nothing runs.
func (g *Grinding) still(zero func(key, name string, kind quantity.Kind) figure.Figure) {
	g.Product = zero("product", nameProduct, quantity.Mass)
	g.Balance = Balance{In: zero("in", nameIn, quantity.Mass), Product: g.Product,
		Left: zero("left", nameLeft, quantity.Mass), Lost: zero("lost", nameLost, quantity.Mass)}
	g.Setting = Setting{
		Charge: zero("charge", "a charge", quantity.Mass), Charges: zero("charges", "charges", quantity.Count),
		Power: zero("power", "draw under load", quantity.Power), Run: zero("run", "grind each charge for", quantity.Duration),
		Rest: zero("rest", "from a stop to the next start", quantity.Duration), JarEvery: zero("jar_every", "empty the jar after", quantity.Count),
		Total:  zero("total", "from first start to last stop", quantity.Duration),
		StopAt: zero("stop_at", "stop when the jar holds", quantity.Mass), Replan: []int{},
	}
}

// noScrap is the answer when there is nothing that could be ground.
func (j *job) noScrap(g Grinding) (Grinding, error) {
	missing := answer.Quantile(j.want.make, 0.5)
	g.Answer = fmt.Sprintf("Nothing here can be ground for this need: about %s of %s is missing.", quantity.Mass.Rough(missing), j.polymer.Name)
	g.Blocked = &answer.Block{Limit: "scrap on hand", Why: "No lot of scrap is of this polymer" + colourWords(j.req.Colour) + " and ready to be ground.",
		Nearest: fmt.Sprintf("Take in about %s of such scrap, prepare one of the lots set aside, or buy granulate.", quantity.Mass.Rough(missing))}
	g.still(func(key, name string, kind quantity.Kind) figure.Figure {
		return figure.Exact(key, name, kind, 0, figure.Reckoned)
	})
	g.Setting.Finish = j.req.Now
	g.tidy()
	return g, nil
}

func colourWords(colour string) string {
	if colour == "" {
		return ""
	}
	return " and " + colour
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
	if r.limit != "need" && r.limit != "time" {
		return j.blockedByMill(g, r.limit)
	}
	near, err := j.nearest(g, r, *t)
	if err != nil {
		return g, err
	}
	near.Possible = false
	near.Blocked = &answer.Block{Limit: r.name, Why: fmt.Sprintf("No plan keeps every limit in nine of ten cases; without this one there would be one: %s.", r.name),
		Nearest: r.nearest(b, *t)}
	near.Answer = fmt.Sprintf("Not possible as asked: the %s stands in the way. %s", r.name, near.Blocked.Nearest)
	near.Steps, near.Next = []answer.Step{}, nil
	return near, nil
}

// hopeless is the answer when even dropping any one limit does not help.
func (j *job) hopeless(g Grinding, r release) (Grinding, error) {
	g.Blocked = &answer.Block{Limit: r.name, Why: "No plan keeps every limit, and dropping any single one does not help.",
		Nearest: "Take a smaller need, prepare the scrap smaller and thinner, or describe the mill more closely: what is not known is taken widely."}
	g.Answer = "Not possible as asked: " + g.Blocked.Why
	g.still(func(key, name string, kind quantity.Kind) figure.Figure {
		return figure.Exact(key, name, kind, 0, figure.Reckoned)
	})
	g.Setting.Finish = j.req.Now
	g.tidy()
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
