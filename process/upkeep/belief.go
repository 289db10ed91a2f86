package upkeep

// How long a part still lasts, from few lives or none: a grid of Weibull laws,
// weighted by what is believed beforehand and by the lives seen.

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"hopperful/process"
)

// Window is what is known of one life: the part was sound at From and had failed at
// To, in one unit. Equal: seen as it failed. To infinite: it has not failed so far.
type Window struct {
	From float64 // 0 or above
	To   float64 // From or above; math.Inf(1) for a part in use or taken out sound
}

// Prior is what is believed of a kind of part before any life was seen: medians and
// standard deviations of the natural logarithms of a Weibull law's shape and scale.
type Prior struct {
	Shape, ShapeSpread float64 // [–]
	Scale, ScaleSpread float64 // the unit of the lives; [–]
}

// Belief is a weighted grid of Weibull laws.
type Belief struct {
	laws    []Weibull
	weights []float64 // add up to 1
}

const (
	gridShapes, gridScales = 41, 81
	gridReach              = 3.5 // standard deviations to either side
)

// Believe returns what is to be believed of a kind of part after some lives.
//
//	p      see its fields; all above 0
//	lives  see its fields; may be none
//
// Equation: w ∝ φ(ln β) φ(ln η) Π L, with L = S(from) − S(to) for a part found failed, its limit f(t) where both are one,
// S(from) for one that has not failed; S(t) = exp(−(t/η)^β). A grid of 41 by 81 laws, 3.5 standard deviations to either side.
// Holds for: parts of one kind in like use. Where the lives lie far outside what was believed the grid's edge shows:
// the shape and scale stay within 3.5 of its standard deviations.
// Source: own derivation from Bayes' rule; MeekerEscobar1998 for likelihoods of windows.
// Errors: RangeError for a prior or a life out of range.
// Checks: own derivation; Believe rows of checks.csv, TestBelief.
func Believe(p Prior, lives []Window) (Belief, error) {
	for name, v := range map[string]float64{"shape believed": p.Shape, "scale believed": p.Scale, "spread of the shape": p.ShapeSpread, "spread of the scale": p.ScaleSpread} {
		if err := process.Within(name, v, 1e-6, 1e12, "", "judgement"); err != nil {
			return Belief{}, err
		}
	}
	for _, w := range lives {
		err := process.Within("life of a part", w.From, 0, 1e12, "", "judgement")
		if !math.IsInf(w.To, 1) {
			err = errors.Join(err, process.Within("end of a life", w.To, max(w.From, 1e-9), 1e12, "", "own derivation"))
		}
		if err != nil {
			return Belief{}, err
		}
	}
	var b Belief
	best := math.Inf(-1)
	kinds, counts := alike(lives)
	for i := range gridShapes {
		u := gridReach * (2*float64(i)/(gridShapes-1) - 1)
		for k := range gridScales {
			v := gridReach * (2*float64(k)/(gridScales-1) - 1)
			law := Weibull{Shape: p.Shape * math.Exp(u*p.ShapeSpread), Scale: p.Scale * math.Exp(v*p.ScaleSpread)}
			l := -(u*u + v*v) / 2
			for n, w := range kinds {
				l += counts[n] * law.logWindow(w)
			}
			b.laws, b.weights = append(b.laws, law), append(b.weights, l)
			best = max(best, l)
		}
	}
	sum := 0.0
	for i, l := range b.weights {
		b.weights[i] = math.Exp(l - best)
		sum += b.weights[i]
	}
	for i := range b.weights {
		b.weights[i] /= sum
	}
	return b, nil
}

// alike are the different lives, in the order they come, and how many there are of each: tables of
// lives name hundreds that ran equally long, and a law weighs those but once.
func alike[T comparable](lives []T) (kinds []T, counts []float64) {
	at := map[T]int{}
	for _, life := range lives {
		k, known := at[life]
		if !known {
			k = len(kinds)
			at[life] = k
			kinds, counts = append(kinds, life), append(counts, 0)
		}
		counts[k]++
	}
	return kinds, counts
}

// logWindow is the logarithm of a life's likelihood.
func (w Weibull) logWindow(l Window) float64 {
	from := math.Pow(l.From/w.Scale, w.Shape)
	switch {
	case math.IsInf(l.To, 1):
		return -from
	case l.To <= l.From*(1+1e-9):
		return math.Log(w.Shape/w.Scale) + (w.Shape-1)*math.Log(l.To/w.Scale) - from
	}
	// ln(e^−a − e^−b) without losing it where both are small.
	return -from + math.Log(max(-math.Expm1(from-math.Pow(l.To/w.Scale, w.Shape)), 1e-300))
}

// fails is the chance that a part which has lasted so far fails within so much more:
// P = Σ w (1 − exp((done/η)^β − ((done + more)/η)^β)), own derivation. For a part whose own
// life so far is among the lives believed; else it reads high for one that lasted long.
func (b Belief) fails(done, more float64) float64 { return b.failsAfter(b.gone(done), done, more) }

// gone is the exponent of what has been done, by law.
func (b Belief) gone(done float64) []float64 {
	all := make([]float64, len(b.laws))
	for i, law := range b.laws {
		all[i] = math.Pow(done/law.Scale, law.Shape)
	}
	return all
}

func (b Belief) failsAfter(gone []float64, done, more float64) float64 {
	p := 0.0
	for i, law := range b.laws {
		p -= b.weights[i] * math.Expm1(gone[i]-math.Pow((done+more)/law.Scale, law.Shape))
	}
	return p
}

// Remaining returns what a part that has lasted so far still does before it fails, at
// shares of the chance [the unit of the lives].
//
//	done    what it has done, 0 or above [the unit of the lives]
//	shares  above 0 and below 1: 0.1, 0.5, 0.9 [–]
//
// Equation: x with P(done, x) = share; see Fails.
// Holds for: as Fails.
// Source: own derivation.
// Errors: RangeError for an argument out of range.
// Checks: own derivation; Remaining rows of checks.csv.
func (b Belief) Remaining(done float64, shares ...float64) ([]float64, error) {
	err := process.Within("what it has done", done, 0, 1e12, "", "judgement")
	var out []float64
	var laws []standing
	for _, share := range shares {
		err = errors.Join(err, process.Within("share", share, 1e-6, 1-1e-6, "", "own derivation"))
		if err != nil {
			return nil, err
		}
		if laws == nil {
			laws = b.standing(done)
		}
		out = append(out, math.Exp(crossing(math.Log(1e-12), math.Log(1e15), func(x float64) float64 {
			p, t := -share, math.Log(done+math.Exp(x))
			for i := range laws {
				l := &laws[i]
				p -= l.weight * math.Expm1(l.gone-math.Exp(l.shape*(t-l.scale)))
			}
			return p
		})))
	}
	return out, err
}

// standing is a law after what has been done, for questions about many moments: with the logarithm
// of its scale a power is one exponential.
type standing struct{ weight, shape, scale, gone float64 }

// lightest is the weight below which no law of the grid changes a sum of them that is above 1e-6.
const lightest = 1e-18

// standing are the laws that weigh anything.
func (b Belief) standing(done float64) []standing {
	all := []standing{}
	for i, gone := range b.gone(done) {
		if b.weights[i] > lightest {
			all = append(all, standing{b.weights[i], b.laws[i].Shape, math.Log(b.laws[i].Scale), gone})
		}
	}
	return all
}

// crossing is where a rising function between two places passes nothing. It is halved until its ends
// lie close, for it is flat far off, and then cut by the chord, with the end that stays behind drawn in
// (the Illinois rule: from memory): a dozen questions where halving alone takes fifty.
func crossing(lo, hi float64, f func(float64) float64) float64 {
	const near, same = 0.1, 1e-14
	for hi-lo > near {
		if mid := (lo + hi) / 2; f(mid) > 0 {
			hi = mid
		} else {
			lo = mid
		}
	}
	low, high, behind := f(lo), f(hi), 0
	if low >= 0 {
		return lo
	}
	for range 60 {
		if high <= 0 || hi-lo <= same*math.Abs(hi) {
			break
		}
		x := hi - high*(hi-lo)/(high-low)
		y := f(x)
		switch {
		case math.Abs(y) < same:
			return x
		case y > 0:
			if hi, high = x, y; behind < 0 {
				low /= 2
			}
			behind = -1
		default:
			if lo, low = x, y; behind > 0 {
				high /= 2
			}
			behind = 1
		}
	}
	return hi
}

// Rate returns how readily a part fails that has lasted so far, over what it does next, with the ends of its 80 % range
// [1 / unit of the lives].
//
//	done  what it has done, 0 or above [the unit of the lives]
//	span  what it does next, above 0 [likewise]
//
// Equation: h = −ln(1 − P)/span with P of Fails; the range is that of (((done + span)/η)^β − (done/η)^β)/span over the laws.
// Holds for: as Fails. The mean over the laws at one moment would be that of the few laws the part should not have survived.
// Source: own derivation.
// Errors: RangeError for an argument out of range.
// Checks: own derivation; Rate rows of checks.csv.
func (b Belief) Rate(done, span float64) (rate, low, high float64, err error) {
	if err := errors.Join(process.Within("what it has done", done, 0, 1e12, "", "judgement"), process.Within("what it does next", span, 1e-9, 1e12, "", "judgement")); err != nil {
		return 0, 0, 0, err
	}
	type one struct{ rate, weight float64 }
	all := make([]one, len(b.laws))
	for i, law := range b.laws {
		all[i] = one{(math.Pow((done+span)/law.Scale, law.Shape) - math.Pow(done/law.Scale, law.Shape)) / span, b.weights[i]}
	}
	slices.SortFunc(all, func(x, y one) int { return cmp.Compare(x.rate, y.rate) })
	sum := 0.0
	for _, x := range all {
		before := sum
		if sum += x.weight; before < 0.1 && sum >= 0.1 {
			low = x.rate
		}
		if before < 0.9 && sum >= 0.9 {
			high = x.rate
		}
	}
	return -math.Log(max(1-b.fails(done, span), 1e-12)) / span, low, high, nil
}

// Law returns shape and scale of the laws believed, at shares of the chance [–; the unit of the lives].
//
//	share  above 0 and below 1 [–]
//
// Equation: the shape, and by itself the scale, with so much of the weight below it.
// Holds for: as Believe.
// Source: own derivation.
// Errors: RangeError for a share out of range.
// Checks: own derivation; Law rows of checks.csv.
func (b Belief) Law(share float64) (shape, scale float64, err error) {
	if err := process.Within("share", share, 1e-6, 1-1e-6, "", "own derivation"); err != nil {
		return 0, 0, err
	}
	at := func(of func(Weibull) float64) float64 {
		order := make([]int, len(b.laws))
		for i := range order {
			order[i] = i
		}
		slices.SortFunc(order, func(x, y int) int { return cmp.Compare(of(b.laws[x]), of(b.laws[y])) })
		var sum, before, last float64
		for k := 0; k < len(order); { // laws of one value together, and between two values in a line
			v, w := of(b.laws[order[k]]), 0.0
			for ; k < len(order) && of(b.laws[order[k]]) <= v*(1+1e-9); k++ {
				w += b.weights[order[k]]
			}
			if mid := sum + w/2; mid >= share {
				if before == 0 {
					return v
				}
				return before * math.Pow(v/before, (share-last)/(mid-last))
			} else if mid > 0 {
				before, last = v, mid
			}
			sum += w
		}
		return before
	}
	return at(func(w Weibull) float64 { return w.Shape }), at(func(w Weibull) float64 { return w.Scale }), nil
}

// LookEvery returns how much may be done from one look at a part to the next, so that
// looks and what is spoiled unseen cost least together [unit of the rate's inverse].
//
//	look    cost of one look, above 0 [any]
//	spoilt  cost of one unit done with a part that had failed unseen, above 0 [the same]
//	rate    how readily it fails, above 0 [1/unit]
//
// Equation: the cost per unit look/x + rate · spoilt · x/2 is least at x = √(2 look/(rate · spoilt)).
// Holds for: x small against the part's life, so that the rate is steady between looks; a failure is on average half a span old when it is seen.
// Source: own derivation; the square root is that of BarlowProschan1965 for inspections.
// Errors: RangeError for an argument not above 0.
// Checks: LookEvery rows of checks.csv (own derivation); TestLookEvery against simulated failures.
func LookEvery(look, spoilt, rate float64) (float64, error) {
	if err := errors.Join(process.Within("cost of a look", look, 1e-12, 1e12, "", "judgement"), process.Within("cost of what is spoilt", spoilt, 1e-12, 1e12, "", "judgement"),
		process.Within("rate of failing", rate, 1e-15, 1e12, "", "judgement")); err != nil {
		return 0, err
	}
	return math.Sqrt(2 * look / (rate * spoilt)), nil
}
