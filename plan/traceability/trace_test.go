package traceability_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"hopperful/plan/traceability"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// family is a shop in which a lot goes once round: virgin and scrap are blended,
// printed, and a failed print comes back.
func family(t testing.TB, more ...shop.Body) *shop.State {
	t.Helper()
	s := shoptest.Scrap("PLA", "black", 2)
	s.Lot = "S1"
	return shoptest.Bin(t, append([]shop.Body{s,
		&shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Colour: "black", Mass: 1},
		&shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.6, Product: shoptest.P(0.55), Left: shoptest.P(0.02), Run: 120},
		&shop.Blended{From: []shop.Portion{{Lot: "R1", Mass: 0.3}, {Lot: "V1", Mass: 0.1}}, Into: "B1"},
		&shop.Printed{From: "B1", Into: "P1", Print: "vase", Mass: 0.2, Purged: shoptest.P(0.02)},
		&shop.Sorted{From: "P1", Into: []shop.Part{{Lot: "S2", Mass: 0.18}}},
	}, more...)...)
}

func traced(t testing.TB, s *shop.State, id shop.LotID) traceability.Tracing {
	t.Helper()
	got, err := traceability.Trace(s, id)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// conserved holds that no gram is missing on either side of a lot, and that the
// shares of what it came from add up.
func conserved(t testing.TB, s *shop.State, id shop.LotID) {
	t.Helper()
	got := traced(t, s, id)
	in, out, origins, parts := got.Outside, got.OnHand+got.Lost+got.InMills, 0.0, 0.0
	for _, b := range got.From {
		in += b.Mass
		parts += b.Share
	}
	for _, b := range got.To {
		out += b.Mass
	}
	for _, o := range got.Origins {
		origins += o.Share
	}
	whole := in
	if whole > 0 {
		parts += got.Outside / whole
	}
	switch {
	case math.Abs(in-got.In) > 1e-9 || math.Abs(out-got.In) > 1e-9:
		t.Errorf("%s: %g came in, %g by the tree, %g went or is there", id, got.In, in, out)
	case got.In > 0 && (math.Abs(origins-1) > 1e-9 || math.Abs(parts-1) > 1e-9):
		t.Errorf("%s: shares add up to %g and %g", id, origins, parts)
	case got.InMills < -1e-9:
		t.Errorf("%s: %g kg in the mills", id, got.InMills)
	}
	if _, err := json.Marshal(got); err != nil {
		t.Error(err)
	}
}

func TestTraceConservesMass(t *testing.T) {
	t.Parallel()
	s := family(t)
	for _, id := range s.Order {
		conserved(t, s, id)
	}
}

func TestTraceOfRandomShopsConservesMass(t *testing.T) {
	t.Parallel()
	for seed := range uint64(40) {
		s := tangled(t, rand.New(rand.NewPCG(seed, 7)), 40)
		for _, id := range s.Order {
			conserved(t, s, id)
		}
	}
}

// tangled is a shop with random blends, prints and sortings.
func tangled(t testing.TB, luck *rand.Rand, steps int) *shop.State {
	t.Helper()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Mass: 5},
		&shop.TakenIn{Lot: "S1", Class: shop.Scrap, Polymer: "PLA", Mass: 5},
		&shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Mass: 5})
	pick := func() *shop.Lot {
		stock := s.Stock("")
		return stock[luck.IntN(len(stock))]
	}
	for range steps {
		a, b := pick(), pick()
		var body shop.Body
		switch {
		case luck.IntN(3) == 0:
			p := &shop.Printed{From: a.ID, Print: "part", Mass: a.Mass / 3, Purged: shoptest.P(a.Mass / 30)}
			if luck.IntN(2) == 0 {
				p.Moisture = shoptest.P(0.005 * luck.Float64())
			}
			body = p
		case luck.IntN(6) == 0:
			body = &shop.Dried{Lot: a.ID, Way: shop.Oven, Temperature: 320, Time: 3600}
		case luck.IntN(6) == 0 && a.Mass > 0.01:
			cut := 0.0003 * (1 + luck.Float64())
			body = &shop.FlowTested{Lot: a.ID, Temperature: shoptest.P(463 + 20*float64(luck.IntN(2))), Load: shoptest.P(2.16), CutTime: shoptest.P(10), Cuts: []float64{cut, 1.05 * cut}}
		case a.ID == b.ID:
			body = &shop.Sorted{From: a.ID, Into: []shop.Part{{Mass: a.Mass / 2}}, Waste: shoptest.P(a.Mass / 20)}
		default:
			body = &shop.Blended{From: []shop.Portion{{Lot: a.ID, Mass: a.Mass / 2}, {Lot: b.ID, Mass: b.Mass / 3}}}
		}
		next, err := s.With(shop.Record{At: shoptest.Noon, Body: body})
		if err != nil {
			t.Fatal(err)
		}
		s = next
	}
	return s
}

func TestTraceFollowsALotBothWays(t *testing.T) {
	t.Parallel()
	got := traced(t, family(t), "B1")
	if len(got.From) != 2 || got.From[0].Lot != "R1" || got.From[0].Branches[0].Lot != "S1" || got.From[1].Lot != "V1" {
		t.Errorf("came from %+v", got.From)
	}
	if math.Abs(got.From[0].Share-0.75) > 1e-12 || got.From[0].Mass != 0.3 {
		t.Errorf("R1 gave %g kg, %g", got.From[0].Mass, got.From[0].Share)
	}
	if len(got.To) != 1 || got.To[0].Lot != "P1" || got.To[0].Branches[0].Lot != "S2" {
		t.Errorf("went to %+v", got.To)
	}
	if math.Abs(got.Lost-0.02) > 1e-12 {
		t.Errorf("lost %g kg, the purge was 20 g", got.Lost)
	}
}

func TestTraceUnfoldsALotOnce(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Mass: 1000})
	for range 24 { // each lot is blended of the two before it: paths double each time
		n := len(s.Order)
		from := []shop.Portion{{Lot: s.Order[n-1], Mass: s.Lots.At(s.Order[n-1]).Mass / 3}}
		if n > 1 {
			from = append(from, shop.Portion{Lot: s.Order[n-2], Mass: s.Lots.At(s.Order[n-2]).Mass / 3})
		}
		next, err := s.With(shop.Record{At: shoptest.Noon, Body: &shop.Blended{From: from}})
		if err != nil {
			t.Fatal(err)
		}
		s = next
	}
	count := 0
	var walk func([]traceability.Branch)
	walk = func(bs []traceability.Branch) {
		for _, b := range bs {
			count++
			walk(b.Branches)
		}
	}
	walk(traced(t, s, s.Order[len(s.Order)-1]).From)
	if count > 2*len(s.Order) {
		t.Errorf("%d branches for %d lots", count, len(s.Order))
	}
}

func TestTraceRefusesALotThatIsNotThere(t *testing.T) {
	t.Parallel()
	_, err := traceability.Trace(family(t), "R99")
	var refused *shop.Error
	if !errors.As(err, &refused) || refused.Code != shop.NotFound {
		t.Errorf("got %v", err)
	}
}
