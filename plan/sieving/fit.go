package sieving

import (
	"errors"
	"math"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/sieve"
	"hopperful/quantity"
)

// Fit is one law fitted one way.
type Fit struct {
	Law    sieve.Law
	Method sieve.Method
	Scale  figure.Figure
	Shape  figure.Figure
	Miss   figure.Figure // root mean square of what it misses the shares by
	Best   bool
}

// names are what the parameters of a law are called and mean.
var names = map[sieve.Law]struct{ scaleKey, scale, shapeKey, shape string }{
	sieve.LawRRSB:      {"rrsb_size", "sieving.rrsb_size", "rrsb_n", "sieving.rrsb_n"},
	sieve.LawGGS:       {"ggs_largest", "sieving.ggs_largest", "ggs_m", "sieving.ggs_m"},
	sieve.LawLogNormal: {"lognormal_median", "sieving.lognormal_median", "lognormal_s", "sieving.lognormal_s"},
}

// methodWord is how a law was fitted.
func methodWord(m sieve.Method) fact.Saying {
	if m == sieve.Linearised {
		return fact.Say("sieving.by_line")
	}
	return fact.Say("sieving.by_squares")
}

// fitWord is how well the best law fits.
func fitWord(v sieve.Verdict) fact.Saying {
	switch {
	case v.Word == "fits well":
		return fact.Say("sieving.fits_well")
	case v.Fits():
		return fact.Say("sieving.fits_roughly")
	}
	return fact.Say("sieving.fits_not")
}

// fits fits the laws, if there are sieves enough.
func (f *sifting) fits() error {
	points := f.a.Points()
	if len(points.X) < 3 {
		return nil
	}
	fits, err := sieve.FitAll(points, sieve.Weighting{Equal: f.opt.Equal, Grains: siftGrains})
	if e := (*sieve.EntryError)(nil); errors.As(err, &e) {
		f.notes = append(f.notes, fact.Say("sieving.no_law", fact.Parts("why", refused(e))))
		return nil
	}
	if err != nil {
		return refusal(err)
	}
	v, err := sieve.Judge(fits)
	if err != nil { // only straight lines came out
		f.notes = append(f.notes, fact.Say("sieving.no_least_squares"))
	} else {
		f.judged = v
		f.meaning(v)
		if !v.Fits() {
			f.worry(0.3, f.laws[0], fact.Say("sieving.second_sample"))
		}
	}
	for _, one := range fits {
		f.out.Fits = append(f.out.Fits, f.fitted(one, err == nil && one.Law == v.Best.Law && one.Method == v.Best.Method))
	}
	return nil
}

// meaning says what the law that comes nearest means for the material.
func (f *sifting) meaning(v sieve.Verdict) {
	b := v.Best
	say := func(s fact.Saying) { f.laws = append(f.laws, s) }
	if !v.Fits() {
		say(fact.Say("sieving.no_law_follows", fact.Name("law", string(b.Law)), fact.About("miss", quantity.Share, b.RMS)))
		return
	}
	how, size, shape := fact.Parts("how", fitWord(v)), fact.About("size", quantity.Length, b.Scale), fact.About("shape", quantity.Number, b.Shape)
	switch b.Law {
	case sieve.LawRRSB:
		say(fact.Say("sieving.means_rrsb", how, size, shape))
		if b.Shape <= 1 {
			say(fact.Say("sieving.means_dust"))
		} else if b.Shape > 2.5 {
			say(fact.Say("sieving.means_even"))
		}
	case sieve.LawGGS:
		say(fact.Say("sieving.means_ggs", how, size, shape))
	case sieve.LawLogNormal:
		say(fact.Say("sieving.means_lognormal", how, size, shape))
	}
	for _, other := range v.Alike {
		say(fact.Say("sieving.follows_as_well", fact.Name("law", string(other))))
	}
	if b.MisfitGrains < b.Grains/10 {
		say(fact.Say("sieving.few_grains", fact.Count("n", int(math.Round(b.MisfitGrains)))))
	}
}

// fitted explains one fit.
func (f *sifting) fitted(one sieve.Fit, best bool) Fit {
	n := names[one.Law]
	how := "sieving.how_squares"
	if f.opt.Equal {
		how = "sieving.how_squares_alike"
	}
	if one.Method == sieve.Linearised {
		how = "sieving.how_line"
	}
	par := func(key, name string, kind quantity.Kind, v, err float64) figure.Figure {
		low := v - answer.Ninety*err
		if low <= 0 { // an error as large as the value says only that it is small
			low = v / 10
		}
		return f.mine(figure.Figure{Key: key, Name: name, Kind: kind, Value: v, Low: low, High: v + answer.Ninety*err, Basis: figure.Reckoned}).
			From(how).Cite("Brezani2011", "both ways on the same data")
	}
	return Fit{Law: one.Law, Method: one.Method, Best: best,
		Scale: par(n.scaleKey, n.scale, quantity.Length, one.Scale, one.ScaleError),
		Shape: par(n.shapeKey, n.shape, quantity.Number, one.Shape, one.ShapeError),
		Miss:  f.mine(figure.Exact("miss", "sieving.miss", quantity.Share, one.RMS, figure.Reckoned)).From("sieving.how_miss").Cite("judgement", "the two bounds")}
}
