package traceability

import (
	"fmt"
	"math"
	"testing"
	"time"

	"hopperful/process/ageing"
	"hopperful/process/colour"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// A lot of a kilogram of which 0.4 came out of another began for 0.6 in itself, whatever is asked of its parts.
func TestWhereALotBegan(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "ABS", Mass: 1, Halogen: shop.No})
	for _, c := range []struct {
		in, mass float64
		want     map[shop.LotID]float64
	}{
		{1, 0.4, map[shop.LotID]float64{"B1": 0.6, "R1": 0.4}},
		{3, 0.6, map[shop.LotID]float64{"B1": 0.8, "R1": 0.2}},
		{0.4, 0.4, map[shop.LotID]float64{"R1": 1}},
		{0.4 + 1e-10, 0.4, map[shop.LotID]float64{"R1": 1}}, // rounding
		{0.5, 0, map[shop.LotID]float64{"B1": 1}},
	} {
		l := &shop.Lot{ID: "B1", Class: shop.Blend, Polymer: "PLA", In: c.in}
		if c.mass > 0 {
			l.Parents = []shop.Edge{{Lot: "R1", Mass: c.mass}}
		}
		got := map[shop.LotID]float64{}
		for _, p := range newTinter(s, true).origins(l) {
			got[p.lot] += p.share
		}
		plastics := NewMadeOf(s).plasticsIn(l)
		for id, name := range map[shop.LotID]string{"B1": "PLA", "R1": "ABS"} {
			if math.Abs(got[id]-c.want[id]) > 1e-9 || math.Abs(plastics[name]-c.want[id]) > 1e-9 {
				t.Errorf("%+v: began in %v, made of %v", c, got, plastics)
			}
		}
	}
}

// Of many lots without a colour three are named and the others counted.
func TestLotsWithoutColourAreNamed(t *testing.T) {
	t.Parallel()
	for n := 2; n <= 6; n++ {
		c := LotColour{Lot: "B1"}
		for i := range n {
			c.Missing = append(c.Missing, shop.LotID(fmt.Sprint("R", i+1)))
		}
		of, _ := c.head().Fact("of")
		named, more := 0, 0.0
		for _, p := range of.Parts {
			if p.Code != "family.more" {
				named++
			} else if f, ok := p.Fact("n"); ok {
				more = f.Value
			}
		}
		if named != min(n, 3) || int(more) != max(0, n-3) {
			t.Errorf("of %d lots %d are named and %g counted", n, named, more)
		}
	}
}

// A record stands after another when it is later, or as late and with the higher number.
func TestWhichRecordIsLater(t *testing.T) {
	t.Parallel()
	at := func(minutes int, id shop.RecordID) shop.Record {
		return shop.Record{ID: id, At: shoptest.Noon.Add(time.Duration(minutes) * time.Minute)}
	}
	for _, c := range []struct {
		a, b shop.Record
		want bool
	}{{at(1, 1), at(0, 2), true}, {at(0, 2), at(1, 1), false}, {at(0, 2), at(0, 1), true}, {at(0, 1), at(0, 2), false}, {at(0, 1), at(0, 1), false}, {at(1, 3), at(0, 2), true}, {at(0, 3), at(1, 2), false}} {
		if later(c.a, c.b) != c.want {
			t.Errorf("%v %d after %v %d is not %t", c.a.At, c.a.ID, c.b.At, c.b.ID, c.want)
		}
	}
}

// However many passes a lot has behind it, a table of eight rows tells of them, the last "or more".
func TestRowsOfManyPasses(t *testing.T) {
	t.Parallel()
	for n, want := range map[int]int{3: 3, 8: 8, 9: 8, 12: 8} {
		even := ageing.Age{Shares: make([]float64, n)}
		for i := range even.Shares {
			even.Shares[i] = 1 / float64(n)
		}
		a := LotAge{Lot: "R1", Known: true, spread: Spread{low: even, mid: even, high: even}}
		a.document()
		rows := a.Tables[0].Rows
		if len(rows) != want {
			t.Fatalf("%d classes in %d rows, wanted %d", n, len(rows), want)
		}
		if last := rows[want-1][1].Figure; last != nil && math.Abs(last.Value-float64(n-want+1)/float64(n)) > 1e-9 {
			t.Errorf("the last of %d rows holds %g", want, last.Value)
		}
	}
}

// A plastic that reflects more than can be told of is looked at as the lightest that can, and clear ones are told of.
func TestWhatIsTooLightOrClear(t *testing.T) {
	t.Parallel()
	mix := func(added float64) mixSeen {
		m := mixSeen{share: 0.3, errs: 2}
		for i := range m.added {
			m.base[i], m.added[i], m.seen[i] = 0.1, added, 0.2
		}
		return m
	}
	edge, err := mix(lightest).tell()
	if err != nil {
		t.Fatal(err)
	}
	strength, _, err := colour.LearnScatter(mustBody(t, mix(lightest).base), mix(lightest).added, 0.3, mustLab(t, mix(0).seen), colour.PhotoSurface())
	if err != nil || math.Abs(edge.ratio-math.Log(strength)) > 1e-12 {
		t.Errorf("told %g, learned %g, %v", edge.ratio, math.Log(strength), err)
	}
	if over, err := mix(0.99).tell(); err != nil || over != edge {
		t.Errorf("at 0.99 told %+v, at the edge %+v, %v", over, edge, err)
	}
	for _, c := range []struct {
		words []string
		want  bool
	}{{[]string{"black", "white"}, false}, {[]string{"black", "Transparent blue"}, true}, {[]string{"clear", "black"}, true}} {
		var bodies []shop.Body
		var parts []ColourPart
		for i, word := range c.words {
			id := shop.LotID(fmt.Sprint("R", i+1))
			bodies = append(bodies, &shop.TakenIn{Lot: id, Class: shop.Regrind, Polymer: "PLA", Colour: word, RGB: "#808080", Mass: 1, Halogen: shop.No})
			parts = append(parts, ColourPart{Lot: id})
		}
		w := newTinter(shoptest.Bin(t, bodies...), true)
		for _, l := range []shop.LotID{"R1", "R2"} {
			w.own[l] = &ownTint{}
		}
		w.learned = &scatters{}
		col := LotColour{Lot: "B1", Parts: parts}
		w.note(&col, Tints{})
		told := false
		for _, n := range col.Notes {
			told = told || n.Code == "colour.clear_shows"
		}
		if told != c.want {
			t.Errorf("%v: clear is told of %t", c.words, told)
		}
	}
}

func mustBody(t *testing.T, c colour.Curve) colour.Body {
	t.Helper()
	b, err := bodyOf(c, 1)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func mustLab(t *testing.T, c colour.Curve) colour.Lab {
	t.Helper()
	l, err := colour.LabOf(c, colour.TwoDegrees)
	if err != nil {
		t.Fatal(err)
	}
	return l
}
