package traceability

import (
	"math"
	"strconv"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/ageing"
	"hopperful/quantity"
	"hopperful/shop"
)

// LotAge is how often the plastic of a lot was melted, and what that makes of
// it: the answer, and its parts as the page draws them. The maker's own pass does
// not count; a print of new granulate has one.
type LotAge struct {
	answer.Document
	Lot      shop.LotID
	Known    bool           // all of it is followed up to new granulate; else part is judged
	Shares   []float64      // by mass, with 0, 1, 2, … passes; together 1
	Mean     figure.Figure  // passes
	Oldest   figure.Figure  // passes, beyond which at most a twentieth lies
	Judged   figure.Figure  // share from outside that was printed before, nobody knows how often
	MeltFlow *figure.Figure // nil where the polymer's is not known
	Strength *figure.Figure // of a print of it over one of new granulate; nil where no study says
	PerPass  *figure.Figure // melt flow after a pass over before, as this shop's tests taught it
	Water    *figure.Figure // melt flow with the water it was melted with over without; nil where water cuts nothing
	Chains   *figure.Figure // what water left of the length of the chains
	Taught   int            // lots whose melt-flow tests taught it

	notes  []fact.Saying
	spread Spread
}

// AgeOf derives the age of a lot from its parents and the records.
func AgeOf(s *shop.State, id shop.LotID) (LotAge, error) {
	lot, ok := s.Lot(id)
	if !ok {
		return LotAge{}, shop.NoLot("lot", id)
	}
	w, err := NewAger(s)
	if err != nil {
		return LotAge{}, err
	}
	age, err := w.Of(lot)
	if err != nil {
		return LotAge{}, err
	}
	a := LotAge{Lot: id, Known: age.judged == 0, Shares: age.mid.Shares, spread: age}
	if a.Mean, err = age.Mean(); err != nil {
		return a, err
	}
	if a.Oldest, err = age.Oldest(); err != nil {
		return a, err
	}
	a.Judged = figure.Exact("judged", "age.judged", quantity.Share, age.judged, figure.Reckoned).
		From("age.how_judged")
	if err = a.forecast(w, lot); err != nil {
		return a, err
	}
	a.document()
	return a, nil
}

// Spread is an age with its range. The three are blended and melted alike, so
// that low stays below high.
type Spread struct {
	low, mid, high ageing.Age
	judged         float64 // share of unknown past [1]
	said, unsaid   float64 // passes of which somebody wrote down how damp, or not [1]
}

// all are its three ages, the youngest first.
func (a Spread) all() [3]ageing.Age { return [3]ageing.Age{a.low, a.mid, a.high} }

// Judged is the share of unknown past [1].
func (a Spread) Judged() float64 { return a.judged }

// Mean is the mean number of passes.
func (a Spread) Mean() (figure.Figure, error) {
	f, err := a.counted("mean_passes", "age.mean_passes", func(x ageing.Age) (float64, error) { return x.Mean() })
	return f.From("age.how_mean"), err
}

// Oldest is the number of passes beyond which at most a twentieth lies.
func (a Spread) Oldest() (figure.Figure, error) {
	f, err := a.counted("oldest_passes", "age.oldest_passes", func(x ageing.Age) (float64, error) {
		n, err := x.Oldest(OldestShare)
		return float64(n), err
	})
	return f.From("age.how_oldest"), err
}

// counted makes a figure of something that rises with age.
func (a Spread) counted(key, name string, of func(ageing.Age) (float64, error)) (figure.Figure, error) {
	var v [3]float64
	for i, x := range a.all() {
		var err error
		if v[i], err = of(x); err != nil {
			return figure.Figure{}, err
		}
	}
	f := figure.Exact(key, name, quantity.Number, v[1], figure.Reckoned)
	f.Low, f.High = min(v[0], v[1]), max(v[1], v[2])
	if a.judged > 0 {
		f = f.Cite("judgement", "past of what came from outside")
	}
	return f, nil
}

// MostPasses is how many rows a lot's age has at most; the last gathers the rest.
const MostPasses = 8

// wetChains is the length of chains below which water is worth a word. Judgement.
const wetChains = 0.97

// document puts the answer together.
func (a *LotAge) document() {
	once, low, high := fact.Name("once", ""), fact.Name("low", ""), fact.Name("high", "")
	if math.Abs(a.Mean.Value-1) < 0.005 {
		once = fact.Name("once", "yes")
	}
	if a.Mean.High-a.Mean.Low >= 0.05 {
		low, high = fact.About("low", quantity.Number, a.Mean.Low), fact.About("high", quantity.Number, a.Mean.High)
	}
	judged, strength, chains := fact.Name("judged", ""), fact.Name("strength", ""), fact.Name("chains", "")
	if !a.Known {
		judged = fact.About("judged", quantity.Share, a.Judged.Value)
	}
	if a.Strength != nil {
		strength = fact.Figure("strength", *a.Strength)
	}
	if Wet(a.Chains) {
		chains = fact.Figure("chains", *a.Chains)
	}
	a.Head = answer.Found(fact.Say("age.answer", fact.Lot("lot", string(a.Lot), ""), once, fact.About("mean", quantity.Number, a.Mean.Value), low, high, judged, strength, chains))
	a.Figures = []figure.Figure{a.Mean, a.Oldest, a.Judged}
	for _, f := range []*figure.Figure{a.MeltFlow, a.PerPass, a.Strength, a.Chains, a.Water} {
		if f != nil {
			a.Figures = append(a.Figures, *f)
		}
	}
	if a.PerPass != nil && a.PerPass.Basis == figure.Learned {
		a.notes = append(a.notes, fact.Say("age.taught", fact.Count("n", len(a.PerPass.Records)), fact.Name("lots", strconv.Itoa(a.Taught))))
	}
	t := answer.Table{Key: "passes", Leads: true, Columns: []answer.Column{{Key: "times_melted", Numbers: true}, {Key: "share", Numbers: true}, {Key: "at_least", Numbers: true}, {Key: "at_most", Numbers: true}}}
	for _, p := range a.Gathered(MostPasses) {
		t.Rows = append(t.Rows, []fact.Fact{p.Said("times"), fact.About("share", quantity.Share, p.Share), fact.About("low", quantity.Share, p.Low), fact.About("high", quantity.Share, p.High)})
	}
	t.Notes = a.notes
	a.Tables = append(a.Tables, t)
}

// Said is a number of passes: "3", or "7 or more".
func (p Passes) Said(name string) fact.Fact {
	if p.OrMore {
		return fact.Parts(name, fact.Say("age.or_more", fact.Name("n", strconv.Itoa(p.Number))))
	}
	return fact.Name(name, strconv.Itoa(p.Number))
}
