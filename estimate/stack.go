package estimate

import (
	"cmp"
	"math"
	"slices"
)

// The product's forecast, stacked with what any maker reckons by pencil: what is in
// the mill times the yield so far. The two are mixed geometrically, with the share that
// would have forecast the runs best, each from all others (stacked regression,
// from memory: Wolpert 1992, Breiman 1996).

// What is believed of yield and stacking before any record. Judgement.
const (
	usualYield  = 0.8
	yieldWorth  = 0.6         // records the usual yield counts for
	halfAsMuch  = 6.0         // runs after which a yield counts half: bags of scrap, edges and holes change
	oddYield    = 0.25        // a yield off the others by more, as a logarithm, pulls no harder
	modelError  = 0.2         // of the models once a run has taught them, of a logarithm
	booksError  = 0.4         // and before any: on 37 mills to be tuned on their products were off by 0.45, the usual yield by 0.22
	pencilError = 0.2         // of the pencil
	commonError = 0.02        // product of the two that both have in common
	stackWorth  = 6.0         // records that these count for
	mixWorth    = 4.0         // records that the square of the mix counts for
	stackSquare = 0.09 * 0.09 // of the mix
	stackOwn    = 0.08 * 0.08 // of a charge like no other
	farStack    = 0.36        // an error's square counts as this at most
	crumb       = 0.01        // of what is in the mill: a product errs by as much at the least
	farMixed    = 0.3         // of the mix, where all of it shows

	strayed       = 0.18 // a step away from the records
	nearBy        = 0.4  // steps that are none
	farthestStray = 2.0  // steps that count
	farShare      = 0.5  // of the models a step away: on those mills the best was 0.47 or 0.48 after any number of records
)

// pencil is the yield so far, and how far to go by it.
type pencil struct {
	share  float64 // of the models, near the records
	told   float64 // sum of the squares of what the two were apart, which tells that share
	yield  float64 // logarithm
	square float64 // variance of the mix where all of its error shows
	usual  bool    // the yield is the usual one: there is no record
	none   bool    // nothing is mixed
}

// pencil learns the yield from the runs on the target's sheet and blade, from all
// where there is none.
func (f *Fitted) pencil(t Target) pencil {
	out := pencil{share: 1}
	if f.fit.setup.exact {
		out.none = true
		return out
	}
	var like, all []logYield
	for i := range f.fit.runs {
		r := &f.fit.runs[i]
		for k, q := range f.fit.readings[i] {
			one, ok := f.yielded(i, k)
			if q.of != OfProduct || !ok {
				continue
			}
			all = append(all, one)
			if r.Screen == t.Screen && r.Chapter == t.Chapter && r.Polymer == t.Polymer {
				like = append(like, one)
			}
		}
	}
	if len(like) > 0 {
		all = like
	}
	like = all
	if len(all) == 1 { // a single run has nothing but the books to be held against
		like = nil
	}
	others := make([]float64, len(like)) // the yield by pencil from all other runs
	before := modelError
	if len(all) == 0 {
		before = booksError
	}
	a, b, c := stackWorth*before*before, stackWorth*pencilError*pencilError, stackWorth*commonError
	for i, one := range like {
		others[i] = yieldAt(all, float64(i), i)
		e, p := limited(one.miss), limited(one.yield-others[i])
		a, b, c = a+e*e, b+p*p, c+e*p
	}
	told := a + b - 2*c // the prior alone keeps it above nothing
	w := math.Min(math.Max((b-c)/told, 0), 1)
	mixed := mixWorth * (stackSquare + stackOwn)
	for i, one := range like {
		mixed += math.Min(square((w*one.miss+(1-w)*(one.yield-others[i]))/one.bite), farMixed)
	}
	return pencil{share: w, told: told, yield: yieldAt(all, float64(len(all)), -1), square: mixed / (mixWorth + float64(len(like))), usual: len(all) == 0}
}

// shareAt is the models' share so far from where the yield was seen [steps]: a step away
// neither was held against anything, and they count alike.
func (p *pencil) shareAt(distance float64) float64 {
	if p.none {
		return p.share
	}
	return p.share + (farShare-p.share)*math.Min(strays(distance), 1)
}

// yieldAt is the logarithm of the yield that runs say of the one at a place in their
// row: nearer ones count for more, and one far off the others, a slip of the pen or a
// jam, pulls no harder than oddYield. One run may be left out.
func yieldAt(all []logYield, at float64, without int) float64 {
	type told struct{ yield, weight float64 }
	said := []told{{math.Log(usualYield), yieldWorth}}
	half := yieldWorth / 2
	for i, one := range all {
		if i != without {
			w := math.Exp2(-math.Abs(at-float64(i)) / halfAsMuch)
			said = append(said, told{one.yield, w})
			half += w / 2
		}
	}
	slices.SortStableFunc(said, func(a, b told) int { return cmp.Compare(a.yield, b.yield) })
	middle, below := 0.0, 0.0
	for _, one := range said { // the weighted median, where no slip reaches
		middle, below = one.yield, below+one.weight
		if below >= half {
			break
		}
	}
	for range 6 { // settles to a thousandth
		sum, weight := 0.0, 0.0
		for _, one := range said {
			w := one.weight * math.Min(1, oddYield/math.Max(math.Abs(one.yield-middle), 1e-9))
			sum, weight = sum+w*one.yield, weight+w
		}
		middle = sum / weight
	}
	return middle
}

// limited keeps a slip from deciding.
func limited(x float64) float64 {
	return math.Min(math.Max(x, -math.Sqrt(farStack)), math.Sqrt(farStack))
}

// logYield is what a run yielded, and how far the models were off it by the other
// runs, both as logarithms, and the share of its error that could show.
type logYield struct{ yield, miss, bite float64 }

// yielded is a run's yield of what was in the mill, an unweighed rest as far as it is
// known; false where its product is no guide.
func (f *Fitted) yielded(i, k int) (logYield, bool) {
	r, one := &f.fit.runs[i], &f.left[i]
	if r.Product == nil || one.miss == nil {
		return logYield{}, false
	}
	in := r.in(f.fit.now[i].residue)
	product := math.Max(*r.Product, leastYield*in) // nothing is less than can be told from it
	expected := math.Max(product-one.miss[k], 0.05*product)
	return logYield{math.Log(product / in), math.Log(product / expected), bite(expected / in)}, true
}

// stack mixes the yield into the factors on the models' products, one a draw: the
// draws keep their order, and get the middle and the spread of the mix.
func (p *pencil) stack(charge, distance float64, products, factors []float64) {
	logs := make([]float64, len(products))
	for i := range logs {
		logs[i] = math.Log(math.Max(products[i]*factors[i], 1e-9))
	}
	p.mix(charge, distance, logs)
	for i := range logs {
		factors[i] = math.Exp(logs[i]) / math.Max(products[i], 1e-9)
	}
}

// mix moves the logarithms of a product's draws, of so much in the mill [kg], so far
// from the nearest record [steps].
func (p *pencil) mix(in, distance float64, logs []float64) {
	if p.none {
		return
	}
	n := len(logs)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(logs[a], logs[b]) })
	middle := (logs[order[(n-1)/2]] + logs[order[n/2]]) / 2
	own := (logs[order[n-1-n/10]] - logs[order[n/10]]) / 2 / tail
	apart, share := middle-(math.Log(in)+p.yield), p.shareAt(distance)
	to := middle - (1-share)*apart
	// The share is a regression's coefficient and known no better than one.
	mixed := p.square * square(bite(math.Exp(to)/in)) * (1 - share + apart*apart/p.told)
	least := crumb * in / math.Exp(to)
	spread := math.Sqrt(square(productShoulder)*(share*own*own+mixed) + square(strayed*strays(distance)) + least*least)
	if own < 1e-9 { // a single draw, or no doubt at all
		for i := range logs {
			logs[i] += to - middle
		}
		return
	}
	// The models' draws keep their order and their skew; before any record only as far as
	// they are believed, for the usual yield errs by a factor either way.
	skew := 1.0
	if p.usual {
		skew = share
	}
	for rank, i := range order {
		normal := score((float64(rank) + 0.5) / float64(n))
		logs[i] = to + spread*(skew*(logs[i]-middle)/own+(1-skew)*normal)
	}
}

// strays are the steps that a distance counts for: so far away neither the models nor
// the yield so far were held against anything.
func strays(distance float64) float64 {
	return math.Min(math.Max(distance-nearBy, 0), farthestStray)
}

// straying is how far a setting lies from where the yield was seen: from the nearest
// record, before any from the common way to run such mills [steps].
func (f *fit) straying(s Setting) float64 {
	distance, _ := f.near(s)
	if math.IsInf(distance, 1) {
		distance = apart(s, Setting{Charge: UsualCharge * f.setup.chamber(), Time: UsualTime, LevelShare: UsualShare})
	}
	return distance
}

// restack mixes the yield into the products of a run's outcomes.
func (p *pencil) restack(r *Run, distance float64, all []Outcome) {
	logs := make([]float64, len(all))
	for i := range all {
		logs[i] = math.Log(math.Max(all[i].Product, 1e-9))
	}
	in := 0.0
	for i := range all {
		in += all[i].in / float64(len(all))
	}
	p.mix(in, distance, logs)
	for i := range all {
		was := all[i].Product
		all[i].Product = math.Min(math.Exp(logs[i]), all[i].in)
		for k, q := range r.readings() {
			if q.of == OfProduct && k < len(all[i].readings) {
				all[i].readings[k] += all[i].Product - was
			}
		}
	}
}
