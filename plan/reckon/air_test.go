package reckon_test

import (
	"math"
	"testing"

	"hopperful/figure"
	"hopperful/plan/fit"
	"hopperful/plan/reckon"
	"hopperful/process/moisture"
	"hopperful/shop"
)

// What nobody typed is the polymer's own state in this shop's air: the calculators and
// the drying of a lot start from the same water, in the same room.
func TestCalculatorsStandInTheShopsAir(t *testing.T) {
	t.Parallel()
	room, humidity := 300.15, 0.71
	s := &shop.State{Shop: shop.ShopSet{RoomTemperature: &room, RoomHumidity: &humidity}}
	for _, material := range []string{"PETG", "PA6", "ABS"} {
		words := map[string]string{"material": material}
		in := inputs(t, "drying", reckon.Given{Words: words, Shop: s})
		if in["room"].Value != room || in["humidity"].Value != humidity || in["room"].Basis != figure.Entered {
			t.Errorf("%s: the room is %g K at %g, %s", material, in["room"].Value, in["humidity"].Value, in["room"].Basis)
		}
		want, err := moisture.EquilibriumWater(moisture.Sorption{Room: in["water"].Value, Saturated: in["saturated"].Value}, humidity)
		if err != nil {
			t.Fatal(err)
		}
		if got := in["start"].Value; math.Abs(got/want-1) > 1e-9 {
			t.Errorf("%s starts with %g of water, at rest with this air it holds %g", material, got, want)
		}
		d, err := fit.Dry(s, fit.DryRequest{Polymer: material, Way: shop.DryAir})
		if err != nil {
			t.Fatal(err)
		}
		if got := in["start"].Value; got < d.Start.Low || got > d.Start.High || math.Abs(got/d.Start.Value-1) > 0.1 {
			t.Errorf("%s: the calculator starts with %g, the drying with %g (%g to %g)", material, got, d.Start.Value, d.Start.Low, d.Start.High)
		}
		typed := inputs(t, "drying", reckon.Given{Words: words, Shop: s, Numbers: map[string]float64{"humidity": 0.5, "start": 0.006}})
		if typed["humidity"].Value != 0.5 || typed["start"].Value != 0.006 || typed["start"].Basis != figure.Entered {
			t.Errorf("%s: what was typed became %+v", material, typed["start"])
		}
		if books := inputs(t, "drying", reckon.Given{Words: words}); books["humidity"].Value != 0.5 || books["start"].Value != books["water"].Value {
			t.Errorf("%s without a shop: %g of water at %g", material, books["start"].Value, books["humidity"].Value)
		}
		if air := inputs(t, "air", reckon.Given{Words: words, Shop: s}); air["humidity"].Value != humidity {
			t.Errorf("%s: the air is at %g", material, air["humidity"].Value)
		}
	}
}

// inputs are what a topic was reckoned with, by key.
func inputs(t *testing.T, topic string, given reckon.Given) map[string]figure.Figure {
	t.Helper()
	r, err := reckon.Answer(nil, topic, given)
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]figure.Figure{}
	for _, f := range r.Inputs {
		all[f.Key] = f
	}
	return all
}

// A flow law says whose data it is drawn from, and when nothing one could look up stands
// behind it.
func TestAFlowLawSaysWhoseItIs(t *testing.T) {
	t.Parallel()
	for material, lender := range map[string]bool{"HIPS": true, "ASA": true, "PLA": false, "PETG": false} {
		r, err := reckon.Answer(nil, "nozzle", reckon.Given{Words: map[string]string{"material": material}})
		if err != nil {
			t.Fatal(err)
		}
		law := r.Spoilers[0].Saying
		if _, lent := law.Fact("lender"); law.Code != "reckon.flow_law" || lent != lender {
			t.Errorf("%s: %+v", material, law)
		}
		if _, guess := law.Fact("guess"); !guess {
			t.Errorf("%s: its constants are from memory and are not called a guess", material)
		}
	}
}
