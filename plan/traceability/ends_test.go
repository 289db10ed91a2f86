package traceability

import (
	"math"
	"testing"

	"hopperful/process/ageing"
	"hopperful/process/colour"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// grey reflects the same at every wavelength.
func grey(r float64) colour.Curve {
	var c colour.Curve
	for i := range c {
		c[i] = r
	}
	return c
}

// A grey seen on the way between two others lies at the end it is nearer to.
func TestTheNearerEnd(t *testing.T) {
	t.Parallel()
	for part, want := range map[float64]bool{0: false, 0.2: false, 0.4: false, 0.5: false, 0.6: true, 0.8: true, 1: true} {
		least, second, err := nearest(grey(0.1+0.4*part), grey(0.1), grey(0.5))
		if err != nil || least > 1e-9 || second != want {
			t.Errorf("%g of the way: %g off, nearer the second %t, %v", part, least, second, err)
		}
	}
}

// How far a mix is from a colour: the difference of what was reckoned, and the range of the draws about it.
func TestHowFarADrawnMixIs(t *testing.T) {
	t.Parallel()
	wanted := mustLab(t, grey(0.2))
	off := func(r float64) float64 {
		v, err := colour.Difference(mustLab(t, grey(r)), wanted)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	d := Drawn{mixed: grey(0.25), unmixed: grey(0.4)}
	for range 10 {
		d.draws = append(d.draws, drawnMix{mixed: grey(0.25), unmixed: grey(0.5)})
	}
	mixed, unmixed, err := d.From(wanted)
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string][2]float64{"melted": {mixed.Value, off(0.25)}, "at least": {mixed.Low, off(0.25)}, "at most": {mixed.High, off(0.25)},
		"side by side": {unmixed.Value, off(0.4)}, "side by side at least": {unmixed.Low, off(0.4)}, "side by side at most": {unmixed.High, off(0.5)}} {
		if math.Abs(c[0]-c[1]) > 1e-9 {
			t.Errorf("%s %g, wanted %g", name, c[0], c[1])
		}
	}
	if mixed.Key != "colour_mixed" || unmixed.Key != "colour_unmixed" || !(off(0.5) > off(0.4) && off(0.4) > off(0.25) && off(0.25) > 1) {
		t.Errorf("%+v %+v", mixed, unmixed)
	}
}

// Ground and printed lots have their parents' code, others unless one parent's differs.
func TestWhoseCodeItIs(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, shoptest.Painted("R1", shop.Regrind, "#808080", 1), shoptest.Painted("R2", shop.Regrind, "#808080", 1), shoptest.Painted("R3", shop.Regrind, "#202020", 1))
	for _, c := range []struct {
		class shop.Class
		rgb   string
		from  []shop.LotID
		want  bool
	}{
		{shop.Blend, "#808080", []shop.LotID{"R1", "R2"}, true}, {shop.Blend, "#808080", []shop.LotID{"R1", "R3"}, false}, {shop.Blend, "#808080", []shop.LotID{"R3", "R1"}, false},
		{shop.Scrap, "#202020", []shop.LotID{"R3"}, true}, {shop.Scrap, "#202020", []shop.LotID{"R1"}, false}, {shop.Regrind, "#101010", []shop.LotID{"R1"}, true}, {shop.Print, "#101010", []shop.LotID{"R1"}, true},
	} {
		l := &shop.Lot{ID: "B1", Class: c.class, RGB: c.rgb}
		for _, id := range c.from {
			l.Parents = append(l.Parents, shop.Edge{Lot: id, Mass: 1})
		}
		if got := newTinter(s, true).inherited(l); got != c.want {
			t.Errorf("%+v: inherited %t", c, got)
		}
	}
}

// A row of passes holds the middle's share between the least and the most of the three ages.
func TestRowsHoldTheirRange(t *testing.T) {
	t.Parallel()
	age := func(none, one float64) ageing.Age { return ageing.Age{Shares: []float64{none, one, 1 - none - one}} }
	a := LotAge{Lot: "R1", spread: Spread{low: age(0.6, 0.3), mid: age(0.3, 0.2), high: age(0.1, 0.4)}}
	for most, want := range map[int][]Passes{
		3: {{Number: 0, Share: 0.3, Low: 0.1, High: 0.6}, {Number: 1, Share: 0.2, Low: 0.2, High: 0.4}, {Number: 2, Share: 0.5, Low: 0.1, High: 0.5}},
		2: {{Number: 0, Share: 0.3, Low: 0.1, High: 0.6}, {Number: 1, Share: 0.7, Low: 0.4, High: 0.9, OrMore: true}},
	} {
		for i, x := range a.Gathered(most) {
			w := want[i]
			if x.Number != w.Number || x.OrMore != w.OrMore || math.Abs(x.Share-w.Share) > 1e-12 || math.Abs(x.Low-w.Low) > 1e-12 || math.Abs(x.High-w.High) > 1e-12 {
				t.Errorf("of %d rows %+v, wanted %+v", most, x, w)
			}
		}
	}
}
