package lineage

import (
	"fmt"
	"math"

	"hopperful/figure"
	"hopperful/process/ageing"
	"hopperful/quantity"
	"hopperful/shop"
)

// LotAge is how often the plastic of a lot was melted, and what that makes of
// it. The maker's own pass does not count; a print of new granulate has one.
type LotAge struct {
	Answer   string         `json:"answer"` // one sentence
	Lot      shop.LotID     `json:"lot"`
	Known    bool           `json:"known"`                   // all of it is followed up to new granulate; else part is judged
	Shares   []float64      `json:"shares"`                  // by mass, with 0, 1, 2, … passes; together 1
	Mean     figure.Figure  `json:"mean"`                    // passes
	Oldest   figure.Figure  `json:"oldest"`                  // passes, beyond which at most a twentieth lies
	Judged   figure.Figure  `json:"judged"`                  // share from outside that was printed before, nobody knows how often
	MeltFlow *figure.Figure `json:"melt_flow,omitempty"`     // nil where the polymer's is not known
	Strength *figure.Figure `json:"strength,omitempty"`      // of a print of it over one of new granulate; nil where no study says
	PerPass  *figure.Figure `json:"flow_per_pass,omitempty"` // melt flow after a pass over before, as this shop's tests taught it
	Water    *figure.Figure `json:"water_gain,omitempty"`    // melt flow with the water it was melted with over without; nil where water cuts nothing
	Chains   *figure.Figure `json:"chains_kept,omitempty"`   // what water left of the length of the chains
	Taught   int            `json:"taught_lots,omitempty"`   // lots whose melt-flow tests taught it
	Notes    []string       `json:"notes"`

	spread Spread
}

// AgeOf derives the age of a lot from its parents and the records.
func AgeOf(s *shop.State, id shop.LotID) (LotAge, error) {
	lot, ok := s.Lot(id)
	if !ok {
		return LotAge{}, NoLot(id)
	}
	w, err := NewAger(s)
	if err != nil {
		return LotAge{}, err
	}
	age, err := w.Of(lot)
	if err != nil {
		return LotAge{}, err
	}
	a := LotAge{Lot: id, Known: age.judged == 0, Shares: age.mid.Shares, Notes: []string{}, spread: age}
	if a.Mean, err = age.Mean(); err != nil {
		return a, err
	}
	if a.Oldest, err = age.Oldest(); err != nil {
		return a, err
	}
	a.Judged = figure.Exact("judged", "share of unknown past", quantity.Share, age.judged, figure.Reckoned).
		From("share that came from outside as scrap, regrind, blend or prints, by the records")
	if err = a.forecast(w, lot); err != nil {
		return a, err
	}
	a.answer()
	return a, nil
}

// Figures are the figures of an age, in reading order.
func (a LotAge) Figures() []figure.Figure {
	all := []figure.Figure{a.Mean, a.Oldest, a.Judged}
	for _, f := range []*figure.Figure{a.MeltFlow, a.PerPass, a.Strength, a.Chains, a.Water} {
		if f != nil {
			all = append(all, *f)
		}
	}
	return all
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
	f, err := a.counted("mean_passes", "mean passes", func(x ageing.Age) (float64, error) { return x.Mean() })
	return f.From("parents by mass; each print adds one"), err
}

// Oldest is the number of passes beyond which at most a twentieth lies.
func (a Spread) Oldest() (figure.Figure, error) {
	f, err := a.counted("oldest_passes", "passes of the oldest twentieth", func(x ageing.Age) (float64, error) {
		n, err := x.Oldest(OldestShare)
		return float64(n), err
	})
	return f.From("least number of passes beyond which at most a twentieth lies"), err
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

// answer says the age in a sentence.
func (a *LotAge) answer() {
	how := "followed up to new granulate"
	if !a.Known {
		how = fmt.Sprintf("judged for the %s that came from outside", quantity.Share.Rough(a.Judged.Value))
	}
	a.Answer = fmt.Sprintf("%s was melted %s on average (%s%s)", a.Lot, often(a.Mean.Value), passRange(a.Mean), how)
	if a.Strength != nil {
		a.Answer += fmt.Sprintf("; a print of it keeps about %s of the strength of a new one", a.Strength.Shown())
	}
	if Wet(a.Chains) {
		a.Answer += fmt.Sprintf("; the water it was melted with left its chains at %s of their length", a.Chains.Shown())
	}
	a.Answer += "."
	switch {
	case a.PerPass == nil || a.PerPass.Basis != figure.Learned:
	case len(a.PerPass.Records) == 1:
		a.Answer += " One melt-flow test taught what a pass does to it."
	default:
		a.Answer += fmt.Sprintf(" %d melt-flow tests of %s taught what a pass does to it.", len(a.PerPass.Records), lotCount(a.Taught))
	}
}

// wetChains is the length of chains below which water is worth a word. Judgement.
const wetChains = 0.97

func lotCount(n int) string {
	if n == 1 {
		return "one lot"
	}
	return fmt.Sprintf("%d lots", n)
}

// often is a mean number of passes as one says it.
func often(passes float64) string {
	if math.Abs(passes-1) < 0.005 {
		return "once"
	}
	return fmt.Sprintf("%.2g times", passes)
}

// passRange is the range of a number of passes, where it has one.
func passRange(f figure.Figure) string {
	if f.High-f.Low < 0.05 {
		return ""
	}
	return fmt.Sprintf("%.2g to %.2g; ", f.Low, f.High)
}
