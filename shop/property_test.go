package shop

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// monday is when the random shops open.
var monday = time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)

// TestAnyHistoryBalances draws random days of a shop, with corrections, records
// struck out and records written down late, and asks after every record that
// is not refused that the laws of the shop hold.
func TestAnyHistoryBalances(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		s := mustFold(t, []Record{
			{At: monday, Body: &MillSet{Mill: Mill{Name: "big"}}},
			{At: monday, Body: &MillSet{Mill: Mill{Name: "small"}}},
			{At: monday, Body: &ScaleSet{Scale{Name: "kitchen", Resolution: 0.001}}},
			{At: monday, Body: &PrinterSet{Printer{Name: "pellet"}}},
			{At: monday, Body: &TakenIn{Class: Scrap, Polymer: "PLA", Mass: 3}},
			{At: monday, Body: &TakenIn{Class: Virgin, Polymer: "PLA", Mass: 1}},
		})
		for i := range rapid.IntRange(5, 40).Draw(t, "records") {
			r := drawRecord(t, s, monday.Add(time.Duration(i)*time.Hour))
			next, err := s.With(r)
			var refused *Error
			switch {
			case err == nil:
				s = next
				laws(t, s)
			case !errors.As(err, &refused) || refused.What.Empty():
				t.Fatalf("%v is no refusal", err)
			}
		}
		again := mustFold(t, s.History.List())
		if !sameState(s, again) {
			t.Fatalf("folding the history again gives another state")
		}
	})
}

func mustFold(t rapid.TB, rs []Record) *State {
	s, err := Fold(rs)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// sameState compares everything but what is only used while a state is made, and lots by
// what they are: which of them a write copied last depends on how the state was made.
func sameState(a, b *State) bool {
	if a.Lots.Len() != b.Lots.Len() || !reflect.DeepEqual(lotsOf(a), lotsOf(b)) {
		return false
	}
	x, y := *a, *b
	x.own, y.own = nil, nil
	x.Lots, y.Lots = Lots{}, Lots{}
	return reflect.DeepEqual(x, y)
}

// lotsOf are the lots of a state by their labels.
func lotsOf(s *State) map[LotID]*Lot {
	lots := map[LotID]*Lot{}
	for _, id := range s.Order {
		lots[id] = s.Lots.At(id)
	}
	return lots
}

// laws are what must hold in every state.
func laws(t rapid.TB, s *State) {
	t.Helper()
	b := BalanceOf(s)
	if math.Abs(b.Residual) > 1e-9*b.In {
		t.Fatalf("of %g kg taken in, %g kg are nowhere: %+v", b.In, b.Residual, b)
	}
	for _, m := range s.Mills {
		if m.Held < 0 {
			t.Fatalf("mill %s holds %g kg", m.Name, m.Held)
		}
	}
	if len(s.Order) != s.Lots.Len() {
		t.Fatalf("%d lots in order, %d in all", len(s.Order), s.Lots.Len())
	}
	for _, id := range s.Order {
		lawsOfLot(t, s, s.Lots.At(id))
	}
}

func lawsOfLot(t rapid.TB, s *State, l *Lot) {
	t.Helper()
	if l.Mass < 0 || l.In < 0 {
		t.Fatalf("lot %s has %g kg of %g kg", l.ID, l.Mass, l.In)
	}
	if s.walk(l.ID, s.up)[l.ID] {
		t.Fatalf("lot %s is its own ancestor", l.ID)
	}
	from := 0.0
	for _, e := range l.Parents {
		from += e.Mass
		if !hasEdge(s.Lots.At(e.Lot).Children, Edge{l.ID, e.Mass, e.Record}) {
			t.Fatalf("lot %s does not know its child %s", e.Lot, l.ID)
		}
	}
	if from > l.In*(1+1e-9) {
		t.Fatalf("lot %s had %g kg, of which %g kg from others", l.ID, l.In, from)
	}
	shares := 0.0
	for _, e := range s.Composition(l.ID) {
		shares += e.Mass
	}
	if l.Taken != nil {
		if all := s.ColoursTaken(l.ID); len(all) == 0 || all[0].ID != l.TakenBy || all[0].Body.RGB != l.Taken.RGB {
			t.Fatalf("lot %s has the colour of record %d, its records say %+v", l.ID, l.TakenBy, all)
		}
	}
	if l.In > 0 && math.Abs(shares-1) > 1e-6 {
		t.Fatalf("lot %s consists of %g of itself", l.ID, shares)
	}
}

func hasEdge(list []Edge, e Edge) bool {
	for _, x := range list {
		if x == e {
			return true
		}
	}
	return false
}

// drawRecord draws something that could happen next: mostly now, sometimes
// earlier, sometimes as a correction.
func drawRecord(t *rapid.T, s *State, now time.Time) Record {
	r := Record{At: now, Body: drawBody(t, s)}
	switch rapid.IntRange(0, 9).Draw(t, "when") {
	case 0, 1: // written down late
		r.At = monday.Add(time.Duration(rapid.IntRange(0, int(now.Sub(monday).Minutes())).Draw(t, "late")) * time.Minute)
	case 2: // a correction
		old := s.History.At(rapid.IntRange(0, s.History.Len()-1).Draw(t, "corrected"))
		r = Record{Corrects: old.ID, Body: drawCorrection(t, old.Body)}
	}
	return r
}

func drawCorrection(t *rapid.T, old Body) Body {
	factor := rapid.Float64Range(0.5, 1.2).Draw(t, "factor")
	switch b := old.(type) {
	case *TakenIn:
		c := *b
		c.Mass *= factor
		c.Lot = ""
		return &c
	case *Ground:
		c := *b
		c.Charge *= factor
		return &c
	case *Printed:
		c := *b
		c.Mass, c.Purged = c.Mass*factor, nil
		return &c
	}
	return &Void{Why: "a slip"}
}

func drawBody(t *rapid.T, s *State) Body {
	id := rapid.SampledFrom(s.Order).Draw(t, "lot")
	mass := math.Max(grain, s.Lots.At(id).Mass*rapid.Float64Range(0.02, 1.02).Draw(t, "share"))
	part := func(name string, lo, hi float64) *float64 {
		if rapid.Bool().Draw(t, name+" known") {
			x := mass * rapid.Float64Range(lo, hi).Draw(t, name)
			return &x
		}
		return nil
	}
	switch rapid.IntRange(0, 17).Draw(t, "kind") {
	case 0:
		return &TakenIn{Class: Scrap, Polymer: "PLA", Mass: rapid.Float64Range(0.01, 5).Draw(t, "in")}
	case 1:
		return &Weighed{Lot: id, Mass: mass}
	case 2:
		var damp *float64
		if rapid.Bool().Draw(t, "moisture known") {
			w := rapid.Float64Range(0, 0.1).Draw(t, "moisture")
			damp = &w
		}
		return &Printed{From: id, Print: "part", Mass: mass, Purged: part("purged", 0, 0.2), Moisture: damp}
	case 3:
		return &Discarded{Lot: id, Mass: mass, Why: "dusty"}
	case 4:
		return &Sorted{From: id, Into: []Part{{Mass: math.Max(grain, mass/2)}, {Mass: math.Max(grain, mass/3)}},
			Metal: part("metal", 0, 0.1), Waste: part("waste", 0, 0.05)}
	case 5:
		other := rapid.SampledFrom(s.Order).Draw(t, "other")
		return &Blended{From: []Portion{{id, mass}, {other, math.Max(grain, s.Lots.At(other).Mass/2)}}}
	}
	if b := drawCare(t, id, mass, part); b != nil {
		return b
	}
	g := &Ground{Mill: rapid.SampledFrom([]string{"big", "small"}).Draw(t, "mill"), From: id, Charge: mass, Run: 60,
		Product: part("product", 0.5, 1.1), Left: part("left", 0, 0.3), Swept: part("swept", 0, 0.1)}
	if rapid.Bool().Draw(t, "same lot") {
		g.Into = LotID(fmt.Sprint("R", rapid.IntRange(1, 4).Draw(t, "into")))
	}
	return g
}

// drawCare draws what was measured on a lot, done to it or to the machines, or
// nothing.
func drawCare(t *rapid.T, id LotID, mass float64, part func(name string, lo, hi float64) *float64) Body {
	switch rapid.IntRange(0, 18).Draw(t, "care") {
	case 0:
		return &Sieved{Lot: id, Charge: mass, Series: OwnSet, Holes: RoundHoles, Pan: mass / 10,
			Sieves: []OnSieve{{Opening: 0.002, Mass: mass / 2}, {Opening: 0.001, Mass: mass / 3}}}
	case 1:
		return &PassedMagnet{Lot: id, Metal: mass / 100, Passed: part("passed", 0.1, 1)}
	case 2:
		return &Dedusted{Lot: id, Dust: mass / 20}
	case 3, 4:
		return &Dried{Lot: id, Way: Oven, Temperature: 330, Time: 3600, In: &mass, Out: part("dry", 0.95, 1.005)}
	case 5:
		return &JarWeighed{Lot: id, Jar: 3e-4, Poured: mass, Tapped: part("tapped", 1, 1.1)}
	case 6:
		return &FlowTested{Lot: id, Printer: "pellet", Screw: kg(2), Time: kg(60), Extruded: &mass}
	case 7:
		return &FlowTested{Lot: id, Temperature: kg(463), Load: kg(2.16), CutTime: kg(10), Cuts: []float64{mass / 9, mass / 10}}
	case 8:
		return &Serviced{Mill: "big", Part: BladePart, What: Sharpened}
	case 10, 11:
		return &Coloured{Lot: id, How: CardPhoto, RGB: rapid.SampledFrom([]string{"#1c1c1c", "#f2f2ee"}).Draw(t, "code")}
	case 9:
		return &Happened{What: Stalled, Mill: "small", Lot: id}
	}
	return nil
}
