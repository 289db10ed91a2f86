package plan_test

// One question, one answer: the rooms are asked the same and must say the same.

import (
	"cmp"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"hopperful/fact"
	"hopperful/plan"
	"hopperful/plan/blend"
	"hopperful/plan/consumption"
	"hopperful/plan/fit"
	"hopperful/plan/reckon"
	"hopperful/polymer"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// TestTheRoomsWantTheSameGranulate asks grinding, fitness and blends how much
// granulate a print wants.
func TestTheRoomsWantTheSameGranulate(t *testing.T) {
	t.Parallel()
	luck := rand.New(rand.NewPCG(3, 4))
	for i, polymer := range []string{"PLA", "PETG", "ABS"} {
		need := shop.Need{Name: "vase", From: "typed", Polymer: polymer}
		if i == 0 {
			need.Mass = shoptest.P(0.02 + 0.4*luck.Float64())
		} else {
			v := 2e-5 + 3e-4*luck.Float64()
			need.Volume, need.VolumeLo, need.VolumeHi = &v, shoptest.P(0.95*v), shoptest.P(1.1*v)
		}
		bodies := []shop.Body{&shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: polymer, Sure: shoptest.P(1), Halogen: shop.No, Mass: 5}}
		for range i {
			bodies = append(bodies, &shop.Printed{From: "V1", Print: "cup", Mass: 0.2, Purged: shoptest.P(0.05 * luck.Float64())})
		}
		s := shoptest.Bin(t, bodies...)
		req := bracket(0.1, polymer)
		req.Need, req.Draws = need, 20
		g := grind(t, s, req)
		f, err := fit.Judge(s, fit.Request{Lot: "V1", Need: need, Now: shoptest.Noon, Draws: 20})
		if err != nil {
			t.Fatal(err)
		}
		b, err := blend.Find(s, blend.Request{Need: need, Now: shoptest.Noon, Soon: true})
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range f.Items {
			if x.Key == "enough" && (x.Figure.Value != g.Need.Value || x.Figure.Low != g.Need.Low || x.Figure.High != g.Need.High) {
				t.Errorf("fitness wants %v, grinding %v", *x.Figure, g.Need)
			}
		}
		if got := b.Need.Inputs[0]; got.Value != g.Need.Value || got.High != g.Need.High {
			t.Errorf("a blend wants %v, grinding %v", got, g.Need)
		}
		if b.Need.Value < g.Need.High-1e-9 || b.Need.Value > g.Need.High+0.0011 {
			t.Errorf("a blend weighs out %v, nine of ten cases want %v", b.Need.Value, g.Need.High)
		}
	}
}

// TestWhatIsBarredIsAnsweredNowhere asks every room about material that must not
// be ground, dried or melted: each refuses with the one rule's reason, and none
// answers anything else.
func TestWhatIsBarredIsAnsweredNowhere(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name    string
		polymer string
		halogen shop.YesNo
	}{{"PVC", "PVC", shop.No}, {"suspected", "ABS", shop.Yes}, {"unknown", "", shop.Unknown}} {
		t.Run(c.name, func(t *testing.T) {
			s := shoptest.Bin(t,
				&shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: c.polymer, Halogen: c.halogen, Mass: 2},
				&shop.TakenIn{Lot: "S1", Class: shop.Scrap, Polymer: c.polymer, Halogen: c.halogen, Mass: 2})
			r1, _ := s.Lot("R1")
			code, _ := r1.Bar().Says()
			barred := func(err error) bool {
				var refused *shop.Error
				return errors.As(err, &refused) && refused.What.Code == code.Code
			}
			need := shop.Need{Name: "vase", From: "typed", Polymer: c.polymer, Mass: shoptest.P(0.2)}
			f, err := fit.Judge(s, fit.Request{Lot: "R1", Need: need, Now: shoptest.Noon})
			if err != nil || f.Refused == nil || f.Refused.Code != r1.Bar().Code || len(f.Items)+len(f.Settings) > 0 {
				t.Errorf("fitness: %v %+v", err, f)
			}
			d, err := fit.Dry(s, fit.DryRequest{Lot: "R1", Now: shoptest.Noon})
			if err != nil || d.Possible || d.Blocked == nil || d.Blocked.Code != code.Code || len(d.Document.Steps)+len(d.Figures)+len(d.Document.Charts) > 0 {
				t.Errorf("drying: %v %+v", err, d)
			}
			plastic := cmp.Or(c.polymer, "ABS")
			req := bracket(0.2, plastic)
			req.Need, req.Polymer, req.Lots = need, plastic, []shop.LotID{"S1", "R1"}
			g, err := plan.Grind(s, req)
			if err == nil && (g.Possible || len(g.Take)+len(g.OnHand) > 0 || len(g.Aside) != 2) || err != nil && !barred(err) {
				t.Errorf("grinding: %v %+v", err, g)
			}
			need.Polymer = plastic
			b, err := blend.Find(s, blend.Request{Need: need, Lots: []shop.LotID{"R1"}})
			if err == nil && b.Possible || c.polymer == "PVC" && !barred(err) {
				t.Errorf("a blend answers: %v %+v", err, b)
			}
			if c.polymer == "PVC" {
				if _, err := consumption.Tell(nil, []consumption.Found{{Need: need}}, consumption.Asked{}); !barred(err) {
					t.Errorf("how much a print of it takes is told: %v", err)
				}
				if err := s.Check(shop.Record{At: shoptest.Noon, Body: &shop.NeedSet{Need: need}}, shoptest.Noon); !barred(err) {
					t.Errorf("a print of it is kept: %v", err)
				}
			}
			if c.halogen == shop.Yes {
				return // a lot's matter: no plastic is barred by it
			}
			for _, topic := range reckon.Topics() {
				if !slices.ContainsFunc(topic.Inputs, func(in reckon.Input) bool { return in.Key == "material" }) {
					continue
				}
				_, err := reckon.Answer(nil, topic.Key, reckon.Given{Words: map[string]string{"material": cmp.Or(c.polymer, polymer.Unknown)}})
				if !barred(err) {
					t.Errorf("reckoning %s: %v", topic.Key, err)
				}
			}
		})
	}
}

// TestTheRoomsDryAlike asks how to dry one lot: the check of the lot, the drying
// plan and the plan of the mill that made it give one answer, with and without a
// dryer described.
func TestTheRoomsDryAlike(t *testing.T) {
	t.Parallel()
	for _, polymer := range []string{"PLA", "PA6"} {
		for _, dryers := range [][]shop.Body{nil, {&shop.DryerSet{Dryer: shop.Dryer{Name: "Tower", Way: shop.DryAir, DewPoint: shoptest.P(238.15)}}}} {
			scrap := shoptest.Scrap(polymer, "black", 3)
			scrap.Lot = "S1"
			mass := 0.45
			s := shoptest.Bin(t, append([]shop.Body{scrap, &shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.5, Product: &mass, Run: 120}}, dryers...)...)
			need := shop.Need{Name: "vase", From: "typed", Polymer: polymer, Mass: shoptest.P(0.2)}
			d, err := fit.Dry(s, fit.DryRequest{Lot: "R1", Now: shoptest.Noon})
			if err != nil {
				t.Fatal(err)
			}
			says := d.Instruction()
			f, err := fit.Judge(s, fit.Request{Lot: "R1", Need: need, Now: shoptest.Noon, Draws: 40})
			if err != nil {
				t.Fatal(err)
			}
			for _, x := range f.Items {
				if x.Key == "dry" && x.Change != nil && x.Change.Kind == fit.Treat && without(x.Change.Do) != without(says) {
					t.Errorf("%s: the check says %v, the drying %v", polymer, x.Change.Do, says)
				}
			}
			made, err := fit.Dry(s, fit.DryRequest{Polymer: polymer, Hole: shoptest.P(0.003), Mass: &mass, Now: shoptest.Noon})
			if err != nil || without(made.Instruction()) != without(says) {
				t.Errorf("%s: before it is ground %v, after it %v", polymer, made.Instruction(), says)
			}
			req := bracket(0.2, polymer)
			req.Need = need
			g := grind(t, s, req)
			m := math.Max(g.Need.High, 1e-3)
			made, err = fit.Dry(s, fit.DryRequest{Polymer: polymer, Hole: shoptest.P(0.003), Mass: &m, Now: req.Now})
			if err != nil {
				t.Fatal(err)
			}
			if want := made.Instruction(); !want.Empty() && !slices.ContainsFunc(g.Next, func(s fact.Saying) bool { return without(s) == without(want) }) {
				t.Errorf("%s: the plan says %v, the drying %v", polymer, g.Next, want)
			}
		}
	}
}

// without is a drying as it is told, whatever lot it is told of: its numbers as they
// are shown.
func without(s fact.Saying) string {
	text := s.Code
	for _, f := range s.Facts {
		switch {
		case f.Sort == fact.IsFigure:
			text += " " + f.Figure.Shown()
		case f.Sort == fact.IsQuantity:
			text += " " + f.Kind.Rough(f.Value)
		case f.Sort == fact.IsParts:
			for _, p := range f.Parts {
				text += " " + without(p)
			}
		}
	}
	return text
}

// TestTheOnlyPlasticIsTaken plans for a print whose plastic was left open in a shop
// that has one.
func TestTheOnlyPlasticIsTaken(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, shoptest.Scrap("PLA", "black", 2), &shop.TakenIn{Class: shop.Virgin, Polymer: "PLA", Halogen: shop.No, Mass: 1})
	req := bracket(0.2, "")
	req.Draws = 20
	g := grind(t, s, req)
	if g.Polymer != "PLA" || len(g.Spoilers) == 0 || g.Spoilers[0].Code != "answer.only_plastic" {
		t.Errorf("%q, %+v", g.Polymer, g.Spoilers)
	}
	b, err := blend.Find(s, blend.Request{Need: req.Need, Soon: true, AnyColour: true})
	if err != nil || b.Polymer != "PLA" {
		t.Errorf("a blend: %v %q", err, b.Polymer)
	}
}
