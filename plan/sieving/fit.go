package sieving

import (
	"errors"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/process/sieve"
	"hopperful/quantity"
)

// Fit is one law fitted one way.
type Fit struct {
	Law     string        `json:"law"`
	Method  string        `json:"method"` // "least squares" or "straight line"
	Scale   figure.Figure `json:"scale"`
	Shape   figure.Figure `json:"shape"`
	Miss    figure.Figure `json:"miss"`           // root mean square of what it misses the shares by
	Line    float64       `json:"line,omitempty"` // correlation of the straight line
	Used    int           `json:"used"`
	Dropped int           `json:"dropped,omitempty"` // points at 0 or 1, which the straight line cannot use
	Best    bool          `json:"best,omitempty"`
}

// Verdict is the word on the fits.
type Verdict struct {
	Law   string   `json:"law"`
	Word  string   `json:"word"` // "fits well", "fits roughly", "does not fit"
	Alike []string `json:"alike"`
	Says  []string `json:"says"`
}

// names are what the parameters of a law are called and mean.
var names = map[sieve.Law]struct{ law, scaleKey, scale, shapeKey, shape string }{
	sieve.LawRRSB:      {"RRSB", "rrsb_size", "x', the size that 63 % is finer than", "rrsb_n", "n, evenness of the sizes"},
	sieve.LawGGS:       {"Gates–Gaudin–Schuhmann", "ggs_largest", "x_max, the largest size", "ggs_m", "m, slope of the power law"},
	sieve.LawLogNormal: {"Log-normal", "lognormal_median", "x50, the middle size", "lognormal_s", "s, width in ln size"},
}

// fits fits the laws, if there are sieves enough.
func (f *sifting) fits() error {
	points := f.a.Points()
	if len(points.X) < 3 {
		return nil
	}
	fits, err := sieve.FitAll(points, sieve.Weighting{Equal: f.opt.Equal, Grains: siftGrains})
	if e := (*sieve.EntryError)(nil); errors.As(err, &e) {
		f.out.Notes = append(f.out.Notes, "No law was fitted: "+answer.Sentence(e.Error()))
		return nil
	}
	if err != nil {
		return refusal(err)
	}
	v, err := sieve.Judge(fits)
	if err != nil { // only straight lines came out
		f.out.Notes = append(f.out.Notes, "No law could be fitted by least squares.")
	} else {
		f.best = v.Best
		f.out.Verdict = &Verdict{Law: names[v.Best.Law].law, Word: v.Word, Says: v.Says, Alike: []string{}}
		for _, l := range v.Alike {
			f.out.Verdict.Alike = append(f.out.Verdict.Alike, names[l].law)
		}
		if v.Word == "does not fit" {
			f.worry(0.3, v.Says[0], "Weigh again, or sieve a second sample.")
		}
	}
	for _, one := range fits {
		f.out.Fits = append(f.out.Fits, f.fitted(one, err == nil && one.Law == v.Best.Law && one.Method == v.Best.Method))
	}
	return nil
}

// fitted explains one fit.
func (f *sifting) fitted(one sieve.Fit, best bool) Fit {
	n := names[one.Law]
	how := "least squares on the passing shares, each weighed as grains drawn one by one"
	if f.opt.Equal {
		how = "least squares on the passing shares, all weighed alike"
	}
	if one.Method == sieve.Linearised {
		how = "the handbook's straight line on the law's own paper; it weighs the ends too much"
	}
	par := func(key, name string, kind quantity.Kind, v, err float64) figure.Figure {
		low := v - answer.Ninety*err
		if low <= 0 { // an error as large as the value says only that it is small
			low = v / 10
		}
		return f.mine(figure.Figure{Key: key, Name: name, Kind: kind, Value: v, Low: low, High: v + answer.Ninety*err, Basis: figure.Reckoned}).
			From(how+"; the range is ± 1.28 standard errors").Cite("Brezani2011", "both ways on the same data")
	}
	return Fit{Law: n.law, Method: string(one.Method), Best: best, Line: one.Line, Used: one.Used, Dropped: one.Dropped,
		Scale: par(n.scaleKey, n.scale, quantity.Length, one.Scale, one.ScaleError),
		Shape: par(n.shapeKey, n.shape, quantity.Number, one.Shape, one.ShapeError),
		Miss: f.mine(figure.Exact("miss", "misses the shares by", quantity.Share, one.RMS, figure.Reckoned)).
			From("root mean square of measured less fitted passing; up to 1 % fits well, up to 3 % roughly").Cite("judgement", "the two bounds")}
}
