package traceability

import (
	"errors"
	"math"

	"hopperful/figure"
	"hopperful/process/ageing"
	"hopperful/quantity"
	"hopperful/shop"
)

// Strength is what the passes of a lot, and the water in them, leave of the
// tensile strength of a print of it, over one of new granulate. Both prints have
// the pass of their own printing, which falls out.
type Strength struct {
	Age     Spread
	PerPass ageing.Factor  // of a pass; only where a study says
	Studies []ageing.Study // none: nobody studied this polymer

	p plastic
}

// StrengthOf is what is known of the strength of a lot's plastic.
func (w *Ager) StrengthOf(l *shop.Lot) (Strength, error) {
	age, err := w.Of(l)
	if err != nil {
		return Strength{}, err
	}
	k := Strength{Age: age, p: w.plasticOf(l.Polymer)}
	if !k.p.known {
		return k, nil
	}
	k.PerPass, k.Studies, err = ageing.PerPass(k.p.Name, ageing.TensileStrength)
	var unknown *ageing.UnknownError
	if errors.As(err, &unknown) {
		err = nil
	}
	return k, err
}

// Kept is the strength left in one case [1].
//
//	older    which age: -1 the youngest it may be, 0 the middle, 1 the oldest; passes lie between them on straight lines, chains cut by their logarithm where it has one
//	factor   of a pass, 0.05 to 20
//	brittle  share of a fresh chain's length at which no strength is left, 0.01 to 0.9
func (k Strength) Kept(older, factor, brittle float64) (float64, error) {
	mid, end, by := k.Age.mid, k.Age.high, math.Min(math.Abs(older), 1)
	if older < 0 {
		end = k.Age.low
	}
	passes, err := ageing.Retained(mid, factor)
	if err != nil {
		return 0, err
	}
	there, err := ageing.Retained(end, factor)
	if err != nil {
		return 0, err
	}
	passes += by * (there - passes)
	if !k.p.cut {
		return passes, nil
	}
	cuts := mid.Cuts + by*(end.Cuts-mid.Cuts)
	if mid.Cuts > 0 && end.Cuts > 0 {
		cuts = mid.Cuts * math.Pow(end.Cuts/mid.Cuts, by)
	}
	left, err := ageing.StrengthLeft(k.p.chain.Molar, cuts, brittle)
	return passes * left, err
}

// Chains is what water left of the length of its chains; nil where water cuts
// nothing.
func (k Strength) Chains() (*figure.Figure, error) {
	if !k.p.cut {
		return nil, nil
	}
	var left [3]float64
	for i, x := range k.Age.all() {
		molar, err := ageing.MolarMass(k.p.chain.Molar, x.Cuts)
		if err != nil {
			return nil, err
		}
		left[i] = molar / k.p.chain.Molar
	}
	f := figure.Exact("chains_kept", "age.chains_kept", quantity.Share, left[1], figure.Reckoned).
		From("1 ÷ (1 + M × cuts)").Cite(k.p.chain.Source, k.p.chain.Place).Cite(k.p.reacts.Source, k.p.reacts.Place)
	f.Low, f.High = left[2], left[0]
	return &f, nil
}

// Wet reports whether the water it was melted with is worth a word.
func Wet(chains *figure.Figure) bool { return chains != nil && chains.Value < wetChains }

// figure is the strength left; nil where no study says.
func (k Strength) figure() (*figure.Figure, error) {
	if len(k.Studies) == 0 {
		return nil, nil
	}
	q := k.PerPass
	mid, err := k.Kept(0, q.Median, ageing.BrittleMedian)
	if err != nil {
		return nil, err
	}
	f := figure.Exact("strength_kept", "age.strength_kept", quantity.Share, mid, figure.Reckoned)
	var down, up float64
	for _, x := range []struct{ older, factor, brittle float64 }{ // each by itself at its ends, the others in the middle
		{-1, q.Median, ageing.BrittleMedian}, {1, q.Median, ageing.BrittleMedian}, {0, q.Low, ageing.BrittleMedian},
		{0, q.High, ageing.BrittleMedian}, {0, q.Median, ageing.BrittleLow}, {0, q.Median, ageing.BrittleHigh}} {
		v, err := k.Kept(x.older, x.factor, x.brittle)
		if err != nil {
			return nil, err
		}
		down, up = math.Hypot(down, math.Max(0, mid-v)), math.Hypot(up, math.Max(0, v-mid))
	}
	f.Low, f.High = math.Max(0, mid-down), mid+up
	how := "age.how_strength"
	if k.p.cut {
		how = "age.how_strength_water"
		f = f.Cite("Nickzom2026", "linear in the inverse of the molar mass")
	}
	return citeStudies(f.From(how), k.Studies), nil
}
