package estimate

import (
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"hopperful/quantity"
	"hopperful/source"
)

var judged = source.Ref{Key: "judgement"}

func TestQuantilesGiveBackTheStatedRange(t *testing.T) {
	t.Parallel()
	for _, b := range []Belief{
		{Name: "rate", Family: LogNormal, Median: 2e-4, Low: 0.7e-4, High: 6e-4, Source: judged},
		{Name: "softening", Family: Normal, Median: 331, Low: 328, High: 333, Source: judged},
		{Name: "share", Family: Logit, Median: 0.7, Low: 0.5, High: 0.9, Source: judged},
		{Name: "known", Family: Exact, Median: 3, Low: 3, High: 3, Source: judged},
	} {
		if err := b.Check(); err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct{ p, want float64 }{{0.1, b.Low}, {0.5, b.Median}, {0.9, b.High}} {
			if got := b.Quantile(c.p); math.Abs(got-c.want) > 1e-9*math.Abs(c.want) {
				t.Errorf("%s at %g: got %g, want %g", b.Name, c.p, got, c.want)
			}
		}
	}
}

func TestBeliefsThatContradictThemselvesAreRefused(t *testing.T) {
	t.Parallel()
	for name, b := range map[string]Belief{
		"low above median":  {Family: Normal, Median: 1, Low: 2, High: 3},
		"log of nothing":    {Family: LogNormal, Median: 1, Low: 0, High: 3},
		"share above one":   {Family: Logit, Median: 0.5, Low: 0.1, High: 1.2},
		"not a number":      {Family: Normal, Median: math.NaN(), Low: 0, High: 1},
		"family not named":  {Median: 1, Low: 1, High: 1},
		"infinite high end": {Family: LogNormal, Median: 1, Low: 0.5, High: math.Inf(1)},
	} {
		if b.Check() == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestHypercubeUsesEverySliceOnce(t *testing.T) {
	t.Parallel()
	b := Belief{Name: "x", Kind: quantity.Number, Family: Normal, Median: 0, Low: -tail, High: tail, Source: judged}
	rows, err := Hypercube([]Belief{b, b}, 100, rand.New(rand.NewPCG(1, 2)))
	if err != nil {
		t.Fatal(err)
	}
	for j := range 2 {
		shares := make([]float64, len(rows))
		for i, r := range rows {
			shares[i] = 0.5 * math.Erfc(-r[j]/math.Sqrt2)
		}
		sort.Float64s(shares)
		for i, p := range shares {
			if p < float64(i)/100 || p > float64(i+1)/100 {
				t.Fatalf("column %d: share %g is not in slice %d", j, p, i)
			}
		}
	}
}

func TestHypercubeIsTheSameForTheSameSeed(t *testing.T) {
	t.Parallel()
	b := []Belief{{Name: "x", Family: LogNormal, Median: 1, Low: 0.5, High: 3, Source: judged}}
	one, _ := Hypercube(b, 8, rand.New(rand.NewPCG(7, 7)))
	two, _ := Hypercube(b, 8, rand.New(rand.NewPCG(7, 7)))
	for i := range one {
		if one[i][0] != two[i][0] {
			t.Fatal("the same seed gave other draws")
		}
	}
	if _, err := Hypercube(b, 0, rand.New(rand.NewPCG(7, 7))); err == nil {
		t.Error("no draws is an error")
	}
}
