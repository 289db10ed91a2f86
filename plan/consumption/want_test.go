package consumption_test

import (
	"math"
	"slices"
	"testing"

	"hopperful/figure"
	"hopperful/plan/consumption"
	"hopperful/polymer"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

func wanted(t *testing.T, s *shop.State, need shop.Need) consumption.Wanting {
	t.Helper()
	p, err := polymer.Books().Find("PLA")
	if err != nil {
		t.Fatal(err)
	}
	w, err := consumption.Want(s, p, need)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// The books' middle of purge, start-up and handling is 4 + 2 + 1.5 % (judgement,
// package estimate): 240 g want about 258 g, and never less than the part.
func TestWantOfAMass(t *testing.T) {
	w := wanted(t, &shop.State{}, shop.Need{Name: "bracket", Mass: shoptest.P(0.24)})
	if f := w.Figure; math.Abs(f.Value-0.258) > 0.003 || f.Low <= 0.24 || f.High < 0.262 || f.High > 0.280 {
		t.Errorf("got %v (%v to %v), want about 258 g, above 240 g, at most 280 g", f.Value, f.Low, f.High)
	}
	for _, share := range []float64{0, 0.5, 0.999} {
		if a := w.At(share); a.Part != 0.24 || a.Through <= a.Part || a.Want <= a.Through {
			t.Errorf("at %v: %+v, want part < through the nozzle < wanted", share, a)
		}
	}
}

// Cases laid beside other draws stand for the same amounts, in the order of those
// draws.
func TestWantBesideKeepsTheFigure(t *testing.T) {
	w := wanted(t, &shop.State{}, shop.Need{Name: "bracket", Volume: shoptest.P(2e-4)})
	column := make([]float64, 400)
	for i := range column {
		column[i] = float64(i * 7 % 400)
	}
	low, all := 0, w.Beside(column)
	for i, a := range all {
		if a.Want <= w.Figure.High {
			low++
		}
		if j := (i + 1) % 400; column[j] > column[i] && all[j].Want < a.Want {
			t.Fatalf("case %d wants more than case %d, whose number is larger", i, j)
		}
	}
	if low < 355 || low > 365 {
		t.Errorf("%d of 400 cases up to the 90 %% end, want 360", low)
	}
}

// What a shop's own prints purged moves the figure towards it and narrows it.
func TestWantLearnsThePurge(t *testing.T) {
	need := shop.Need{Name: "bracket", Mass: shoptest.P(0.24)}
	bag := &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Sure: shoptest.P(1), Halogen: shop.No, Mass: 5}
	bodies := []shop.Body{bag}
	for range 6 {
		bodies = append(bodies, &shop.Printed{From: "V1", Print: "bracket", Mass: 0.3, Purged: shoptest.P(0.05)}) // a fifth of the part
	}
	before, after := wanted(t, shoptest.Bin(t, bag), need).Figure, wanted(t, shoptest.Bin(t, bodies...), need).Figure
	if after.Value < 0.24*1.18 || after.Value > 0.24*1.25 {
		t.Errorf("after six prints that purged 20 %%: %v, want 1.18 to 1.25 times the part", after.Value)
	}
	if before.Value > 0.24*1.1 {
		t.Errorf("before any print: %v", before.Value)
	}
	if len(after.Inputs) < 2 || after.Inputs[1].Runs != 6 || len(after.Inputs[1].Records) != 6 {
		t.Errorf("the purge does not name its six prints: %+v", after.Inputs)
	}
}

// What a print of a volume wants rests on the part, and the part on its volume, its density and how prints come out.
func TestWhatAWantRestsOn(t *testing.T) {
	t.Parallel()
	f := wanted(t, &shop.State{}, shop.Need{Name: "vase", Volume: shoptest.P(2e-4), Taken: "by its moves"}).Figure
	keys := func(of []figure.Figure) (all []string) {
		for _, x := range of {
			all = append(all, x.Key)
		}
		return all
	}
	if got := keys(f.Inputs); !slices.Equal(got, []string{"print_mass", "purge", "start_up", "handling"}) {
		t.Fatalf("%v", got)
	}
	part := f.Inputs[0]
	if got := keys(part.Inputs); !slices.Equal(got, []string{"print_volume", "solid_density", "print_scale"}) || part.Inputs[0].How != "by its moves" || part.Inputs[0].Value != 2e-4 {
		t.Errorf("%v, %q", got, part.Inputs[0].How)
	}
}
