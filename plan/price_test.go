package plan

import (
	"math"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// A price leaves out campaigns that no easing of its limit can help: it is the same as that
// of a search through all of them. The mills are limited by what the names say.
func TestNoPriceIsMissedByLeavingCampaignsOut(t *testing.T) {
	t.Parallel()
	found := 0
	for _, c := range []struct {
		name string
		by   func(*shop.Mill, *Request)
	}{
		{"weak motor and controller", func(m *shop.Mill, _ *Request) {
			m.ContinuousPower, m.Controller.Continuous = shoptest.P(420.0), shoptest.P(900.0)
		}},
		{"small jar", func(m *shop.Mill, _ *Request) {
			m.Jar = shoptest.P(0.00012)
		}},
		{"little time", func(_ *shop.Mill, r *Request) {
			r.By = r.Now.Add(45 * time.Minute)
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := pressed(t, c.by)
			cells, err := j.bench.look()
			if err != nil {
				t.Fatal(err)
			}
			openings := j.bench.openings(cells)
			base := j.bench.best(openings, 1, math.Inf(1))
			for _, p := range j.bench.prices(openings) {
				want := j.bench.everyPrice(openings, p.ease, base)
				if want > 0 {
					found++
				}
				if p.saves != want {
					t.Errorf("easing %s saves %g s, and %g s of all campaigns", p.limit, p.saves, want)
				}
			}
		})
	}
	if found < 3 {
		t.Errorf("only %d limits had a price: nothing was held against anything", found)
	}
}

// everyPrice is what easing a limit saves, of all campaigns.
func (b *bench) everyPrice(openings []campaign, e ease, base []campaign) float64 {
	ceiling := math.Inf(1)
	if len(base) > 0 {
		ceiling = base[0].cost()
	}
	looser := b.eased(e.by).best(openings, 1, ceiling)
	switch {
	case len(looser) == 0:
		return 0
	case len(base) == 0:
		return math.Inf(1)
	}
	return math.Max(0, base[0].total()-looser[0].total())
}

// pressed is a job of 600 g on a mill with four runs on record.
func pressed(t *testing.T, by func(*shop.Mill, *Request)) *job {
	t.Helper()
	m := shop.Mill{Name: "Kettle", RatedPower: shoptest.P(2200), Chamber: shoptest.P(0.001), WallMass: shoptest.P(3), WallMetal: shop.Stainless,
		Screen: shop.Screen{Hole: shoptest.P(0.003), OpenShare: shoptest.P(0.3)}, Controller: &shop.Control{Levels: 20}}
	req := Request{Mill: m.Name, Lots: []shop.LotID{"S1"}, Need: shop.Need{Name: "bracket", From: "typed", Mass: shoptest.P(0.6), Polymer: "PLA"}, Now: shoptest.Noon, Draws: choiceDraws, Seed: answer.Seed}
	by(&m, &req)
	bodies := []shop.Body{&shop.MillSet{Mill: m}, shoptest.Scrap("PLA", "black", 5)}
	level := 12
	rest := 420.0
	for i := range 4 {
		product := 0.082 + 0.001*float64(i)
		bodies = append(bodies, &shop.Ground{Mill: "Kettle", From: "S1", Into: "R1", Charge: product + 0.001, Product: &product, Left: shoptest.P(0.008 * float64(min(i, 1))),
			Run: 120, Level: &level, RestBefore: &rest, WallBefore: shoptest.P(293.15 + 2*float64(i)), WallAfter: shoptest.P(303.15 + 2*float64(i)), Room: shoptest.P(293.15)})
	}
	j, err := newJob(shoptest.Bin(t, bodies...), req.filled())
	if err != nil {
		t.Fatal(err)
	}
	if j.bench.practice.none() {
		t.Fatal("nobody has run this mill")
	}
	return j
}
