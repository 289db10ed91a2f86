package fit

import (
	"fmt"
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/figure"
	"hopperful/plan/doubt"
	"hopperful/plan/lineage"
	"hopperful/quantity"
	"hopperful/shop"
)

// Limits of a fitness check. Judgement.
const (
	MostFines = 0.10  // of granulate that is to run and feed evenly
	mostMetal = 10e-6 // metal left, by mass
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
	key, ask string
	ok       func(run) bool
	known    bool
	f        figure.Figure
	limit    figure.Limit
	says     string
}

// item answers a question by the share of the draws in which it goes well.
func (j *job) item(q question) Item {
	chance := share(j.runs, q.ok)
	return j.answered(q, chance)
}

func (j *job) answered(q question, chance float64) Item {
	chance, q.known, q.says = j.weighed(q, chance)
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
	x := j.item(question{"enough", "Is there enough of it?", func(r run) bool { return r.want <= have }, true, f,
		figure.Limit{Name: "on hand", Value: have, Side: figure.Below},
		fmt.Sprintf("%s is on hand, about %s is wanted.", quantity.Mass.Plain(have), f.Shown())})
	if x.Verdict != answer.Yes {
		missing := answer.Quantile(j.collect(func(r run) float64 { return r.want - have }), 0.9)
		x.Change = treat(0, nil, "Make or blend in about %s more, or print something smaller.", quantity.Mass.Rough(math.Max(missing, 1e-3)))
	}
	return x, nil
}

func (j *job) onePolymer() (Item, error) {
	sure := beliefFigure(j.beliefs[fSure])
	q := question{"polymer", "Is it all one polymer, and the right one?", nil, j.lot.Sure != nil, sure,
		figure.Limit{Name: "sure enough to mix with others", Value: lineage.SureEnough, Side: figure.Over},
		fmt.Sprintf("Its owner is %s sure that it is %s.", quantity.Share.Plain(sure.Value), j.polymer.Name)}
	if j.lot.Sure == nil {
		q.says = fmt.Sprintf("It is taken for %s, but nobody has said how sure.", j.polymer.Name)
	}
	x := j.answered(q, sure.Value)
	if j.lot.Sure == nil { // an answer nobody gave, however likely the books make it
		x.Verdict = answer.Unknown
	}
	if x.Verdict != answer.Yes {
		x.Change = measure(300, "Take a piece from each of several places and test how it floats and how it bends, against a piece you are sure of; then correct the record with how sure you are.")
	}
	if want := j.req.Need.Polymer; want != "" {
		if p, err := j.table.Find(want); err == nil && p.Name != j.polymer.Name {
			x.Verdict, x.Chance, x.Known = answer.No, 0, true
			x.Says = fmt.Sprintf("It is %s, the need is %s.", j.polymer.Name, p.Name)
			x.Change = treat(0, nil, "Choose a lot of %s.", p.Name)
			x.Figure.Limit.Holds = 0
		}
	}
	return j.withStrays(x)
}

// withStrays lowers the answer where other plastics are in the lot by record.
func (j *job) withStrays(x Item) (Item, error) {
	for _, s := range j.facts.strays {
		pair, err := j.table.Pair(j.polymer.Name, s.Polymer)
		if err != nil {
			continue
		}
		bears := pair.Visual
		if *j.req.Strength >= fitStrength {
			bears = pair.Structural
		}
		if s.Share <= bears {
			continue
		}
		x.Verdict, x.Chance, x.Known = answer.No, 0, true
		x.Figure.Limit.Holds = 0
		x.Says = fmt.Sprintf("%s of it is %s; a part like this bears %s. %s", quantity.Share.Rough(s.Share), pair.Stray, quantity.Share.Plain(bears), answer.Sentence(pair.Sentence))
		x.Change = treat(0, nil, "Keep it for parts that do not have to hold, or thin it with clean %s.", pair.Host)
	}
	return x, nil
}

func (j *job) metalOut() (Item, error) {
	f, err := j.over("metal_left", "metal left in it", quantity.Share, func(r run) float64 { return r.metal })
	if err != nil {
		return Item{}, err
	}
	f = f.From("wear metal × Σ share of each metal × (1 − caught)^passes", append(j.in(fWear), j.passesFigure())...).
		Cite("Bunting2016", "which metals a magnet catches")
	learned := j.beliefs[fWear].Runs > 0 || len(j.facts.blocked) > 0 || j.lot.Class == shop.Virgin
	q := question{"metal", "Is the metal out?", func(r run) bool { return r.metal <= mostMetal }, learned || j.facts.metal != "", f,
		figure.Limit{Name: "little enough", Value: mostMetal, Side: figure.Below}, j.metalWords()}
	x := j.item(q)
	switch {
	case j.facts.metal != "":
		x.Change = treat(1800, nil, "Sieve and pick the lot over by hand: a magnet never catches brass or aluminium. Next time cut %s out before grinding.", j.facts.metal)
	case x.Verdict != answer.Yes && j.facts.magnets == 0:
		x.Change = treat(300, j.chanceWith(func(k *job) { k.facts.magnets++ }, q.ok, (*job).amount, (*job).metalIn), "Let it run in a thin layer over a strong magnet, weigh what hangs there and write it down.")
		if x.Verdict == answer.Unknown {
			x.Change.Kind = Measure // what hangs there is the answer
		}
	case x.Verdict != answer.Yes:
		x.Change = measure(300, "Let 200 g run in a thin layer over a strong magnet on white paper and weigh what hangs there.")
	}
	return x, nil
}

func (j *job) passesFigure() figure.Figure {
	f := figure.Exact("magnet_passes", "passes by a magnet", quantity.Count, float64(j.facts.magnets), figure.Measured)
	if !j.facts.magnet {
		f.Basis = figure.Assumed
	}
	return f
}

func (j *job) metalWords() string {
	switch {
	case j.facts.metal != "":
		return fmt.Sprintf("Metal was seen in it (%s) and nobody has recorded that it was cut out.", j.facts.metal)
	case j.facts.magnets == 0 && !j.facts.magnet:
		return "Nobody has recorded that it went by a magnet."
	case j.facts.magnets == 0:
		return "It has not been by a magnet."
	}
	return "It has been by a magnet; brass, aluminium and most stainless steel pass any magnet."
}

func (j *job) sizes() (Item, error) {
	f, err := j.over("d95", "size that 95 % are finer than", quantity.Length, func(r run) float64 { return r.d95 })
	if err != nil {
		return Item{}, err
	}
	f = f.From("sieve analysis, else most of the screen hole", j.in(fTop)...)
	feed := answer.Quantile(j.collect(func(r run) float64 { return r.feed }), 0.5)
	fines := answer.Quantile(j.collect(func(r run) float64 { return r.fines }), 0.5)
	known := len(j.state.Sievings(j.lot.ID)) > 0
	ok := func(r run) bool { return r.d95 <= r.feed && r.fines <= MostFines }
	x := j.item(question{"sizes", "No grain too large, and not too much dust?", ok, known, f,
		figure.Limit{Name: "what the feed takes", Value: feed, Side: figure.Below},
		fmt.Sprintf("95 %% are finer than about %s, the feed takes %s; about %s is dust below %s, %s is bearable.", f.Shown(), quantity.Length.Rough(feed),
			quantity.Share.Rough(fines), quantity.Length.Plain(answer.FinesLimit), quantity.Share.Plain(MostFines))})
	large := share(j.runs, func(r run) bool { return r.d95 > r.feed })
	dusty := share(j.runs, func(r run) bool { return r.fines > MostFines })
	switch {
	case !j.facts.granular:
		x.Verdict, x.Chance, x.Known, x.Figure.Limit.Holds = answer.No, 0, true, 0
		x.Says = fmt.Sprintf("Lot %s is %s, not granulate.", j.lot.ID, j.lot.Class)
		x.Change = treat(0, nil, "Grind it first; a grinding plan says how.")
	case x.Verdict == answer.Yes:
	case !known:
		x.Change = measure(600, "Sieve 100 g through the sieves you have and write the masses down.")
	case j.lot.Class == shop.Virgin:
		x.Change = measure(300, "Pour a handful through the feed: pellets that go through by themselves are small enough; then describe the printer with the largest grain its feed takes.")
	case large >= dusty:
		x.Change = treat(600, nil, "Sieve off what is coarser than %s and grind it again.", quantity.Length.Rough(feed))
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
	x := treat(600, chance, "Sieve off the dust below %s; that takes about %s of it.", quantity.Length.Plain(answer.FinesLimit), quantity.Share.Rough(takes))
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
		figure.Limit{Name: "on hand once the dust is off", Value: mid, Side: figure.Below},
		fmt.Sprintf("%s Once the dust is sieved off about %s is left.", items[i].Says, quantity.Mass.Rough(mid))})
	x.Change = items[i].Change
	if x.Verdict != answer.Yes {
		missing := answer.Quantile(j.collect(func(r run) float64 { return r.want - left(r) }), answer.SureShare)
		x.Change = treat(0, nil, "Make or blend in about %s more, or print something smaller.", quantity.Mass.Rough(math.Max(missing, 1e-3)))
	}
	items[i] = x
}

func (j *job) runsOut() (Item, error) {
	f, err := j.over("outlet", "opening it wants", quantity.Length, func(r run) float64 { return math.Max(r.bridge.Sticky, r.bridge.Least) })
	if err != nil {
		return Item{}, err
	}
	f = f.From("the larger of six coarse grains and what a sticking arch spans", j.in(fTop, fFines, fSticky, fDustStrength, fBulk)...).
		Cite("JenikeExercise2026", "cohesive arching").Cite("common practice, no source", "six to ten grains wide")
	ok := func(r run) bool { return r.bridge.Runs() }
	exit := j.beliefs[fExit]
	known := exit.FromUser && len(j.state.Sievings(j.lot.ID)) > 0 || j.facts.ran > 0 || len(j.facts.bridged) > 0
	// Every bridge on record counts as a hopperful.
	chance := modelWord * share(j.runs, ok) / (modelWord + float64(len(j.facts.bridged)))
	says := fmt.Sprintf("It wants an opening of about %s, the hopper's is %s.", f.Shown(), quantity.Length.Rough(exit.Median))
	if exit.Assumed {
		says = fmt.Sprintf("It wants an opening of about %s; the hopper's is assumed to be %s, for nobody has described it.", f.Shown(), quantity.Length.Rough(exit.Median))
	}
	if n := len(j.facts.bridged); n > 0 {
		says += fmt.Sprintf(" It has bridged before: %d on record.", n)
	}
	f.Records = append(f.Records, j.facts.bridged...)
	x := j.answered(question{key: "runs", ask: "Will it run out of the hopper?", known: known, f: f, says: says,
		limit: figure.Limit{Name: "the hopper's exit", Value: exit.Median, Side: figure.Below}}, chance)
	switch better := j.chanceWith(dedusted, ok, (*job).hopper); {
	case x.Verdict == answer.Yes:
	case !known && exit.Assumed:
		x.Change = measure(120, "Measure the smallest opening of the hopper and describe the printer with it.")
	case !known:
		x.Change = measure(300, "Fill the hopper, hold a bowl under it, and see whether it runs out by itself.")
	case better != nil && *better > chance+0.1 && j.lot.Class != shop.Virgin:
		x.Change = j.dustOff(better)
	default:
		x.Change = treat(1800, nil, "Fit an agitator, or widen the exit to %s.", quantity.Length.Rough(answer.Quantile(j.collect(func(r run) float64 { return math.Max(r.bridge.Sticky, r.bridge.Free) }), 0.9)))
	}
	return x, nil
}

// questionJar keeps a jar weighing that cannot be true out of the reckoning and
// asks about it.
func (j *job) questionJar(e shop.Entry[*shop.JarWeighed]) bool {
	_, doubtful := doubt.TooDense(j.polymer.Name, e.Body.Poured, e.Body.Jar, j.beliefs[fSolid].Median)
	if doubtful {
		j.doubts = append(j.doubts, answer.Spoiler{What: fmt.Sprintf("%s of %s in a jar of %s is denser than granulate can be.", quantity.Mass.Show(e.Body.Poured), j.polymer.Name, quantity.Volume.Plain(e.Body.Jar)),
			Remedy: "Weigh the jar again, empty and full, and fill it with water to check its volume; until then the books' bulk density counts."})
	}
	return doubtful
}
