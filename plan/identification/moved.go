package identification

import (
	"math"

	"hopperful/fact"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/polymer/identify"
	"hopperful/shop"
)

// Move is what one finding changed, in the order they were made.
type Move struct {
	Finding fact.Saying
	Polymer string // whose share it moved most
	Before  figure.Figure
	After   figure.Figure
}

// moves says what each finding changed, and keeps the shares before the last.
func (q *inquiry) moves() error {
	before := q.book.ByPolymer(q.prior)
	for i, f := range q.opt.Findings {
		shares, err := q.book.Weigh(q.prior, q.opt.Findings[:i+1])
		if err != nil {
			return shop.OutOfRange("findings", fact.Saying{}, err)
		}
		after, most := q.book.ByPolymer(shares), ""
		for _, name := range q.polymers() {
			if most == "" || math.Abs(after[name]-before[name]) > math.Abs(after[most]-before[most]) {
				most = name
			}
		}
		q.out.Moved = append(q.out.Moved, Move{Finding: q.said(f), Polymer: most,
			Before: q.share("before", most, before[most]), After: q.share("after", most, after[most])})
		q.was, before = before, after
	}
	return nil
}

// then says where an answer to a test would lead: the likeliest polymer and its
// share, or a stop.
func (q *inquiry) then(f identify.Finding) (fact.Saying, error) {
	shares, err := q.book.Weigh(q.prior, append(q.opt.Findings[:len(q.opt.Findings):len(q.opt.Findings)], f))
	if err != nil {
		return fact.Saying{}, shop.OutOfRange("findings", fact.Saying{}, err)
	}
	if q.book.Suspect(shares) {
		return fact.Say("identification.then_stop"), nil
	}
	name, share := q.book.Best(shares)
	return with(name, share), nil
}

// Parting is the float test that tells most between the two likeliest polymers.
type Parting struct {
	Light string // floats
	Heavy string // sinks
	Test  Test
}

// part looks for a liquid between the two likeliest polymers; none when no
// liquid tells them apart.
func (q *inquiry) part() error {
	var two []string
	for _, m := range q.out.Materials {
		if m.Polymer != polymer.Unknown && len(two) < 2 {
			two = append(two, m.Polymer)
		}
	}
	shares, sum := make([]float64, len(q.shares)), 0.0
	mean := map[string]float64{}
	for i, c := range q.book.Candidates {
		if len(two) == 2 && (c.Polymer == two[0] || c.Polymer == two[1]) {
			shares[i] = 0.5 * q.shares[i] / q.book.ByPolymer(q.shares)[c.Polymer] // both alike: what parts them, whatever is thought now
			sum += shares[i]
			if rho, _ := c.Density(); rho > 0 {
				mean[c.Polymer] = rho
			}
		}
	}
	if len(mean) < 2 || math.Abs(sum-1) > 1e-9 {
		return nil
	}
	w, err := q.book.PartingLiquid(shares)
	if err != nil {
		return shop.OutOfRange("liquid", fact.Say("identification.is_density"), err)
	}
	if w.Bits < leastParted {
		return nil
	}
	p := Parting{Light: two[0], Heavy: two[1]}
	if mean[p.Light] > mean[p.Heavy] {
		p.Light, p.Heavy = p.Heavy, p.Light
	}
	here, err := q.book.Informs(q.shares, w.Test)
	if err != nil {
		return shop.OutOfRange("liquid", fact.Say("identification.is_density"), err)
	}
	if p.Test, err = q.test(here); err != nil {
		return err
	}
	q.out.Part = &p
	return nil
}

// leastParted is what a liquid must tell between two alike to be worth mixing
// [bit]. Judgement.
const leastParted = 0.2
