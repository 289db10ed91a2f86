package sieving

import (
	"errors"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/sieve"
	"hopperful/quantity"
)

const (
	siftDraws = 300
	siftSeed  = 11 // any fixed number: the same stack gives the same ranges
	// siftGrains is how many grains a sample is worth, as in the fits of package
	// sieve: a bag sampled by the scoop scatters like far fewer grains than it
	// holds (judgement).
	siftGrains = 1000.0
)

const how = "sieving.how_sizes"

// draw makes the stacks that might as well have been found: grains drawn anew,
// each mass off by up to half a digit of the scale, and of what is missing a part
// that was dust.
func (f *sifting) draw() error {
	rng := rand.New(rand.NewPCG(siftSeed, siftSeed))
	digit := f.state.Resolution(f.a.Recovered)
	n := len(f.a.Sieves)
	grains := siftGrains
	if f.stack.Photo != nil {
		grains = math.Max(1, f.stack.Photo.Effective)
	}
	for range siftDraws {
		mass, sum := make([]float64, n+1), 0.0
		for i, m := range f.a.Retained {
			m = math.Max(0, m+digit*(rng.Float64()-0.5)*holdsOf(m > 0))
			if m > 0 {
				mass[i] = distuv.Gamma{Alpha: grains * m / f.a.Recovered, Beta: grains, Src: rng}.Rand()
			}
			sum += mass[i]
		}
		if !(sum > 0) {
			mass[n], sum = 1, 1 // fewer grains than can be; the pan stands for them
		}
		dust := rng.Float64() * math.Max(f.a.Loss, 0) / f.a.Recovered
		one := sieve.Analysis{Sieves: f.a.Sieves, Passing: make([]float64, n)}
		finer := mass[n]/sum + dust
		for i := n - 1; i >= 0; i-- {
			one.Passing[i] = math.Min(1, finer/(1+dust))
			finer += mass[i] / sum
		}
		if f.stack.Photo != nil {
			one.Passing = resized(one, math.Exp(f.stack.Photo.Spread*rng.NormFloat64()))
		}
		if f.a.Passing[0] == 1 {
			one.Passing[0] = 1 // rounding must not put grains onto an empty sieve
		}
		d, err := one.Distribution(sieve.Bounds{})
		if err != nil {
			return refusal(err)
		}
		f.draws = append(f.draws, d)
	}
	return nil
}

// spread gives a measured value the range of the draws. A draw in which it is
// not known keeps the value.
func (f *sifting) spread(g figure.Figure, each func(sieve.Discrete) (float64, bool, error)) (figure.Figure, error) {
	all := make([]float64, len(f.draws))
	for i, d := range f.draws {
		v, ok, err := each(d)
		if err != nil {
			return g, err
		}
		if all[i] = v; !ok {
			all[i] = g.Value
		}
	}
	g.Low, g.High = math.Min(g.Value, answer.Quantile(all, 0.1)), math.Max(g.Value, answer.Quantile(all, 0.9))
	return f.mine(g), nil
}

// shares are the characteristic sizes, by the share finer.
var shares = []struct {
	key, name string
	share     float64
	of        func(sieve.Sizes) sieve.Size
}{
	{"d10", "sieving.d10", 0.10, func(s sieve.Sizes) sieve.Size { return s.D10 }},
	{"d16", "sieving.d16", 0.16, func(s sieve.Sizes) sieve.Size { return s.D16 }},
	{"d50", "sieving.d50", 0.50, func(s sieve.Sizes) sieve.Size { return s.D50 }},
	{"d84", "sieving.d84", 0.84, func(s sieve.Sizes) sieve.Size { return s.D84 }},
	{"d90", "sieving.d90", 0.90, func(s sieve.Sizes) sieve.Size { return s.D90 }},
}

// beyond says that a size lies outside the stack.
var beyond = map[string]string{"below": "sieving.lies_below", "above": "sieving.lies_above"}

// sizes states the characteristic sizes, span and uniformity.
func (f *sifting) sizes() error {
	if f.out.Simple {
		return f.simpleSizes()
	}
	sizes, err := sieve.Describe(f.d)
	if err != nil {
		return refusal(err)
	}
	for _, q := range shares {
		size := q.of(sizes)
		g := figure.Exact(q.key, q.name, quantity.Length, size.Value, figure.Reckoned).From(how)
		if size.Known() {
			g, err = f.spread(g, func(d sieve.Discrete) (float64, bool, error) {
				v, err := d.Quantile(q.share)
				if beyond := (*sieve.BeyondError)(nil); errors.As(err, &beyond) {
					return beyond.Edge, true, nil
				}
				return v, true, err
			})
			if err != nil {
				return err
			}
		} else {
			g = f.mine(g).Warn(beyond[size.Side])
		}
		f.out.Sizes = append(f.out.Sizes, g)
	}
	for _, r := range []struct {
		key, name, how string
		of             func(sieve.Sizes) sieve.Ratio
	}{
		{"span", "sieving.span", "(d90 − d10) ÷ d50", func(s sieve.Sizes) sieve.Ratio { return s.Span }},
		{"uniformity", "sieving.uniformity", "d60 ÷ d10", func(s sieve.Sizes) sieve.Ratio { return s.Uniformity }},
	} {
		if !r.of(sizes).Known {
			continue
		}
		g, err := f.spread(figure.Exact(r.key, r.name, quantity.Number, r.of(sizes).Value, figure.Reckoned), func(d sieve.Discrete) (float64, bool, error) {
			s, err := sieve.Describe(d)
			return r.of(s).Value, r.of(s).Known, err
		})
		if err != nil {
			return err
		}
		f.out.Sizes = append(f.out.Sizes, g.From(r.how, f.figures("d10", "d50", "d90")...).Cite("Holooly2026", "definitions"))
	}
	return nil
}

// simpleSizes states what one or two sieves can say: sizes with the range of all
// laws that pass through the same points.
func (f *sifting) simpleSizes() error {
	for _, q := range shares {
		r, err := sieve.SimpleSize(f.a, q.share)
		if err != nil {
			if e := (*sieve.EntryError)(nil); errors.As(err, &e) {
				f.worry(0.9, refused(e), advised(e))
				return nil
			}
			return refusal(err)
		}
		how := "sieving.how_one_sieve"
		if len(f.a.Sieves) == 2 {
			how = "sieving.how_two_sieves"
		}
		g := f.mine(figure.Figure{Key: q.key, Name: q.name, Kind: quantity.Length, Value: r.Value, Low: r.Low, High: r.High, Basis: figure.Reckoned}).
			From(how).Cite("judgement", "the range of n").Warn("sieving.more_sieves_narrow")
		f.out.Sizes = append(f.out.Sizes, g)
	}
	return nil
}

// noShare is less than a scale tells of any sample: what is left of it is the arithmetic's. Judgement.
const noShare = 1e-6

// limits states the shares below and above the limits.
func (f *sifting) limits() error {
	if f.opt.Coarse == 0 && f.out.Screen != nil && f.out.Screen.Hole != nil {
		f.opt.Coarse = f.out.Screen.Hole.Value
	}
	add := func(key, name string, at float64, of func(sieve.Discrete) (float64, error)) error {
		v, err := of(f.d)
		if beyond := (*sieve.BeyondError)(nil); errors.As(err, &beyond) {
			f.notes = append(f.notes, fact.Say("sieving.share_not_known", fact.Set("size", quantity.Length, at)))
			return nil
		}
		if err != nil {
			return refusal(err)
		}
		g, err := f.spread(figure.Exact(key, name, quantity.Share, v, figure.Reckoned), func(d sieve.Discrete) (float64, bool, error) {
			v, err := of(d)
			if beyond := (*sieve.BeyondError)(nil); errors.As(err, &beyond) {
				return 0, false, nil
			}
			return v, true, err
		})
		g.About = quantity.Length.Plain(at)
		f.out.Sizes = append(f.out.Sizes, g.From(how))
		return err
	}
	below := func(d sieve.Discrete) (float64, error) { return sieve.FinesShare(d, f.opt.Fines) }
	if err := add("fines", "sieving.finer_than", f.opt.Fines, below); err != nil || f.opt.Coarse == 0 {
		return err
	}
	above := func(d sieve.Discrete) (float64, error) {
		v, err := sieve.OversizeShare(d, f.opt.Coarse)
		if v < noShare {
			v = 0
		}
		return v, err
	}
	return add("oversize", "sieving.coarser_than", f.opt.Coarse, above)
}
