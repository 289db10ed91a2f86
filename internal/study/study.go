package study

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sync"

	"hopperful/estimate"
)

// Counts are the numbers of records after which the fits are asked.
var Counts = []int{0, 3, 10, 30}

// Shares are the intervals whose coverage is counted.
var Shares = []float64{0.5, 0.8, 0.95}

// asked are the parameters whose ranges are held against the truth: those that
// records speak of.
var asked = []estimate.Param{estimate.BreakRate, estimate.SizeExponent, estimate.Discharge, estimate.HoldMass,
	estimate.PowerScale, estimate.IdleShare, estimate.HeatShare, estimate.Film, estimate.WallCapacity, estimate.PieceShare}

// Result is what the study found for one number of records.
type Result struct {
	Records int
	// Median errors of forecasts of charges never run before.
	Product float64 // of the product's mass, relative
	Rise    float64 // of the rise of the wall [K]
	Pencil  float64 // of the product by charge × median yield so far; 0 without records
	// Shares of truths inside the ranges stated, in the order of Shares.
	Covers     []float64 // product and wall of new charges
	CoversBook []float64 // parameters
}

// tally collects over mills.
type tally struct {
	product, rise  []float64
	pencil         []float64
	inside, booked []int
	seen, looked   int
}

// Mills runs the study over so many invented mills, asked after so many records,
// rising; the same for the same seed.
func Mills(n int, seed uint64, counts []int) ([]Result, error) {
	tallies := make([][]tally, n)
	errs := make([]error, n)
	var group sync.WaitGroup
	next := make(chan int, n)
	for i := range n {
		next <- i
	}
	close(next)
	for range runtime.GOMAXPROCS(0) {
		group.Go(func() {
			for i := range next {
				tallies[i], errs[i] = one(seed*100000+uint64(i), counts)
			}
		})
	}
	group.Wait()
	out := make([]Result, len(counts))
	for c := range counts {
		all := empty()
		for i := range n {
			if errs[i] != nil {
				return nil, fmt.Errorf("mill %d: %w", i, errs[i])
			}
			all.add(tallies[i][c])
		}
		out[c] = all.result(counts[c])
	}
	return out, nil
}

func empty() tally { return tally{inside: make([]int, len(Shares)), booked: make([]int, len(Shares))} }

// one follows a mill through its records.
func one(seed uint64, counts []int) ([]tally, error) {
	m, err := invent(seed)
	if err != nil {
		return nil, err
	}
	var runs []estimate.Run
	out := make([]tally, len(counts))
	for c, count := range counts {
		for len(runs) < count {
			r, err := m.record(int64(len(runs) + 1))
			if err != nil {
				return nil, err
			}
			runs = append(runs, r)
		}
		fitted, err := estimate.Fit(estimate.Setup{Area: area, Priors: map[string]estimate.Beliefs{polymer: m.priors}}, runs)
		if err != nil {
			return nil, fmt.Errorf("after %d records: %w", count, err)
		}
		out[c] = empty()
		if err := out[c].ask(m, fitted, yields(runs), rand.New(rand.NewPCG(seed, 2))); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// newCharges is how many charges never run before are forecast a mill, from so
// many draws.
const (
	newCharges = 3
	draws      = 120
)

// ask forecasts new charges and holds forecasts and ranges against the truth.
func (t *tally) ask(m *mill, f *estimate.Fitted, yields []float64, chance *rand.Rand) error {
	asking := *m // the same new charges at every count
	asking.chance = chance
	for range newCharges {
		r := asking.task()
		truth, err := asking.outcome(r)
		if err != nil {
			return err
		}
		outcomes, err := f.Outcomes(r, draws, chance)
		if err != nil {
			return err
		}
		product, wall := make([]float64, draws), make([]float64, draws)
		for i, o := range outcomes {
			product[i], wall[i] = o.Product, o.Wall
		}
		slices.Sort(product)
		slices.Sort(wall)
		t.product = append(t.product, math.Abs(middle(product)-truth.Product)/truth.Product)
		t.rise = append(t.rise, math.Abs(middle(wall)-truth.Wall))
		if len(yields) > 0 {
			t.pencil = append(t.pencil, math.Abs(r.Charge*medianOf(yields)-truth.Product)/truth.Product)
		}
		for s, share := range Shares {
			t.inside[s] += within(product, truth.Product, share) + within(wall, truth.Wall, share)
		}
		t.seen += 2
	}
	after := f.Beliefs(m.priors, estimate.Target{Polymer: polymer, Screen: "3 mm"})
	for _, p := range asked {
		u := after[p].Rank(m.truth[p])
		for s, share := range Shares {
			if math.Abs(u-0.5) <= share/2 {
				t.booked[s]++
			}
		}
		t.looked++
	}
	return nil
}

// yields are product over charge of the runs, as written.
func yields(runs []estimate.Run) []float64 {
	all := make([]float64, len(runs))
	for i, r := range runs {
		all[i] = *r.Product / r.Charge
	}
	return all
}

// within is 1 when the middle share of sorted draws holds v.
func within(sorted []float64, v, share float64) int {
	n := float64(len(sorted))
	below := float64(rank(sorted, v)) / n
	if math.Abs(below-0.5) <= share/2 {
		return 1
	}
	return 0
}

// rank is how many of sorted values lie below v.
func rank(sorted []float64, v float64) int {
	i, _ := slices.BinarySearch(sorted, v)
	return i
}

func middle(sorted []float64) float64 {
	n := len(sorted)
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}

func (t *tally) add(o tally) {
	t.product = append(t.product, o.product...)
	t.rise = append(t.rise, o.rise...)
	t.pencil = append(t.pencil, o.pencil...)
	for s := range Shares {
		t.inside[s] += o.inside[s]
		t.booked[s] += o.booked[s]
	}
	t.seen += o.seen
	t.looked += o.looked
}

func (t *tally) result(records int) Result {
	slices.Sort(t.product)
	slices.Sort(t.rise)
	r := Result{Records: records, Product: middle(t.product), Rise: middle(t.rise)}
	if len(t.pencil) > 0 {
		r.Pencil = medianOf(t.pencil)
	}
	for s := range Shares {
		r.Covers = append(r.Covers, float64(t.inside[s])/float64(t.seen))
		r.CoversBook = append(r.CoversBook, float64(t.booked[s])/float64(t.looked))
	}
	return r
}
