package reckon

// A loop that feeds its own regrind back: how old its plastic becomes, what that
// leaves of a property, how much regrind that bears.

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"hopperful/answer"
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
	{Key: "loop", Title: "A loop with its own regrind", Question: "How much regrind may go in, round after round?", Model: "ageing",
		Inputs: []Input{
			anyMaterial("PLA"),
			{Key: "property", Name: "what has to last", Word: agesStrength, Choices: []string{agesStrength, agesToughness, agesImpact, agesFlow}},
			number("regrind", "regrind in each batch", quantity.Share, 0.3, 0, mostRound),
			number("keep", "share of a new print's strength or toughness that has to stay", quantity.Share, 0.9, 0.05, 1),
			number("move", "factor by which the melt flow may move, up or down", quantity.Number, 1.5, 1.01, 100),
			number("water", "water at melting, beyond what is usual for dried plastic", quantity.Share, 0, 0, 0.01),
			number("rounds", "rounds to look at", quantity.Count, 10, 2, 60),
			number("loss", "lost each round on the way to the next: purged, dust, spilt", quantity.Share, 0.05, 0, 0.5),
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
		r.answer("The loop settles at %.2g passes on average, but nothing is known of what a pass does to the %s of %s: measure it before and after a pass.", mean, word, p.Name)
		r.note("%s", answer.Sentence(answer.Capital(unknown.Error())))
	case err != nil:
		return err
	default:
		if err := r.kept(l, p, factor, studies, mean); err != nil {
			return err
		}
	}
	r.note("Every round is taken alike: the same share of regrind, all of it from the last round, every pass as hard as the others. A hot or slow pass does more.")
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
		r.learned = append(r.learned, "The shop's own melt-flow tests narrowed what a pass does.")
		r.taught = f.Records
	}
	return factor, studies, err
}

// passes adds how old the plastic becomes.
func (r *reckoning) passes(l loop) (mean float64, err error) {
	if mean, err = ageing.SteadyMean(l.regrind); err != nil {
		return 0, err
	}
	r.add("mean_passes", "mean passes, settled", quantity.Number, mean, "1 ÷ (1 − regrind), its own print counted", "regrind")
	at, err := ageing.MeanAfter(l.regrind, l.rounds)
	if err != nil {
		return 0, err
	}
	r.add("mean_after", "mean passes in the last of these rounds", quantity.Number, at, "(1 − regrind^rounds) ÷ (1 − regrind)", "regrind", "rounds")
	old, err := ageing.SteadyBeyond(l.regrind, 3)
	if err != nil {
		return 0, err
	}
	r.add("beyond_three", "plastic with more than three passes, settled", quantity.Share, old, "regrind³", "regrind")
	settles := 1.0
	if l.regrind > 0 {
		settles = math.Max(1, math.Ceil(math.Log(0.05)/math.Log(l.regrind)))
	}
	r.add("settles", "rounds until it has all but settled", quantity.Count, settles, "least n with regrindⁿ of at most a twentieth", "regrind")
	return mean, nil
}

// returns adds what the loop takes in and what has to come back.
func (r *reckoning) returns(l loop) error {
	back := l.regrind / (1 - r.num("loss"))
	r.add("fresh", "new granulate in each batch", quantity.Share, 1-l.regrind, "1 − regrind", "regrind")
	r.add("back", "of each batch that has to come back as scrap", quantity.Share, back, "regrind ÷ (1 − lost each round)", "regrind", "loss")
	if back >= 1 {
		r.note("So much regrind cannot be had from this loop alone: with %s lost each round at most %s of a batch comes back.",
			quantity.Share.Plain(r.num("loss")), quantity.Share.Plain(1-r.num("loss")))
		return nil
	}
	r.add("for_kept", "new granulate for a kilogram of kept prints", quantity.Mass, (1-l.regrind)/(1-back), "new granulate ÷ (1 − what comes back as scrap)", "regrind", "loss")
	return nil
}

// kept adds what stays of the property, and how much regrind that bears.
func (r *reckoning) kept(l loop, p polymer.Polymer, factor ageing.Factor, studies []ageing.Study, mean float64) error {
	word := r.out.Words["property"]
	f := r.add("factor", "a pass multiplies the "+word+" with", quantity.Number, factor.Median, "studies pooled: mean of their logarithms, the range of all of them")
	f.Low, f.High = factor.Low, factor.High
	if len(r.taught) > 0 {
		f.Basis, f.Records = figure.Learned, r.taught
		f.How = "studies pooled, narrowed by the shop's melt-flow tests"
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
	r.drawn("kept", word+" over a new print's, settled", l.kind(), now, l.how(), inputs...)
	r.drawn("kept_after", word+" over a new print's, in the last of these rounds", l.kind(), last, "as settled, with the ages of that round", inputs...)
	r.add("chance", "chance that this share of regrind holds it", quantity.Share, float64(held)/float64(len(draws)), "share of the drawn plastics in which it does", "regrind", l.boundKey())
	nine, half := answer.Quantile(most, 0.1), answer.Quantile(most, 0.5)
	r.add("most_careful", "most regrind that holds it in nine of ten cases", quantity.Share, nine, "largest share for each drawn plastic; a tenth of them bear less", l.boundKey(), "water")
	r.add("most_even", "most regrind that holds it in half of the cases", quantity.Share, half, "largest share for each drawn plastic; half of them bear less", l.boundKey(), "water")
	of := "of"
	if l.flow {
		of = "times"
	}
	r.answer("With %s of regrind the loop settles at %.2g passes and at %s %s a new print's %s; in nine of ten cases %s.",
		quantity.Share.Plain(l.regrind), mean, l.kind().Span(answer.Quantile(now, 0.1), answer.Quantile(now, 0.9)), of, word, bears(nine, l))
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
		r.add("most_by_"+strings.ReplaceAll(word, " ", "_"), "most regrind by the "+word+", in nine of ten cases", quantity.Share, nine, "as for the property asked, with its own studies", "water")
		r.note("By its %s: in nine of ten cases %s.", word, bears(nine, other))
	}
	return nil
}

// bears says how much regrind keeps what was asked.
func bears(most float64, l loop) string {
	what := fmt.Sprintf("%s of it stays", quantity.Share.Plain(l.bound))
	if l.flow {
		what = fmt.Sprintf("it moves by no more than a factor of %s", quantity.Number.Plain(l.bound))
	}
	switch {
	case most >= mostRound-1e-9:
		return fmt.Sprintf("%s with up to %s of regrind, as far as this reckons", what, quantity.Share.Plain(mostRound))
	case most < 0.01:
		return what + " with hardly any regrind"
	}
	return fmt.Sprintf("%s with up to %s of regrind", what, quantity.Share.Rough(most))
}

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
	how := "(1 − regrind) ÷ (1 − regrind × factor)"
	if l.flow {
		how = "factor to the power of the passes beyond the first"
	}
	if l.wet() {
		how += ", × what the chains cut by water leave"
	}
	return how
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
		r.note("%s", r.learned[0])
	case judged == len(studies):
		r.note("No study with numbers was found for this property of %s; the factor of a pass is judgement. A test of your own before and after a pass is worth more.", name)
	case len(studies) > 1:
		r.note("%d studies of %s are pooled; where they disagree the range covers all of them.", len(studies), name)
	}
	switch {
	case l.cut && l.water == 0:
		r.note("%s ages more when it is melted damp: say how much water was in it beyond well dried plastic.", name)
	case !l.cut && l.water > 0:
		r.note("Water cuts no chains of %s; it makes bubbles, which are not reckoned here.", name)
	case l.wet() && !l.flow && !l.tensile:
		r.note("What water takes is reckoned as for the tensile strength; %s falls sooner.", r.out.Words["property"])
	}
	r.note("No print is promised a strength: a part whose breaking can hurt somebody is made of new granulate of a known grade.")
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
