package sieving

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"hopperful/answer"
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

const how = "linear in the logarithm of size between sieves; the range is that of a sample worth 1000 grains, of the scale's digits, and of what is missing being dust or like the rest"

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
	{"d10", "a tenth is finer than", 0.10, func(s sieve.Sizes) sieve.Size { return s.D10 }},
	{"d16", "16 % is finer than", 0.16, func(s sieve.Sizes) sieve.Size { return s.D16 }},
	{"d50", "half is finer than", 0.50, func(s sieve.Sizes) sieve.Size { return s.D50 }},
	{"d84", "84 % is finer than", 0.84, func(s sieve.Sizes) sieve.Size { return s.D84 }},
	{"d90", "nine tenths are finer than", 0.90, func(s sieve.Sizes) sieve.Size { return s.D90 }},
}

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
			g = f.mine(g).Warn(fmt.Sprintf("It lies %s this size, beyond the stack; only that much is known.", size.Side))
			g.Name += fmt.Sprintf(" (known to lie %s)", size.Side)
		}
		f.out.Figures = append(f.out.Figures, g)
	}
	for _, r := range []struct {
		key, name, how string
		of             func(sieve.Sizes) sieve.Ratio
	}{
		{"span", "span", "(d90 − d10) ÷ d50", func(s sieve.Sizes) sieve.Ratio { return s.Span }},
		{"uniformity", "uniformity", "d60 ÷ d10", func(s sieve.Sizes) sieve.Ratio { return s.Uniformity }},
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
		f.out.Figures = append(f.out.Figures, g.From(r.how, f.figures("d10", "d50", "d90")...).Cite("Holooly2026", "definitions"))
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
				f.worry(0.9, answer.Sentence(e.What), answer.Sentence(e.Hint))
				return nil
			}
			return refusal(err)
		}
		how := "RRSB through the one sieve with n = 1.5; the range from n = 0.8 to 3"
		if len(f.a.Sieves) == 2 {
			how = "RRSB through both sieves; the range from RRSB, Gates–Gaudin–Schuhmann and log-normal through the same points"
		}
		g := f.mine(figure.Figure{Key: q.key, Name: q.name, Kind: quantity.Length, Value: r.Value, Low: r.Low, High: r.High, Basis: figure.Reckoned}).
			From(how).Cite("judgement", "the range of n").Warn("A simple test: more sieves narrow the range.")
		f.out.Figures = append(f.out.Figures, g)
	}
	return nil
}

// figures finds figures of the answer by their keys.
func (f *sifting) figures(keys ...string) []figure.Figure {
	var found []figure.Figure
	for _, k := range keys {
		for _, g := range f.out.Figures {
			if g.Key == k {
				found = append(found, g)
			}
		}
	}
	return found
}

// limits states the shares below and above the limits.
func (f *sifting) limits() error {
	if f.opt.Coarse == 0 && f.out.Screen != nil && f.out.Screen.Hole != nil {
		f.opt.Coarse = f.out.Screen.Hole.Value
	}
	add := func(key, name string, of func(sieve.Discrete) (float64, error)) error {
		v, err := of(f.d)
		if beyond := (*sieve.BeyondError)(nil); errors.As(err, &beyond) {
			f.out.Notes = append(f.out.Notes, fmt.Sprintf("What is %s is not known: %v.", name, err))
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
		f.out.Figures = append(f.out.Figures, g.From("share of the mass found; "+how))
		return err
	}
	below := func(d sieve.Discrete) (float64, error) { return sieve.FinesShare(d, f.opt.Fines) }
	if err := add("fines", "finer than "+quantity.Length.Plain(f.opt.Fines), below); err != nil || f.opt.Coarse == 0 {
		return err
	}
	above := func(d sieve.Discrete) (float64, error) { return sieve.OversizeShare(d, f.opt.Coarse) }
	return add("oversize", "coarser than "+quantity.Length.Plain(f.opt.Coarse), above)
}
