package plan

import (
	"math/rand/v2"
	"testing"

	"hopperful/estimate"
	"hopperful/polymer"
	"hopperful/process/breakage"
	"hopperful/shop"
)

// BenchmarkCharge is one charge of one draw, 20 size classes and more, with the
// temperatures of charge and wall; the aim is under a millisecond.
func BenchmarkCharge(b *testing.B) {
	pla, err := polymer.Find("PLA")
	if err != nil {
		b.Fatal(err)
	}
	beliefs, err := believe(shop.Mill{Name: "x"}, pla, shop.Need{})
	if err != nil {
		b.Fatal(err)
	}
	rows, err := estimate.Hypercube(beliefs.List(), 16, rand.New(rand.NewPCG(1, 1)))
	if err != nil {
		b.Fatal(err)
	}
	grid, err := breakage.NewGrid(0.3) // 26 classes
	if err != nil {
		b.Fatal(err)
	}
	bench := &bench{levels: draws(shop.Mill{}), rows: rows, beliefs: beliefs, grid: grid, largest: 0.3, thickness: 0.002}
	m, err := breakage.NewMill(grid, estimate.Kernel(rows[0]), estimate.Screen(rows[0]), estimate.Power(rows[0], bench.levels[0].Load), planTolerance)
	if err != nil {
		b.Fatal(err)
	}
	at := evenly(600, 19)
	b.ReportMetric(float64(grid.Classes()), "classes")
	for i := 0; b.Loop(); i++ {
		if _, err := bench.grind(m, rows[i%len(rows)], bench.levels[0], 0.1, nil, at, true); err != nil {
			b.Fatal(err)
		}
	}
}
