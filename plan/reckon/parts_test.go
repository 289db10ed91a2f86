package reckon

import (
	"math"
	"testing"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/polymer"
	"hopperful/process/colour"
	"hopperful/quantity"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// Points of a curve stand in 48 steps from end to end, on the logarithm where its axis is: from 1 to 16 every twelfth is another doubling.
func TestPointsOfACurve(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		log    bool
		at     map[int]float64
		lo, hi float64
	}{{false, map[int]float64{0: 2, 12: 3, 24: 4, 48: 6}, 2, 6}, {true, map[int]float64{0: 1, 12: 2, 24: 4, 36: 8, 48: 16}, 1, 16}} {
		r := &reckoning{}
		r.topic.Key = "loop"
		if err := r.plot(answer.Chart{Key: "x", LogX: c.log, XKind: quantity.Number, YKind: quantity.Number}, c.lo, c.hi, func(x float64) (float64, error) { return 10 * x, nil }); err != nil {
			t.Fatal(err)
		}
		k := r.out.Charts[0].Curves[0]
		if len(k.X) != 49 {
			t.Fatalf("%d points", len(k.X))
		}
		for i, want := range c.at {
			if math.Abs(k.X[i]-want) > 1e-12 || math.Abs(k.Mid[i]-10*want) > 1e-11 {
				t.Errorf("point %d is %g, %g; wanted at %g", i, k.X[i], k.Mid[i], want)
			}
		}
		for i, want := range []float64{10 * c.lo, c.lo, 10 * c.hi, c.hi} {
			if got := r.out.Charts[0].Facts[i].Value; math.Abs(got-want) > 1e-9 {
				t.Errorf("%s is %g, wanted %g", r.out.Charts[0].Facts[i].Name, got, want)
			}
		}
	}
}

// A range is told by its geometric middle, and by its plain one where it reaches down to nothing.
func TestTheMiddleOfARange(t *testing.T) {
	t.Parallel()
	for _, c := range [][3]float64{{1, 4, 2}, {0, 4, 2}, {0.25, 1, 0.5}, {-1, 3, 1}} {
		r := &reckoning{}
		if f := r.ranged("x", quantity.Number, c[0], c[1]); f.Value != c[2] || f.Low != c[0] || f.High != c[1] {
			t.Errorf("%g to %g: %g", c[0], c[1], f.Value)
		}
	}
}

// A colour named twice is one part, whichever it is; what has no share is left out.
func TestColoursNamedTwice(t *testing.T) {
	t.Parallel()
	of := func(text string) string {
		list, err := colour.ParsePortions(text)
		if err != nil {
			t.Fatal(err)
		}
		parts, err := codeParts(list)
		if err != nil {
			t.Fatal(err)
		}
		told := ""
		for _, p := range parts {
			told += p.name + " " + fact.About("", quantity.Number, math.Round(p.share*1e6)/1e6).Text + " "
			if p.share <= 0 {
				t.Errorf("%s has a share of %g", p.name, p.share)
			}
		}
		if len(parts) > 0 && parts[0].share != 3 {
			t.Errorf("%s: the first has %g", text, parts[0].share)
		}
		return told
	}
	for text, n := range map[string]int{"#102030 1, #405060 2, #102030 2": 2, "#102030 3, #405060 2, #405060 1": 2, "#102030 3": 1} {
		if got := of(text); len(got) == 0 || countParts(got) != n {
			t.Errorf("%s: %q", text, got)
		}
	}
}

func countParts(told string) (n int) {
	for _, c := range told {
		if c == '#' {
			n++
		}
	}
	return n
}

// What it was asked with is told: colours, else lots, else nothing.
func TestWhatItWasAskedWith(t *testing.T) {
	t.Parallel()
	list, err := colour.ParsePortions("#102030 1")
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range []struct {
		given Given
		want  bool
		text  string
	}{{Given{}, false, ""}, {Given{Lots: map[string][]shop.LotID{"x": {"R1"}}}, true, "R1"}, {Given{Lots: map[string][]shop.LotID{"x": {"R1", "R2"}}}, true, "R1, R2"}, {Given{Colours: map[string][]colour.Portion{"x": list}, Lots: map[string][]shop.LotID{"x": {"R1"}}}, true, colour.Portions(list).String()}} {
		r := &reckoning{out: Reckoning{Words: map[string]string{}}}
		r.list(Input{Key: "x"}, c.given)
		if got, ok := r.out.Words["x"]; ok != c.want || got != c.text {
			t.Errorf("case %d: %q", i, got)
		}
	}
}

// A loop in which water acts loses at most all: more cuts than ten moles a kilogram change nothing, and what bears no share bears none.
func TestLoopsAtTheirEnds(t *testing.T) {
	t.Parallel()
	wet := loop{cut: true, water: 1e-3, bound: 0.8}
	h := history{factor: 0.98, molar: 1, cuts: 1, brittle: 0.02}
	if a, b := wet.damp(h, 10), wet.damp(h, 20); a != b || wet.damp(h, 9) == a {
		t.Errorf("ten passes of a mole: %g, twenty %g, nine %g", a, b, wet.damp(h, 9))
	}
	if got := wet.damp(history{factor: 1, molar: 50, cuts: 1, brittle: 0.9}, 2); got != 0 {
		t.Errorf("nothing is left, and it is %g", got)
	}
	// The largest share of regrind that a loop with water bears is where what is settled meets the bound.
	for _, bound := range []float64{0.7, 0.9} {
		l := loop{cut: true, water: 1e-3, bound: bound}
		h := history{factor: 0.97, molar: 50, cuts: 0.002, brittle: 0.2}
		most := l.most(h)
		if most <= 0 || most >= mostRound || !l.holds(l.settled(most-1e-6, h)) || l.holds(l.settled(most+1e-6, h)) {
			t.Errorf("with a bound of %g it bears %g: %g there", bound, most, l.settled(most, h))
		}
	}
	if got := (loop{cut: true, water: 1e-3, bound: 1e-9}).most(history{factor: 1, molar: 1, cuts: 1e-9, brittle: 0.01}); got != mostRound {
		t.Errorf("what loses nothing bears %g", got)
	}
	if got := (loop{cut: true, water: 1e-3, bound: 1}).most(history{factor: 0.9, molar: 50, cuts: 0.01, brittle: 0.2}); got > 1e-6 {
		t.Errorf("what may lose nothing bears %g", got)
	}
	for _, c := range []struct {
		flow     bool
		v, bound float64
		holds    bool
	}{{false, 0.8, 0.8, true}, {false, 0.79, 0.8, false}, {true, 1.5, 1.5, true}, {true, 1.51, 1.5, false}, {true, 1 / 1.49, 1.5, true}, {true, 1 / 1.51, 1.5, false}} {
		if got := (loop{flow: c.flow, bound: c.bound}).holds(c.v); got != c.holds {
			t.Errorf("%+v: holds %t", c, got)
		}
	}
}

// A material the topic is not asked with is unknown; the shop's air stands in where it is within what is taken.
func TestMaterialsAndAirOfTopics(t *testing.T) {
	t.Parallel()
	if got := (&reckoning{}).material(); got != polymer.Unknown {
		t.Errorf("%s", got)
	}
	topic := Topic{Inputs: []Input{{Key: "room", Default: 293, Low: 280, High: 300}, {Key: "humidity", Default: 0.5, Low: 0.1, High: 0.9}, {Key: "other", Default: 1}}}
	for i, c := range []struct {
		room, humidity *float64
		want           [2]float64
		shops          [2]bool
	}{
		{nil, nil, [2]float64{293, 0.5}, [2]bool{}}, {shoptest.P(280), shoptest.P(0.9), [2]float64{280, 0.9}, [2]bool{true, true}}, {shoptest.P(300), shoptest.P(0.1), [2]float64{300, 0.1}, [2]bool{true, true}},
		{shoptest.P(279), shoptest.P(0.91), [2]float64{293, 0.5}, [2]bool{}}, {shoptest.P(301), shoptest.P(0.09), [2]float64{293, 0.5}, [2]bool{}},
	} {
		got := topic.In(&shop.State{Shop: shop.ShopSet{RoomTemperature: c.room, RoomHumidity: c.humidity}})
		for k := range 2 {
			if got.Inputs[k].Default != c.want[k] || got.Inputs[k].Shops != c.shops[k] {
				t.Errorf("case %d: %+v", i, got.Inputs[k])
			}
		}
	}
	if got := topic.In(nil); got.Inputs[0].Default != 293 {
		t.Errorf("%+v", got.Inputs[0])
	}
}
