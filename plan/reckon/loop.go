package reckon

// A loop that feeds its own regrind back: how old its plastic becomes, what that
// leaves of a property, how much regrind that bears.

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/traceability"
	"hopperful/polymer"
	"hopperful/process/ageing"
	"hopperful/quantity"
)

// The words of what ages, and what they are in the studies.
const (
	agesStrength  = "tensile strength"
	agesToughness = "toughness"
	agesImpact    = "impact strength"
	agesFlow      = "melt flow"
)

var agesAs = map[string]ageing.Property{agesStrength: ageing.TensileStrength, agesToughness: ageing.Toughness,
	agesImpact: ageing.ImpactStrength, agesFlow: ageing.MeltFlow}

// mostRound is the share of regrind the answer goes to, and loopDraws how many
// loops with other plastics are followed.
const (
	mostRound = 0.97
	loopDraws = 200
)

var loopTopics = []Topic{
	{Key: "loop", Model: "ageing",
		Inputs: []Input{
			anyMaterial(),
			word("property", agesStrength, agesToughness, agesImpact, agesFlow),
			number("regrind", quantity.Share, 0.3, 0, mostRound),
			number("keep", quantity.Share, 0.9, 0.05, 1),
			number("move", quantity.Number, 1.5, 1.01, 100),
			number("water", quantity.Share, 0, 0, 0.01),
			number("rounds", quantity.Count, 10, 2, 60),
			number("loss", quantity.Share, 0.05, 0, 0.5).named("given.round_loss"),
		}, reckon: reckonLoop},
}

// loop is the loop under question.
type loop struct {
	regrind float64
	rounds  int
	ages    []ageing.Age // of each round
	water   float64
	flow    bool // the melt flow and not a strength
	tensile bool
	bound   float64 // what has to be kept; of the melt flow the factor it may move by
	chain   ageing.Chain
	cut     bool // water cuts its chains
}

// history is one plastic the loop may be made of.
type history struct{ factor, molar, cuts, brittle float64 }

func reckonLoop(r *reckoning) error {
	p, err := r.polymer()
	if err != nil {
		return err
	}
	word := r.out.Words["property"]
	l := loop{regrind: r.num("regrind"), rounds: int(math.Round(r.num("rounds"))), water: r.num("water"), flow: word == agesFlow, tensile: word == agesStrength}
	l.bound = r.num("keep")
	if l.flow {
		l.bound = r.num("move")
	}
	l.chain, l.cut = ageing.Hydrolyses(p.Name)
	for b := range l.rounds {
		a, err := ageing.Loop(l.regrind, b+1, 0)
		if err != nil {
			return err
		}
		l.ages = append(l.ages, a)
	}
	mean, err := r.passes(l)
	if err != nil {
		return err
	}
	if err := r.returns(l); err != nil {
		return err
	}
	factor, studies, err := r.perPass(l, p.Name, agesAs[word])
	var unknown *ageing.UnknownError
	switch {
	case errors.As(err, &unknown):
		r.answer(fact.Say("reckon.loop_unknown", fact.About("mean", quantity.Number, mean), aged(word), fact.Name("polymer", p.Name)))
		if len(unknown.Known) > 0 {
			r.note(fact.Say("reckon.known_of", aged(word), fact.Names("polymers", unknown.Known)))
		}
	case err != nil:
		return err
	default:
		if err := r.kept(l, p, factor, studies, mean); err != nil {
			return err
		}
	}
	r.note(fact.Say("reckon.rounds_alike"))
	return r.settledShares(l)
}

// perPass is what a pass does: by the studies, and of the melt flow by the shop's
// own tests too.
func (r *reckoning) perPass(l loop, name string, property ageing.Property) (ageing.Factor, []ageing.Study, error) {
	if !l.flow || r.given.Shop == nil {
		return ageing.PerPass(name, property)
	}
	factor, studies, f, err := traceability.FlowPass(r.given.Shop, name)
	if err == nil && len(f.Records) > 0 {
		r.learned = append(r.learned, fact.Say("reckon.own_tests"))
		r.taught = f.Records
	}
	return factor, studies, err
}

// passes adds how old the plastic becomes.
func (r *reckoning) passes(l loop) (mean float64, err error) {
	if mean, err = ageing.SteadyMean(l.regrind); err != nil {
		return 0, err
	}
	r.add("mean_passes", quantity.Number, mean, "regrind")
	at, err := ageing.MeanAfter(l.regrind, l.rounds)
	if err != nil {
		return 0, err
	}
	r.add("mean_after", quantity.Number, at, "regrind", "rounds")
	old, err := ageing.SteadyBeyond(l.regrind, 3)
	if err != nil {
		return 0, err
	}
	r.add("beyond_three", quantity.Share, old, "regrind")
	settles := 1.0
	if l.regrind > 0 {
		settles = math.Max(1, math.Ceil(math.Log(0.05)/math.Log(l.regrind)))
	}
	r.add("settles", quantity.Count, settles, "regrind")
	return mean, nil
}

// returns adds what the loop takes in and what has to come back.
func (r *reckoning) returns(l loop) error {
	back := l.regrind / (1 - r.num("loss"))
	r.add("fresh", quantity.Share, 1-l.regrind, "regrind")
	r.add("back", quantity.Share, back, "regrind", "loss")
	if back >= 1 {
		r.note(fact.Say("reckon.too_much_regrind", fact.Set("loss", quantity.Share, r.num("loss")), fact.Set("most", quantity.Share, 1-r.num("loss"))))
		return nil
	}
	r.add("for_kept", quantity.Mass, (1-l.regrind)/(1-back), "regrind", "loss")
	return nil
}

// kept adds what stays of the property, and how much regrind that bears.
func (r *reckoning) kept(l loop, p polymer.Polymer, factor ageing.Factor, studies []ageing.Study, mean float64) error {
	word := r.out.Words["property"]
	f := r.add("factor", quantity.Number, factor.Median).about("factor", Choice(word))
	f.Low, f.High = factor.Low, factor.High
	if len(r.taught) > 0 {
		f.Basis, f.Records = figure.Learned, r.taught
		f.How = "age.how_narrowed"
	}
	for _, s := range studies {
		f.Cite(s.Source, s.Place)
	}
	draws := l.draw(p.Name, factor)
	var now, most []float64
	held := 0
	for _, h := range draws {
		v := l.settled(l.regrind, h)
		now = append(now, v)
		if l.holds(v) {
			held++
		}
		most = append(most, l.most(h))
	}
	last, err := r.rounds(l, draws)
	if err != nil {
		return err
	}
	inputs := []string{"regrind", "water", "rounds"}
	settled := r.drawn("kept", l.kind(), now, inputs...).about("kept", Choice(word))
	settled.How = l.how()
	kept := *settled.Figure // what is added later may move it
	r.drawn("kept_after", l.kind(), last, inputs...).about("kept_after", Choice(word))
	r.add("chance", quantity.Share, float64(held)/float64(len(draws)), "regrind", l.boundKey())
	nine, half := answer.Quantile(most, 0.1), answer.Quantile(most, 0.5)
	r.add("most_careful", quantity.Share, nine, l.boundKey(), "water")
	r.add("most_even", quantity.Share, half, l.boundKey(), "water")
	says := []fact.Fact{fact.Set("regrind", quantity.Share, l.regrind), fact.About("mean", quantity.Number, mean), fact.Figure("kept", kept), aged(word), fact.Parts("bears", bears(nine, l))}
	if l.flow {
		r.answer(fact.Say("reckon.loop_flow", says...))
	} else {
		r.answer(fact.Say("reckon.loop", says...))
	}
	if err := r.beside(l, p); err != nil {
		return err
	}
	r.loopNotes(l, p.Name, studies)
	return nil
}

// beside names what the other properties bear: a loop often ends by its toughness or
// its melt flow while the strength still holds.
func (r *reckoning) beside(l loop, p polymer.Polymer) error {
	learned, taught := r.learned, r.taught // of the property asked
	defer func() { r.learned, r.taught = learned, taught }()
	for _, word := range []string{agesStrength, agesToughness, agesImpact, agesFlow} {
		if word == r.out.Words["property"] {
			continue
		}
		other := l
		other.flow, other.tensile, other.bound = word == agesFlow, word == agesStrength, r.num("keep")
		if other.flow {
			other.bound = r.num("move")
		}
		factor, _, err := r.perPass(other, p.Name, agesAs[word])
		var unknown *ageing.UnknownError
		if errors.As(err, &unknown) {
			continue
		} else if err != nil {
			return err
		}
		var most []float64
		for _, h := range other.draw(p.Name, factor) {
			most = append(most, other.most(h))
		}
		nine := answer.Quantile(most, 0.1)
		r.add("most_by_"+strings.ReplaceAll(word, " ", "_"), quantity.Share, nine, "water").about("most_by", Choice(word))
		r.note(fact.Say("reckon.by_its", aged(word), fact.Parts("bears", bears(nine, other))))
	}
	return nil
}

// bears says how much regrind keeps what was asked.
func bears(most float64, l loop) fact.Saying {
	what := fact.Parts("what", fact.Say("reckon.stays", fact.Set("bound", quantity.Share, l.bound)))
	if l.flow {
		what = fact.Parts("what", fact.Say("reckon.moves", fact.Set("bound", quantity.Number, l.bound)))
	}
	switch {
	case most >= mostRound-1e-9:
		return fact.Say("reckon.bears_all", what, fact.Set("most", quantity.Share, mostRound))
	case most < 0.01:
		return fact.Say("reckon.bears_none", what)
	}
	return fact.Say("reckon.bears", what, fact.About("most", quantity.Share, most))
}

// aged is the property that ages as a term.
func aged(word string) fact.Fact { return fact.Word("property", Choice(word)) }

// kind is how the property is told: a strength as a share, a flow as a factor.
func (l loop) kind() quantity.Kind {
	if l.flow {
		return quantity.Number
	}
	return quantity.Share
}

func (l loop) boundKey() string {
	if l.flow {
		return "move"
	}
	return "keep"
}

// how says what the settled property follows from.
func (l loop) how() string {
	switch {
	case l.flow && l.wet():
		return "how.loop.flow_wet"
	case l.flow:
		return "how.loop.flow_dry"
	case l.wet():
		return "how.loop.strength_wet"
	}
	return "how.loop.strength_dry"
}

// loopNotes say where the numbers come from and what they leave out.
func (r *reckoning) loopNotes(l loop, name string, studies []ageing.Study) {
	judged := 0
	for _, s := range studies {
		if s.Mark == "judgement" {
			judged++
		}
	}
	switch {
	case len(r.learned) > 0:
		r.note(r.learned[0])
	case judged == len(studies):
		r.note(fact.Say("reckon.judged_factor", fact.Name("polymer", name)))
	case len(studies) > 1:
		r.note(fact.Say("reckon.pooled", fact.Count("n", len(studies)), fact.Name("polymer", name)))
	}
	switch {
	case l.cut && l.water == 0:
		r.note(fact.Say("reckon.melted_damp", fact.Name("polymer", name)))
	case !l.cut && l.water > 0:
		r.note(fact.Say("reckon.no_hydrolysis", fact.Name("polymer", name)))
	case l.wet() && !l.flow && !l.tensile:
		r.note(fact.Say("reckon.falls_sooner", aged(r.out.Words["property"])))
	}
	r.note(fact.Say("reckon.no_promise"))
}

// wet reports whether water cuts chains in this loop.
func (l loop) wet() bool { return l.cut && l.water > 0 }

// draw draws plastics: the factor of a pass, and how water acts.
func (l loop) draw(name string, f ageing.Factor) []history {
	luck := rand.New(rand.NewPCG(20, 7)) // the same question has the same answer
	reacts := ageing.Reacts(name)
	between := func(low, mid, high float64) float64 {
		z := luck.NormFloat64() / answer.Ninety
		if z < 0 {
			return mid * math.Pow(mid/low, z)
		}
		return mid * math.Pow(high/mid, z)
	}
	all := make([]history, loopDraws)
	for i := range all {
		h := history{factor: math.Min(math.Max(between(f.Low, f.Median, f.High), 0.05), 20)}
		if !l.flow { // no pass makes plastic stronger; studies that say so measured scatter
			h.factor = math.Min(h.factor, 1)
		}
		if l.wet() {
			h.molar = math.Min(math.Max(between(l.chain.Low, l.chain.Molar, l.chain.High), 0.5), 1e4)
			h.brittle = math.Min(between(ageing.BrittleLow, ageing.BrittleMedian, ageing.BrittleHigh), 0.9)
			h.cuts, _ = ageing.CutsBy(l.water, math.Min(1, between(reacts.Low, reacts.Share, reacts.High))) // in range: the inputs are
		}
		all[i] = h
	}
	return all
}

// holds reports whether what is left is enough.
func (l loop) holds(v float64) bool {
	if l.flow {
		return math.Abs(math.Log(v)) <= math.Log(l.bound)
	}
	return v >= l.bound
}

// settled is the property of a settled loop over that of a new print.
func (l loop) settled(regrind float64, h history) float64 {
	if l.flow {
		return l.damp(h, 1/(1-regrind)) * math.Pow(h.factor, regrind/(1-regrind))
	}
	v, err := ageing.SteadyRetained(regrind, h.factor)
	if err != nil { // not with a factor of at most 1
		return 0
	}
	return v / h.factor * l.damp(h, 1/(1-regrind))
}

// damp is what water does to a print whose chains were cut in so many passes
// on average, over one of new granulate.
func (l loop) damp(h history, passes float64) float64 {
	if !l.wet() {
		return 1
	}
	cuts := math.Min(10, h.cuts*passes) // beyond, nothing is left anyway
	if l.flow {
		all, err := ageing.FlowGain(h.molar, cuts, ageing.FlowPower)
		one, worse := ageing.FlowGain(h.molar, h.cuts, ageing.FlowPower)
		if err != nil || worse != nil {
			return math.Inf(1)
		}
		return all / one
	}
	all, err := ageing.StrengthLeft(h.molar, cuts, h.brittle)
	one, worse := ageing.StrengthLeft(h.molar, h.cuts, h.brittle)
	if err != nil || worse != nil || one == 0 {
		return 0
	}
	return all / one
}

// most is the largest share of regrind up to which every share holds: in closed
// form where only passes age the plastic, by search where water acts too.
func (l loop) most(h history) float64 {
	if !l.wet() {
		share, err := l.bears(h)
		if err != nil { // not within the ranges of draw and of the question
			return 0
		}
		return math.Min(share, mostRound)
	}
	const steps = 97
	low := 0.0
	for i := range steps {
		high := mostRound * float64(i+1) / steps
		if l.holds(l.settled(high, h)) {
			low = high
			continue
		}
		for range 30 {
			if mid := (low + high) / 2; l.holds(l.settled(mid, h)) {
				low = mid
			} else {
				high = mid
			}
		}
		return low
	}
	return mostRound
}

// bears is the largest share of regrind a dry loop bears.
func (l loop) bears(h history) (float64, error) {
	switch {
	case !l.flow:
		return ageing.ShareForStrength(h.factor, l.bound)
	case h.factor < 1:
		return ageing.ShareForFlow(h.factor, 1/l.bound)
	}
	return ageing.ShareForFlow(h.factor, l.bound)
}
