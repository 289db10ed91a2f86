package consumption_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"hopperful/fact"
	"hopperful/internal/checkrow"
	"hopperful/plan/consumption"
	"hopperful/process/mesh"
	"hopperful/process/toolpath"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What prints eat, by mass and by volume, in a shop that weighed its purges, and what is told
// of files read: as approved, to notice that something moved.
func TestAnswersAreAsApproved(t *testing.T) {
	t.Parallel()
	s := shoptest.Busy(t, rand.New(rand.NewPCG(1, 1)))
	var wants []any
	for _, need := range []shop.Need{{Name: "hook", Mass: shoptest.P(0.24)}, {Name: "vase", Volume: shoptest.P(2e-4)}} {
		w := wanted(t, s, need)
		wants = append(wants, w.Figure, w.At(0.1), w.At(0.9))
	}
	checkrow.Approved(t, "wants", wants)
	table, err := s.Table()
	if err != nil {
		t.Fatal(err)
	}
	path := &toolpath.Summary{Tools: []toolpath.Tool{{Number: 0, Volume: 2e-6, Time: 30}, {Number: 1, Volume: 1e-6, Time: 10}},
		Layers: []toolpath.Layer{{Z: 0.2e-3, Volume: 1e-6, Time: 20, Peak: 3e-8, Moves: 12}}}
	solid := &mesh.Solid{Volume: 8e-6, Area: 24e-4, Facets: 12, OpenEdges: 2, Max: [3]float64{0.02, 0.02, 0.02}}
	all := []consumption.Found{
		{Need: shop.Need{Name: "hook", From: "typed", Mass: shoptest.P(0.24), Polymer: "PLA", Colour: "red", Done: true}, Kept: true},
		{Need: shop.Need{Name: "vase", From: "gcode", Volume: shoptest.P(2e-4), Time: shoptest.P(600), Polymer: "PETG"}, Path: path, Warnings: []fact.Saying{fact.Verbatim("odd")}},
		{Need: shop.Need{Name: "lid", From: "mesh", Volume: shoptest.P(8e-6)}, Solid: solid},
	}
	for i, ask := range []consumption.Asked{{}, {Saved: true}, {Layers: true}} {
		for n := 1; n <= 3; n++ {
			d, err := consumption.Tell(table, all[:n], ask)
			if err != nil {
				t.Fatal(err)
			}
			one, err := consumption.Tell(table, all[n-1:n], ask)
			if err != nil {
				t.Fatal(err)
			}
			checkrow.Approved(t, fmt.Sprintf("told%d-%d", i, n), []any{d, one})
		}
	}
	none, err := consumption.Tell(table, nil, consumption.Asked{Saved: true})
	if err != nil || none.Head.Code != "need.none_saved" {
		t.Errorf("%v %s", err, none.Head.Code)
	}
}
