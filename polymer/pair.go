package polymer

import (
	"fmt"

	"hopperful/quantity"
	"hopperful/source"
)

// Filled is the stray "material" that stands for fibre, metal, wood or glow
// filled plastic of any kind.
const Filled = "filled"

// Pair says how much of a stray plastic a host bears. The three limits are
// judgement throughout, to be changed by who knows better: no printing study
// with limits was found. Source and mark are those of what happens.
type Pair struct {
	Host, Stray string
	Structural  float64 // highest share [1] in a part that has to hold
	Visual      float64 // highest share [1] in a jig or a part to look at
	Refuse      float64 // share [1] above which to leave it alone
	What        string  // what happens, as the code of a line
	Source      source.Ref
	Mark        Mark
}

// addPair takes a line of pairs.csv.
func (t *Table) addPair(f []string) error {
	p := Pair{Host: f[0], Stray: f[1], What: f[5], Source: source.Ref{Key: f[6], Place: f[7]}, Mark: Mark(f[8])}
	for _, name := range []string{p.Host, p.Stray} {
		if _, ok := t.words[name]; !ok && name != anyMaterial && name != Filled {
			return fmt.Errorf("%q is not listed in names.csv", name)
		}
	}
	for i, into := range []*float64{&p.Structural, &p.Visual, &p.Refuse} {
		share, err := quantity.Share.Parse(f[2+i] + " %")
		if err != nil {
			return err
		}
		*into = share
	}
	switch {
	case !(0 <= p.Structural && p.Structural <= p.Visual && p.Visual <= p.Refuse && p.Refuse <= 1):
		return fmt.Errorf("the shares must rise from structural to refuse, within 0 to 100 %%")
	case p.What == "":
		return fmt.Errorf("column what is empty")
	}
	if err := p.Mark.Fit(p.Source.Key); err != nil {
		return err
	}
	t.pairs = append(t.pairs, p)
	return nil
}

// Pair returns how much of a stray the host bears. The nearest line wins: host
// and stray named, then the stray in any host, then anything in anything. A
// material in itself has no limit. Names are looked up as in [Table.Find];
// "filled" is a stray too.
func (t *Table) Pair(host, stray string) (Pair, error) {
	h, err := t.Find(host)
	if err != nil {
		return Pair{}, err
	}
	s := Polymer{Name: Filled}
	if squeeze(stray) != Filled {
		if s, err = t.Find(stray); err != nil {
			return Pair{}, err
		}
	}
	if h.Name == s.Name && h.Name != Unknown {
		return Pair{
			Host: h.Name, Stray: s.Name, Structural: 1, Visual: 1, Refuse: 1,
			What:   "pair.same",
			Source: source.Ref{Key: "own derivation"}, Mark: Computed,
		}, nil
	}
	for _, want := range [][2]string{{h.Name, s.Name}, {anyMaterial, s.Name}, {h.Name, anyMaterial}, {anyMaterial, anyMaterial}} {
		for _, p := range t.pairs {
			if p.Host == want[0] && p.Stray == want[1] {
				p.Host, p.Stray = h.Name, s.Name
				return p, nil
			}
		}
	}
	return Pair{}, fmt.Errorf("the table of pairs has no line for %s in %s", s.Name, h.Name)
}
