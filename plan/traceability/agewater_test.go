package traceability_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/traceability"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// printed is a lot printed from new granulate with so much water in it, or nobody
// knows how much, so long after it was dried.
func printed(t testing.TB, polymer string, moisture, driedBefore *float64) traceability.LotAge {
	t.Helper()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: polymer, Mass: 1})
	at := s.Last.Add(time.Hour)
	add := func(at time.Time, b shop.Body) {
		t.Helper()
		next, err := s.With(shop.Record{At: at, Body: b})
		if err != nil {
			t.Fatal(err)
		}
		s = next
	}
	if driedBefore != nil {
		add(at, &shop.Dried{Lot: "V1", Way: shop.Oven, Temperature: 333.15, Time: 4 * 3600})
		at = at.Add(4*time.Hour + time.Duration(*driedBefore*float64(time.Hour)))
	}
	add(at, &shop.Printed{From: "V1", Into: "P1", Print: "vase", Mass: 0.3, Moisture: moisture})
	return aged(t, s, "P1")
}

// The chains cut in a print are those of the stoichiometry, worked by hand: PLA
// of 100 kg/mol with 1250 ppm, of which 250 are in dried PLA already, and a
// fiftieth reacts: 0.001 × 0.02/0.01801528 = 0.00111 mol/kg, so the chains keep
// 1/1.1110 of their length and the melt flows 1.1110^3.4 = 1.4304 times as fast.
func TestRecordedWaterCutsChains(t *testing.T) {
	t.Parallel()
	a := printed(t, "PLA", shoptest.P(0.00125), nil)
	if a.Chains == nil || math.Abs(a.Chains.Value-0.9001) > 1e-4 || math.Abs(a.Water.Value-1.4304) > 2e-4 {
		t.Fatalf("chains %+v, flow %+v", a.Chains, a.Water)
	}
	if saidOf(a, "age.damp_unsaid") {
		t.Error("it says that nobody wrote it down")
	}
	dry := printed(t, "PLA", shoptest.P(0.0002), nil)
	if dry.Chains.Low != 1 || dry.Water.High != 1 || dry.MeltFlow.Value >= a.MeltFlow.Value || dry.Strength.Value <= a.Strength.Value {
		t.Errorf("dry: chains %+v, flow %g against %g, strength %g against %g", dry.Chains, dry.MeltFlow.Value, a.MeltFlow.Value, dry.Strength.Value, a.Strength.Value)
	}
}

// Nobody wrote it down: dry at the low end, at the high end as the room's air
// makes it, in the middle dry only where it came out of a dryer within a day.
func TestUnknownWaterIsARange(t *testing.T) {
	t.Parallel()
	unknown, fresh, stale := printed(t, "PLA", nil, nil), printed(t, "PLA", nil, shoptest.P(3)), printed(t, "PLA", nil, shoptest.P(30))
	if unknown.Water.Low != 1 || unknown.Water.Value <= 1 || unknown.Water.High <= unknown.Water.Value {
		t.Errorf("unknown: %+v", unknown.Water)
	}
	if fresh.Water.Value != 1 || fresh.Water.High <= 1 || stale.Water.Value != unknown.Water.Value {
		t.Errorf("dried three hours before %g, thirty %g, never %g", fresh.Water.Value, stale.Water.Value, unknown.Water.Value)
	}
	// At rest with 50 % RH PLA holds 0.25 % by its solubility (Siparsky1997).
	wet := printed(t, "PLA", shoptest.P(0.0025), nil)
	if fresh.Water.High > wet.Water.Value*(1+1e-9) || unknown.Water.High > wet.Water.High {
		t.Errorf("high ends %g and %g, known to be at rest %g to %g", fresh.Water.High, unknown.Water.High, wet.Water.Value, wet.Water.High)
	}
	if n := unknown.Tables[0].Notes; !saidOf(unknown, "age.damp_unsaid") {
		t.Errorf("it says %+v", n)
	} else if rest, _ := n[0].Fact("rest"); math.Abs(rest.Value-0.0025) > 0.0001 {
		t.Errorf("at rest it holds %g", rest.Value)
	}
	if pp := printed(t, "PP", shoptest.P(0.004), nil); pp.Water != nil || pp.Chains != nil {
		t.Errorf("water cuts polypropylene: %+v", pp.Water)
	}
}

// A wetter print never ages less, at either end or in the middle, and no range
// is turned round.
func TestWetterPrintsAgeMore(t *testing.T) {
	t.Parallel()
	luck := rand.New(rand.NewPCG(7, 7))
	for _, polymer := range []string{"PLA", "PETG", "PC", "PA6", "TPU"} {
		for range 10 {
			w := 0.05 * luck.Float64() * luck.Float64()
			a, b := printed(t, polymer, &w, nil), printed(t, polymer, shoptest.P(w+0.01*luck.Float64()), nil)
			for _, c := range []struct {
				name     string
				dry, wet *figure.Figure
				sign     float64
			}{{"water", a.Water, b.Water, 1}, {"chains", a.Chains, b.Chains, -1}, {"flow", a.MeltFlow, b.MeltFlow, 1}, {"strength", a.Strength, b.Strength, -1}} {
				if c.dry == nil || c.wet == nil {
					continue
				}
				for i, x := range [][2]float64{{c.dry.Low, c.wet.Low}, {c.dry.Value, c.wet.Value}, {c.dry.High, c.wet.High}} {
					if c.sign*(x[1]-x[0]) < -1e-9*math.Abs(x[0]) {
						t.Errorf("%s: %s at end %d is %g dry and %g wet", polymer, c.name, i, x[0], x[1])
					}
				}
			}
		}
	}
}

// saidOf reports whether an age says something of that code.
func saidOf(a traceability.LotAge, code string) bool {
	return slices.ContainsFunc(a.Tables[0].Notes, func(s fact.Saying) bool { return s.Code == code })
}
