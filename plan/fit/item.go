package fit

import (
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/plausibility"
	"hopperful/quantity"
	"hopperful/shop"
)

// beliefFigure turns what is believed of a parameter into an explained number.
func beliefFigure(one estimate.Belief) figure.Figure {
	f := figure.Figure{Key: one.Key, Name: one.Name, Kind: one.Kind, Value: one.Median, Low: one.Low, High: one.High, Basis: figure.Books, Records: one.Records}
	switch {
	case one.Runs > 0:
		f.Basis, f.Runs = figure.Learned, one.Runs
	case one.FromUser:
		f.Basis = figure.Entered
	case len(one.Records) > 0:
		f.Basis = figure.Measured
	case one.Assumed:
		f.Basis = figure.Assumed
	}
	if one.Source.Key != "" {
		f = f.Cite(one.Source.Key, one.Source.Place)
	}
	return f
}

// in lists parameters as the inputs of a figure.
func (j *job) in(params ...param) []figure.Figure {
	all := make([]figure.Figure, len(params))
	for i, p := range params {
		all[i] = beliefFigure(j.beliefs[p])
	}
	return all
}

// question is what an item is made of.
type question struct {
	key   string
	ask   fact.Saying
	ok    func(run) bool
	known bool
	f     figure.Figure
	limit figure.Limit
	says  fact.Saying
}

// item answers a question by the share of the draws in which it goes well.
func (j *job) item(q question) Item {
	chance := share(j.runs, q.ok)
	return j.answered(q, chance)
}

func (j *job) answered(q question, chance float64) Item {
	chance, q.known = j.weighed(q, chance)
	q.limit.Holds = chance
	f := q.f.Held(q.limit)
	return Item{Key: q.key, Question: q.ask, Chance: chance, Known: q.known, Verdict: answer.Judge(chance, q.known), Figure: &f, Says: q.says}
}

// over makes a figure of one number of every run.
func (j *job) over(key, name string, kind quantity.Kind, each func(run) float64) (figure.Figure, error) {
	return figure.FromDraws(key, name, kind, j.collect(each))
}

func (j *job) enough() (Item, error) {
	f := j.want.Figure
	have := j.lot.Mass
	x := j.item(question{"enough", fact.Say("fit.enough"), func(r run) bool { return r.want <= have }, true, f,
		figure.Limit{Name: "limit.on_hand", Value: have, Side: figure.Below},
		fact.Say("fit.says_enough", fact.Set("have", quantity.Mass, have), fact.Figure("want", f))})
	if x.Verdict != answer.Yes {
		missing := answer.Quantile(j.collect(func(r run) float64 { return r.want - have }), 0.9)
		x.Change = treat(0, nil, j.more(missing))
	}
	return x, nil
}

// more is what to do where so much is missing.
func (j *job) more(missing float64) fact.Saying {
	return fact.Say("do.grind_more", fact.Name("need", j.req.Need.Name), fact.About("missing", quantity.Mass, math.Max(missing, 1e-3)))
}

func (j *job) onePolymer() (Item, error) {
	sure := beliefFigure(j.beliefs[fSure])
	q := question{"polymer", fact.Say("fit.polymer"), nil, j.lot.Sure != nil, sure,
		figure.Limit{Name: j.called(shop.LeastSure), Value: j.limit(shop.LeastSure), Side: figure.Over},
		fact.Say("fit.says_sure", fact.Set("sure", quantity.Share, sure.Value), fact.Name("polymer", j.polymer.Name))}
	if j.lot.Sure == nil {
		q.says = fact.Say("fit.says_not_sure", fact.Name("polymer", j.polymer.Name))
	}
	x := j.answered(q, sure.Value)
	if j.lot.Sure == nil { // an answer nobody gave, however likely the books make it
		x.Verdict = answer.Unknown
	}
	if x.Verdict != answer.Yes {
		x.Change = measure(300, fact.Say("do.test_pieces", answer.Lot("lot", j.lot)))
	}
	if want := j.req.Need.Polymer; want != "" {
		if p, err := j.table.Find(want); err == nil && p.Name != j.polymer.Name {
			x.Verdict, x.Chance, x.Known = answer.No, 0, true
			x.Says = fact.Say("fit.says_other", fact.Name("polymer", j.polymer.Name), fact.Name("want", p.Name))
			x.Change = treat(0, nil, j.another(p.Name))
			x.Figure.Limit.Holds = 0
		}
	}
	return j.withStrays(x)
}

// another is what to do where the lot is of another plastic than the print wants: to take
// the largest lot on hand that is of it, else to plan one.
func (j *job) another(want string) fact.Saying {
	var most *shop.Lot
	for _, l := range j.state.Stock(shop.Regrind, shop.Virgin, shop.Blend) {
		if p, err := j.table.Find(l.Polymer); err == nil && p.Name == want && l.Bar() == nil && (most == nil || l.Mass > most.Mass) {
			most = l
		}
	}
	need := fact.Name("need", j.req.Need.Name)
	switch {
	case j.req.Need.Name == "":
		return fact.Say("fit.choose_lot", fact.Name("polymer", want))
	case most != nil:
		return fact.Say("do.take_lot", answer.Lot("lot", most), need, fact.Name("polymer", want))
	}
	return fact.Say("do.plan", need)
}

// wrong reports whether the lot is of another plastic than the print wants, which no work
// on it can mend.
func (x Item) wrong() bool { return x.Key == "polymer" && x.Says.Code == "fit.says_other" }

// withStrays lowers the answer where other plastics are in the lot by record.
func (j *job) withStrays(x Item) (Item, error) {
	for _, s := range j.facts.strays {
		pair, err := j.table.Pair(j.polymer.Name, s.Polymer)
		if err != nil {
			continue
		}
		bears := pair.Visual
		if *j.req.Strength >= j.limit(shop.LeastStrength) {
			bears = pair.Structural
		}
		if s.Share <= bears {
			continue
		}
		x.Verdict, x.Chance, x.Known = answer.No, 0, true
		x.Figure.Limit.Holds = 0
		x.Says = fact.Say("fit.says_strays", fact.About("share", quantity.Share, s.Share), fact.Name("stray", pair.Stray), fact.Set("bears", quantity.Share, bears), fact.Word("why", pair.What))
		x.Change = treat(0, nil, fact.Say("fit.thin_it", fact.Name("host", pair.Host)))
	}
	return x, nil
}

func (j *job) metalOut() (Item, error) {
	f, err := j.over("metal_left", "fit.metal_left", quantity.Share, func(r run) float64 { return r.metal })
	if err != nil {
		return Item{}, err
	}
	f = f.From("how.metal_left", append(j.in(fWear), j.passesFigure())...).
		Cite("Bunting2016", "which metals a magnet catches")
	learned := j.beliefs[fWear].Runs > 0 || len(j.facts.blocked) > 0 || j.lot.Class == shop.Virgin
	most := j.limit(shop.MostMetal)
	q := question{"metal", fact.Say("fit.metal"), func(r run) bool { return r.metal <= most }, learned || j.facts.metal != "", f,
		figure.Limit{Name: j.called(shop.MostMetal), Value: most, Side: figure.Below}, j.metalWords()}
	x := j.item(q)
	switch {
	case j.facts.metal != "":
		x.Change = treat(1800, nil, fact.Say("fit.pick_over", fact.Name("metal", j.facts.metal)))
	case x.Verdict != answer.Yes && j.facts.magnets == 0:
		x.Change = treat(300, j.chanceWith(func(k *job) { k.facts.magnets++ }, q.ok, (*job).amount, (*job).metalIn), j.overMagnet())
		if x.Verdict == answer.Unknown {
			x.Change.Kind = Measure // what hangs there is the answer
		}
	case x.Verdict != answer.Yes:
		x.Change = measure(300, fact.Say("do.pass_some", answer.Lot("lot", j.lot)))
	}
	return x, nil
}

func (j *job) passesFigure() figure.Figure {
	f := figure.Exact("magnet_passes", "fit.magnet_passes", quantity.Count, float64(j.facts.magnets), figure.Measured)
	if !j.facts.magnet {
		f.Basis = figure.Assumed
	}
	return f
}

func (j *job) overMagnet() fact.Saying { return fact.Say("do.pass_magnet", answer.Lot("lot", j.lot)) }

func (j *job) metalWords() fact.Saying {
	switch {
	case j.facts.metal != "":
		return fact.Say("fit.says_metal_seen", fact.Name("metal", j.facts.metal), j.prints())
	case j.facts.magnets == 0 && !j.facts.magnet:
		return fact.Say("fit.says_no_magnet_known", j.prints())
	case j.facts.magnets == 0:
		return fact.Say("fit.says_no_magnet", j.prints())
	}
	return fact.Say("fit.says_magnet", j.prints())
}

func (j *job) sizes() (Item, error) {
	f, err := j.over("d95", "belief.d95", quantity.Length, func(r run) float64 { return r.d95 })
	if err != nil {
		return Item{}, err
	}
	f = f.From("how.d95", j.in(fTop)...)
	feed := answer.Quantile(j.collect(func(r run) float64 { return r.feed }), 0.5)
	fines := answer.Quantile(j.collect(func(r run) float64 { return r.fines }), 0.5)
	known := len(j.state.Sievings(j.lot.ID)) > 0
	ok := func(r run) bool { return r.d95 <= r.feed && r.fines <= r.borne }
	large := share(j.runs, func(r run) bool { return r.d95 > r.feed })
	dusty := share(j.runs, func(r run) bool { return r.fines > r.borne })
	shown, limit := f, figure.Limit{Name: "limit.feed", Value: feed, Side: figure.Below}
	if dusty > large { // the figure is of what decides
		if shown, err = j.over("fines", "belief.fines", quantity.Share, func(r run) float64 { return r.fines }); err != nil {
			return Item{}, err
		}
		shown, limit = shown.From("how.fines", j.in(fFines)...), figure.Limit{Name: "belief.dust_borne", Value: j.borne.Median, Side: figure.Below}
	}
	x := j.item(question{"sizes", fact.Say("fit.sizes"), ok, known, shown, limit,
		fact.Say("fit.says_sizes", fact.Figure("d95", f), fact.About("feed", quantity.Length, feed), fact.About("fines", quantity.Share, fines),
			fact.Set("dust", quantity.Length, answer.FinesLimit), fact.About("most", quantity.Share, j.borne.Median), j.whose("whose"), j.prints())})
	switch {
	case !j.facts.granular:
		x.Verdict, x.Chance, x.Known, x.Figure.Limit.Holds = answer.No, 0, true, 0
		x.Says = fact.Say("fit.says_no_granulate", answer.Lot("lot", j.lot))
		x.Change = treat(0, nil, fact.Say("do.grind_it", fact.Name("need", j.req.Need.Name)))
	case x.Verdict == answer.Yes:
	case !known:
		x.Change = measure(600, fact.Say("do.sieve", answer.Lot("lot", j.lot)))
	case j.lot.Class == shop.Virgin:
		x.Change = measure(300, fact.Say("fit.pour_through"))
	case large >= dusty:
		x.Change = treat(600, nil, fact.Say("fit.coarse_off", fact.About("feed", quantity.Length, feed)))
	default:
		x.Change = j.dustOff(j.chanceWith(dedusted, ok, (*job).grains))
	}
	return x, nil
}

// dustLeftIn is the share of the fines that sieving leaves. Judgement.
const dustLeftIn = 0.1

// dedusted leaves a tenth of the fines.
func dedusted(k *job) {
	for _, row := range k.rows {
		row[fFines] *= dustLeftIn
	}
}

// dustOff takes the dust off, and says how much of the lot goes with it.
func (j *job) dustOff(chance *float64) *Remedy {
	takes := (1 - dustLeftIn) * answer.Quantile(j.collect(func(r run) float64 { return r.fines }), 0.5)
	x := treat(600, chance, fact.Say("do.dedust", answer.Lot("lot", j.lot), fact.Set("dust", quantity.Length, answer.FinesLimit), fact.About("takes", quantity.Share, takes)))
	x.Takes = &takes
	return x
}

// afterSieving asks anew whether there is enough where another answer wants dust
// sieved off: what that takes away is not there to print.
func (j *job) afterSieving(items []Item) {
	i := slices.IndexFunc(items, func(x Item) bool { return x.Key == "enough" })
	k := slices.IndexFunc(items, func(x Item) bool { return x.Change != nil && x.Change.Takes != nil })
	if i < 0 || k < 0 {
		return
	}
	have := j.lot.Mass
	left := func(r run) float64 { return have * (1 - (1-dustLeftIn)*r.fines) }
	mid := answer.Quantile(j.collect(left), 0.5)
	x := j.item(question{"enough", items[i].Question, func(r run) bool { return r.want <= left(r) }, true, j.want.Figure,
		figure.Limit{Name: "limit.dust_off", Value: mid, Side: figure.Below},
		fact.Say("fit.says_enough_sieved", fact.Set("have", quantity.Mass, have), fact.Figure("want", j.want.Figure), fact.About("left", quantity.Mass, mid))})
	x.Change = items[i].Change
	if x.Verdict != answer.Yes {
		missing := answer.Quantile(j.collect(func(r run) float64 { return r.want - left(r) }), answer.SureShare)
		x.Change = treat(0, nil, j.more(missing))
	}
	items[i] = x
}

func (j *job) runsOut() (Item, error) {
	f, err := j.over("outlet", "fit.outlet", quantity.Length, func(r run) float64 { return math.Max(r.bridge.Sticky, r.bridge.Least) })
	if err != nil {
		return Item{}, err
	}
	f = f.From("how.outlet", j.in(fTop, fFines, fSticky, fDustStrength, fBulk)...).
		Cite("JenikeExercise2026", "cohesive arching").Cite("common practice, no source", "six to ten grains wide")
	ok := func(r run) bool { return r.bridge.Runs() }
	exit := j.beliefs[fExit]
	known := exit.FromUser && len(j.state.Sievings(j.lot.ID)) > 0 || len(j.facts.bridged) > 0
	// Every bridge on record counts as a hopperful.
	chance := modelWord * share(j.runs, ok) / (modelWord + float64(len(j.facts.bridged)))
	bridged := fact.Parts("bridged")
	if n := len(j.facts.bridged); n > 0 {
		bridged = fact.Parts("bridged", fact.Say("fit.bridged", fact.Count("n", n)))
	}
	says := fact.Say("fit.says_runs", fact.Figure("outlet", f), fact.About("exit", quantity.Length, exit.Median), bridged.As("bridged"), j.prints())
	if exit.Assumed {
		says = fact.Say("fit.says_runs_assumed", fact.Figure("outlet", f), fact.About("exit", quantity.Length, exit.Median), bridged.As("bridged"), j.prints())
	}
	f.Records = append(f.Records, j.facts.bridged...)
	x := j.answered(question{key: "runs", ask: fact.Say("fit.runs"), known: known, f: f, says: says,
		limit: figure.Limit{Name: "limit.exit", Value: exit.Median, Side: figure.Below}}, chance)
	switch better := j.chanceWith(dedusted, ok, (*job).hopper); {
	case x.Verdict == answer.Yes:
	case !x.Known && exit.Assumed:
		x.Change = measure(120, fact.Say("do.describe_hopper", fact.Name("printer", j.printer.Name)))
	case !x.Known:
		x.Change = measure(300, fact.Say("fit.fill_hopper"))
	case better != nil && *better > chance+0.1 && j.lot.Class != shop.Virgin:
		x.Change = j.dustOff(better)
	default:
		x.Change = treat(1800, nil, fact.Say("fit.agitator", fact.About("exit", quantity.Length, answer.Quantile(j.collect(func(r run) float64 { return math.Max(r.bridge.Sticky, r.bridge.Free) }), 0.9))))
	}
	return x, nil
}

// questionJar keeps a jar weighing that cannot be true out of the reckoning and
// asks about it.
func (j *job) questionJar(e shop.Entry[*shop.JarWeighed]) bool {
	d, doubtful := plausibility.TooDense(j.polymer.Name, e.Body.Poured, e.Body.Jar, j.beliefs[fSolid].Median)
	if doubtful {
		j.doubts = append(j.doubts, d)
	}
	return doubtful
}
