package estimate_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"hopperful/estimate"
)

// labelled is what a label of 1400 W says of two levels, and of one between
// them that nobody runs.
var labelled = map[int]estimate.Load{
	6:  {Watts: 330, Spread: 1.35, Level: 6},
	8:  {Watts: 500, Spread: 1.35, Level: 8},
	10: {Watts: 650, Spread: 1.35, Level: 10},
}

// meteredNotes are runs at levels 6 and 10 in turn, with a meter, of a mill that
// truly draws so many times what its label says at each.
func meteredNotes(t testing.TB, n int, chance *rand.Rand, times map[int]float64) []estimate.Run {
	t.Helper()
	priors := shelf()
	rows, err := estimate.Hypercube(priors.List(), 1, chance)
	if err != nil {
		t.Fatal(err)
	}
	row := rows[0]
	row[estimate.PowerScale] = 1
	var runs []estimate.Run
	for i := range n {
		level := []int{6, 10}[i%2]
		r := estimate.Run{Record: int64(i + 1), Polymer: "PLA", Screen: "3 mm", Charge: 0.06 + 0.12*chance.Float64(), Time: 30 + 90*chance.Float64(),
			Room: 293.15, Resolution: 0.001, Load: labelled[level], Largest: 0.035, Thickness: 0.0016}
		r.Load.Watts *= times[level]
		o, err := estimate.Reckon(row, 0.05, r)
		if err != nil {
			t.Fatal(err)
		}
		r.Load = labelled[level]
		r.Product = ptr(o.Product * (1 + 0.02*chance.NormFloat64()))
		r.Energy = ptr(math.Max(0, o.Energy*(1+0.03*chance.NormFloat64())+1800*chance.NormFloat64()))
		r.WallAfter = ptr(o.Wall + 2.1*chance.NormFloat64())
		runs = append(runs, r)
	}
	return runs
}

// labels are so many levels of which only the label is known.
func labels(n int) []estimate.Load {
	all := make([]estimate.Load, n)
	for i := range all {
		all[i] = estimate.Load{Watts: 1, Spread: 1.35, Level: i + 1}
	}
	return all
}

// at is what is believed of the draw at a level, over what its label says.
func at(f *estimate.Fitted, level int) estimate.Belief {
	l := labelled[level]
	l.Watts = 1
	return estimate.DrawnAt(l, f.ScaleAt(shelf(), labelled[level]))
}

// A mill whose level 6 draws 30 % more than its label says, and whose level 10
// draws what it says: the fit tells them apart, and the level nobody ran lies
// between them, less sure.
func TestLevelsAreToldApart(t *testing.T) {
	t.Parallel()
	runs := meteredNotes(t, 12, rand.New(rand.NewPCG(61, 1)), map[int]float64{6: 1.3, 10: 1})
	f := fitted(t, runs)
	six, eight, ten := at(f, 6), at(f, 8), at(f, 10)
	if six.Low > 1.3 || six.High < 1.3 || six.Low < 1.05 {
		t.Errorf("level 6 draws %g (%g to %g) of its label, made with 1.3", six.Median, six.Low, six.High)
	}
	if ten.Low > 1 || ten.High < 1 || ten.High > 1.2 {
		t.Errorf("level 10 draws %g (%g to %g) of its label, made with 1", ten.Median, ten.Low, ten.High)
	}
	if eight.Median <= ten.Median || eight.Median >= six.Median || width(eight) <= 1.2*width(six) || width(eight) >= 0.95*1.35*1.35 {
		t.Errorf("level 8, never run, draws %g (%g to %g)", eight.Median, eight.Low, eight.High)
	}
	if six.Runs != 6 || ten.Runs != 6 || eight.Runs != 12 {
		t.Errorf("%d runs speak of level 6, %d of level 10, %d of level 8", six.Runs, ten.Runs, eight.Runs)
	}
	if six.Key != "power_at_6" || len(f.ScaleMovers(labelled[6], 3)) != 3 {
		t.Errorf("%s was moved by %v", six.Key, f.ScaleMovers(labelled[6], 3))
	}
	target := plain
	target.Levels = labels(10)
	rows, err := f.Draws(shelf(), target, 400, rand.New(rand.NewPCG(1, 1)))
	if err != nil {
		t.Fatal(err)
	}
	for level, b := range map[int]estimate.Belief{6: six, 8: eight, 10: ten} {
		low, mid, high := drawnRange(rows, labelled[level])
		if math.Abs(mid/b.Median-1) > 0.03 || math.Abs(math.Log(high/low)/math.Log(b.High/b.Low)-1) > 0.25 {
			t.Errorf("level %d: draws of %g (%g to %g), believed %g (%g to %g)", level, mid, low, high, b.Median, b.Low, b.High)
		}
	}
}

// drawnRange is the 10, 50 and 90 % points of draws at a level over its label.
func drawnRange(rows [][]float64, l estimate.Load) (low, mid, high float64) {
	all := make([]float64, len(rows))
	for i, row := range rows {
		all[i] = estimate.Electric(row, l) / l.Watts
	}
	slices.Sort(all)
	n := len(all)
	return all[n/10], all[n/2], all[n-1-n/10]
}

// Mills whose levels lie off their label as the book thinks: the ranges must
// hold the truth as often as they say, of levels run and of one never run. A
// level scatters by 1.35 to its 10 and 90 % ends, half of the variance shared
// by all (judgement, as package estimate has it).
func TestLevelRangesCover(t *testing.T) {
	t.Parallel()
	const mills = 60
	inside := map[int]int{}
	for i := range mills {
		chance := rand.New(rand.NewPCG(62, uint64(i)))
		step := math.Log(1.35) / 1.2815515655446004 * math.Sqrt(0.5)
		shared, times := chance.NormFloat64(), map[int]float64{}
		for _, level := range []int{6, 8, 10} {
			times[level] = math.Exp(step * (shared + chance.NormFloat64()))
		}
		f := fitted(t, meteredNotes(t, 6, chance, times))
		for level, truth := range times {
			if b := at(f, level); truth >= b.Low && truth <= b.High {
				inside[level]++
			}
		}
	}
	// 80 % of 60 is 48; three standard deviations of a count are 9.3.
	for level, n := range inside {
		t.Logf("level %d: %d of %d", level, n, mills)
		if n < 39 || n > 57 {
			t.Errorf("the 80 %% range at level %d holds the truth of %d mills in %d", level, n, mills)
		}
	}
}

// Without records each level alone scatters as its label or meter says, two of
// them have half of their variance in common, and all else is the book's.
func TestLevelsWithoutRunsAreTheBooks(t *testing.T) {
	t.Parallel()
	const n = 4000
	priors, f := shelf(), fitted(t, nil)
	target := plain
	target.Levels = labels(20)
	rows, err := f.Draws(priors, target, n, rand.New(rand.NewPCG(3, 3)))
	if err != nil {
		t.Fatal(err)
	}
	books, err := estimate.Hypercube(priors.List(), n, rand.New(rand.NewPCG(3, 3)))
	if err != nil {
		t.Fatal(err)
	}
	for i := range rows {
		for p := range books[i] {
			if estimate.Param(p) != estimate.Discharge && rows[i][p] != books[i][p] { // no two sheets are alike
				t.Fatalf("draw %d of parameter %d: %g, the books draw %g", i, p, rows[i][p], books[i][p])
			}
		}
	}
	for _, l := range []estimate.Load{{Watts: 100, Spread: 1.35, Level: 1}, {Watts: 300, Spread: 1.06, Level: 8}, {Watts: 900, Spread: 1.8, Level: 20}} {
		low, mid, high := drawnRange(rows, l)
		for _, c := range []struct{ got, want float64 }{{low, 1 / l.Spread}, {mid, 1}, {high, l.Spread}} {
			if off := math.Abs(math.Log(c.got/c.want)) / math.Log(l.Spread); off > 0.06 { // three errors of a quantile of 4000
				t.Errorf("level %d: %g of the label, the book has %g", l.Level, c.got, c.want)
			}
		}
	}
	var xy, xx, yy float64
	for _, row := range rows {
		x, y := math.Log(estimate.Electric(row, estimate.Load{Watts: 1, Spread: 1.35, Level: 3})), math.Log(estimate.Electric(row, estimate.Load{Watts: 1, Spread: 1.35, Level: 17}))
		xy, xx, yy = xy+x*y, xx+x*x, yy+y*y
	}
	if common := xy / math.Sqrt(xx*yy); math.Abs(common-0.5) > 0.04 {
		t.Errorf("two levels have %g of their variance in common", common)
	}
	if _, err := f.Draws(priors, estimate.Target{Polymer: "PLA", Screen: "3 mm", Levels: make([]estimate.Load, 1e6)}, 1, rand.New(rand.NewPCG(1, 1))); err == nil {
		t.Error("a million levels were drawn")
	}
}

// A metered level is tight before the first run, and a run at another level
// hardly moves it.
func TestMeteredLevelsStayTight(t *testing.T) {
	t.Parallel()
	runs := meteredNotes(t, 12, rand.New(rand.NewPCG(63, 1)), map[int]float64{6: 1.3, 10: 1.3})
	metered := estimate.Load{Watts: 500, Spread: 1.06, Level: 8}
	b := estimate.DrawnAt(metered, fitted(t, runs).ScaleAt(shelf(), metered))
	if b.Low < 500/1.06 || b.Median > 500*1.06 || b.High > 500*1.06*1.06 {
		t.Errorf("metered at 500 W, now %g (%g to %g)", b.Median, b.Low, b.High)
	}
}
