package recipe

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

func BenchmarkSolve(b *testing.B) {
	for _, n := range []int{1000, 10000} {
		for _, c := range []struct {
			name   string
			change func(p *Problem)
		}{
			{"any", func(*Problem) {}},
			{"steps", func(p *Problem) { eachLot(func(l *Lot) { l.Step = 0.005 })(p) }},
			{"noleast", func(p *Problem) { eachLot(func(l *Lot) { l.Least = 0 })(p) }},
		} {
			for _, strict := range []float64{0.2, 0.5, 0.7} {
				b.Run(fmt.Sprintf("%d/%s/%g", n, c.name, strict), func(b *testing.B) {
					p := plausible(rand.New(rand.NewPCG(1, uint64(n))), n, strict)
					c.change(&p)
					benchSolve(b, p, Options{})
				})
			}
		}
	}
}

// A colour among the limits, not convex: three recipes within 4 of it.
func BenchmarkColour(b *testing.B) {
	for _, n := range []int{100, 1000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			p, _ := hidden(rand.New(rand.NewPCG(1, uint64(n))), n)
			benchSolve(b, p, Options{})
		})
	}
}

func benchSolve(b *testing.B, p Problem, o Options) {
	for b.Loop() {
		a, err := Solve(b.Context(), p, o)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(a.Nodes), "nodes")
		b.ReportMetric(float64(a.Pivots), "pivots")
		b.ReportMetric(a.Gap(), "gap")
		b.ReportMetric(float64(len(a.Recipes)), "recipes")
		if len(a.Recipes) > 0 {
			b.ReportMetric(a.Recipes[0].Cost, "cost")
		}
	}
}
