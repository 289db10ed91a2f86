package fit_test

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/internal/checkrow"
	"hopperful/plan/fit"
	"hopperful/polymer"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What the room makes of busy shops, and of small ones where most is known or nothing, is as
// approved. The numbers only notice that something moved: go test ./plan/fit -run AsApproved
// -update keeps what has been looked at.
func TestAnswersAreAsApproved(t *testing.T) {
	t.Parallel()
	ask := func(name string, s *shop.State, req fit.Request) {
		req.Now, req.Draws = shoptest.Noon.Add(72*time.Hour), 12
		f, err := fit.Judge(s, req)
		if err != nil {
			t.Fatal(err)
		}
		behind := f.Document.Reasons[len(f.Document.Reasons)-1]
		f.Document.Tables, f.Document.Limits, f.Document.Reasons, f.Document.Figures = nil, nil, []answer.Section{behind}, nil
		for i := range f.Items {
			f.Items[i].Figure.Inputs = nil
		}
		checkrow.Approved(t, name, f)
	}
	for _, luck := range []uint64{1, 2} {
		s := shoptest.Busy(t, rand.New(rand.NewPCG(luck, 1)))
		for i, id := range []shop.LotID{"R1", "B2"} {
			lot, _ := s.Lot(id)
			ask(fmt.Sprintf("lot%d-%d", luck, i), s, fit.Request{Lot: id, Need: vase(0.1, lot.Polymer)})
		}
	}
	ask("proven", proven(t, 0.95), fit.Request{Lot: "V1", Need: shop.Need{Name: "cup", From: "typed", Mass: shoptest.P(0.3), Polymer: "PP", PeakFlow: shoptest.P(30e-9)}})
	ask("bought", shoptest.Bin(t, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PETG", Sure: shoptest.P(1), Mass: 5}), fit.Request{Lot: "V1", Need: vase(0.2, "PETG")})
	seen := ground(t, "ABS", &shop.Happened{What: shop.BlockedNozzle, Printer: "Puddle", Lot: "R1"}, &shop.Printed{From: "R1", Print: "a", Mass: 0.4, Good: shop.Yes},
		&shop.Happened{What: shop.BridgedHopper, Printer: "Puddle", Lot: "R1"}, &shop.Printed{From: "R1", Print: "b", Mass: 0.1, Good: shop.No, Why: "thin"})
	ask("printed", seen, fit.Request{Lot: "R1", Need: shop.Need{Name: "lid", From: "typed", Volume: shoptest.P(2e-4)}, Nozzle: shoptest.P(0.8e-3), Temperature: shoptest.P(510), Strength: shoptest.P(0.95)})
}

// The table that leads has the questions not yet answered with yes, the worst five of them; the
// one behind has all, in the order the material travels.
func TestWhichQuestionsLead(t *testing.T) {
	t.Parallel()
	f := judge(t, ground(t, "PLA"), fit.Request{Lot: "R1", Need: vase(0.3, "PLA"), Draws: 8})
	open := 0
	for _, x := range f.Items {
		if x.Change != nil {
			open++
		}
	}
	if len(f.Document.Tables) != 2 || open < 6 {
		t.Fatalf("%d tables, %d questions are open", len(f.Document.Tables), open)
	}
	lead, all := f.Document.Tables[0], f.Document.Tables[1]
	if !lead.Leads || all.Leads || len(lead.Rows) != 5 || len(all.Rows) != len(f.Items) {
		t.Errorf("%d questions lead, %d stand behind", len(lead.Rows), len(all.Rows))
	}
	for _, row := range lead.Rows {
		for _, x := range f.Items {
			if x.Question.Code == row[0].Parts[0].Code && x.Verdict == answer.Yes {
				t.Errorf("%s leads and is answered with yes", x.Key)
			}
		}
	}
	for i, row := range all.Rows {
		if row[0].Parts[0].Code != f.Items[i].Question.Code {
			t.Errorf("row %d asks %s", i, row[0].Parts[0].Code)
		}
	}
	if n, _ := lead.Notes[0].Fact("yes"); int(n.Value) != len(f.Items)-open {
		t.Errorf("%g are said to be yes, %d are", n.Value, len(f.Items)-open)
	}
}

// How to dry, by each kind of dryer, and what a lot brings into a blend.
func TestDryingIsAsApproved(t *testing.T) {
	t.Parallel()
	now := shoptest.Noon.Add(50 * time.Hour)
	for _, luck := range []uint64{1, 2} {
		s := shoptest.Busy(t, rand.New(rand.NewPCG(luck, 1)))
		b, err := fit.NewBrings(s, now)
		if err != nil {
			t.Fatal(err)
		}
		var all []any
		for _, id := range []shop.LotID{"R1", "R2", "R3", "V1", "B3"} {
			lot, _ := s.Lot(id)
			water, err := b.Water(lot)
			if err != nil {
				t.Fatal(err)
			}
			metal, err := b.Metal(lot)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, water, metal)
		}
		checkrow.Approved(t, fmt.Sprintf("brings%d", luck), all)
	}
	s := room(t, 0.35, "PETG", &shop.DryerSet{Dryer: shop.Dryer{Name: "Tower", Way: shop.DryAir, Temperature: shoptest.P(338.15), DewPoint: shoptest.P(243.15), Flow: shoptest.P(0.002)}})
	for i, req := range []fit.DryRequest{
		{Lot: "R1"}, {Polymer: "PLA", Way: shop.Dehydrator, Mass: shoptest.P(2)}, {Polymer: "ABS", Way: shop.Oven, Start: shoptest.P(0.004), Bed: shoptest.P(0.04)},
		{Polymer: "PA6", Way: shop.DesiccantBox, Limit: shoptest.P(0.01), Humidity: shoptest.P(0.05)}, {Polymer: "PC", Way: shop.Oven}, {Polymer: "TPU"},
	} {
		req.Now, req.Draws = now, 12
		d, err := fit.Dry(s, req)
		if err != nil {
			t.Fatal(err)
		}
		checkrow.Approved(t, fmt.Sprintf("dry%d", i), d)
	}
}

// The temperature and load of a melt flow rate, read from the words beside it.
func TestFlowTestOf(t *testing.T) {
	t.Parallel()
	for at, want := range map[string][2]float64{"220 °C, 10 kg": {493.15, 10}, "220 to 240 °C": {503.15, 2.16}, "190 °C, 0 kg": {463.15, 2.16}, "": {500, 2.16}, "warm, 5 kg": {500, 5}} {
		if k, m := fit.FlowTestOf(polymer.Value{At: at}, 500); k-want[0] > 1e-9 || want[0]-k > 1e-9 || m != want[1] {
			t.Errorf("%q holds at %g K and %g kg, wanted %v", at, k, m, want)
		}
	}
}
