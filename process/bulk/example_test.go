package bulk_test

import (
	"fmt"
	"math"

	"hopperful/process/bulk"
)

// 188 g of PLA from a jar of 200 ml cannot be.
func ExampleJudgePacking() {
	density, _ := bulk.BulkDensity(0.188, 200e-6)
	p, err := bulk.JudgePacking(density, 1240)
	fmt.Printf("%.0f kg/m³, %.0f %% solid, ask: %v, %v\n%s\n", density, 100*p.Share, p.Questioned(), err, p.Verdict)
	// Output:
	// 940 kg/m³, 76 % solid, ask: true, <nil>
	// too dense
}

// Regrind with a tenth of dust over a throat of 30 mm: the grains would pass,
// the dust holds them.
func ExampleRemedies() {
	throat := bulk.Outlet{Width: 0.03, HalfAngle: 20 * math.Pi / 180}
	lot := bulk.Granulate{
		Mix:   bulk.Mixture{Dust: 0.1, Coarse: 0.5, Fine: 0.4},
		Stick: bulk.Sticking{Coarse: bulk.CoarseStrength, Dust: bulk.DustStrength},
		D95:   0.0025, Mean: 0.0015, Solid: 1240,
	}
	now, _ := bulk.Bridging(throat, lot)
	fmt.Printf("wedging %s, sticky arch up to %.0f mm, runs: %v\n", now.Wedging, 1e3*now.Sticky, now.Runs())
	all, err := bulk.Remedies(throat, lot, bulk.Means{DustLeft: 0.1, D95: 0.0015})
	if err != nil {
		fmt.Println(err)
	}
	for _, e := range all {
		fmt.Printf("%s: runs %v, sticky arch up to %.0f mm, costs %.0f %%\n", e.Remedy, e.Runs, 1e3*e.After.Sticky, 100*e.Cost)
	}
	// Output:
	// wedging seldom, sticky arch up to 63 mm, runs: false
	// a larger outlet: runs true, sticky arch up to 63 mm, costs 0 %
	// take off the dust: runs true, sticky arch up to 11 mm, costs 9 %
	// a finer last screen: runs false, sticky arch up to 63 mm, costs 0 %
	// an agitator: runs true, sticky arch up to 63 mm, costs 0 %
}

// The cone of a published exercise.
func ExampleCohesiveOutlet() {
	b, err := bulk.CohesiveOutlet(bulk.Outlet{Width: 0.5, HalfAngle: 29.5 * math.Pi / 180}, 1820, 900)
	fmt.Printf("%.3f m %v\n", b, err)
	// Output: 0.514 m <nil>
}
