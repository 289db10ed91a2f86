package shop

import "slices"

// part is mass that came out of a lot.
type part struct {
	lot  LotID
	mass float64 // kg
}

// mix is material inside a mill by the lots it came from, the latest last. It
// is taken to be well mixed: whatever leaves, leaves in proportion. A mix is
// never changed in place, so states may share it.
type mix []part

// trace [kg] is the least share of a mix worth following, a microgram: with
// each run a residue thins out but never ends. Judgement.
const trace = 1e-9

func (m mix) mass() float64 {
	sum := 0.0
	for _, p := range m {
		sum += p.mass
	}
	return sum
}

// plus adds another mix; its lots count as the latest.
func (m mix) plus(more mix) mix {
	out := slices.Clone(m)
	for _, p := range more {
		if i := slices.IndexFunc(out, func(q part) bool { return q.lot == p.lot }); i >= 0 {
			p.mass += out[i].mass
			out = slices.Delete(out, i, i+1)
		}
		out = append(out, p)
	}
	return out
}

// scaled is the same mixture at another mass. Traces are counted to the latest
// lot, so that no mass is lost.
func (m mix) scaled(mass float64) mix {
	all := m.mass()
	if all <= 0 || mass <= 0 {
		return nil
	}
	out, rest := mix{}, mass
	for i := len(m) - 1; i >= 0; i-- {
		p := part{m[i].lot, m[i].mass / all * mass}
		if p.mass < trace {
			continue
		}
		rest -= p.mass
		out = append(out, p)
	}
	if len(out) == 0 {
		return mix{{m[len(m)-1].lot, mass}}
	}
	out[0].mass += rest
	slices.Reverse(out)
	return out
}
