// The handbook's fit: a straight line on the law's own paper.

package sieve

import (
	"fmt"
	"math"
)

// fitLine fits the straightened shares against ln x.
func fitLine(law Law, p Points) (Fit, error) {
	var u, y []float64
	for i, q := range p.Q {
		if q > 0 && q < 1 {
			u, y = append(u, math.Log(p.X[i])), append(y, law.straight(q))
		}
	}
	n := float64(len(u))
	if len(u) < 3 {
		return Fit{}, &EntryError{Code: TooFew, What: fmt.Sprintf("%d sieves part the sample, a fit needs three", len(u)),
			Hint: "with one or two take the simple estimate"}
	}
	mu, my := total(u)/n, total(y)/n
	var suu, suy, syy float64
	for i := range u {
		suu += (u[i] - mu) * (u[i] - mu)
		suy += (u[i] - mu) * (y[i] - my)
		syy += (y[i] - my) * (y[i] - my)
	}
	slope := suy / suu
	if !(slope > 0) {
		return Fit{}, &EntryError{Code: WrongOrder, What: "the shares finer do not rise with size", Hint: "check the order of sizes and shares"}
	}
	f := Fit{Law: law, Method: Linearised, Used: len(u), Dropped: len(p.X) - len(u), Line: suy / math.Sqrt(suu*syy)}
	lnScale := mu - my/slope
	f.Scale, f.Shape = math.Exp(lnScale), law.shape(slope)
	// ln scale = mu − my/slope; my and slope are uncorrelated.
	s2 := math.Max(syy-slope*suy, 0) / (n - 2)
	varMean, varSlope := s2/n, s2/suu
	byMean, bySlope := -1/slope, my/(slope*slope)
	sign := 1.0
	if law == LawLogNormal {
		sign = -1
	}
	f.Covariance = [2][2]float64{
		{byMean*byMean*varMean + bySlope*bySlope*varSlope, sign * bySlope * varSlope / slope},
		{sign * bySlope * varSlope / slope, varSlope / (slope * slope)},
	}
	return f, nil
}

func total(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum
}
