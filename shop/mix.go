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
	out := append(make(mix, 0, len(m)+len(more)), m...)
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
	if mass == all { // the common case: nothing of it was found
		return m
	}
	out, rest := make(mix, 0, len(m)), mass
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

// followed is how many lots a mix that nobody weighed is told by at the least, once
// it came out of more than twice as many: a lot is told apart as long as it is a
// 250th of the whole. Which of hundreds of lots a crumb comes from, found
// after hundreds of runs without a look into the mill, is a guess in any case, and a
// run that finds some would be linked to every one of them. Judgement.
const followed = 250

// coarse is the same mass told by fewer lots, where there are too many: those that
// came one after the other and are small count to the largest of them. It is done
// for as many lots at once as are kept, so that its cost goes with the runs. The latest
// lot stays: traces count to it.
func (m mix) coarse() mix {
	if len(m) <= 2*followed {
		return m
	}
	enough := m.mass() / followed
	out, last := make(mix, 0, followed+2), m[len(m)-1]
	var group, largest part
	for _, p := range m[:len(m)-1] {
		if p.mass >= largest.mass {
			largest = p
		}
		group = part{largest.lot, group.mass + p.mass}
		if group.mass >= enough {
			out, group, largest = append(out, group), part{}, part{}
		}
	}
	if group.mass > 0 {
		out = append(out, group)
	}
	return append(out, last)
}
