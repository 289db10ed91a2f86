package sieve_test

import (
	"fmt"

	"hopperful/process/sieve"
)

// product is a stack with the ground product of an invented mill, 124.8 g on it.
func product() (sieve.Analysis, error) {
	var s sieve.Stack
	for _, stamped := range []string{"2.8 mm", "2 mm", "1.4 mm", "1 mm", "710 µm", "500 µm", "355 µm", "250 µm", "125 µm"} {
		one, err := sieve.ByDesignation(stamped)
		if err != nil {
			return sieve.Analysis{}, err
		}
		s.Sieves = append(s.Sieves, one)
	}
	p := sieve.Portion{Charge: 0.1250}
	for _, grams := range []float64{0, 5.2, 21.0, 30.8, 24.3, 17.9, 10.9, 5.7, 6.0, 3.0} {
		p.Rows = append(p.Rows, sieve.Row{Mass: grams / 1000})
	}
	s.Portions = []sieve.Portion{p}
	return sieve.Weigh(s)
}

// From masses to sizes, the way a person would try first.
func Example() {
	a, err := product()
	if err != nil {
		fmt.Println(err)
		return
	}
	d, err := a.Distribution(sieve.Bounds{})
	if err != nil {
		fmt.Println(err)
		return
	}
	sizes, err := sieve.Describe(d)
	if err != nil {
		fmt.Println(err)
		return
	}
	fines, err := sieve.FinesShare(d, 250e-6)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("loss %.2f %%, closes: %t\n", 100*a.LossShare, a.Closes)
	fmt.Printf("d10 %.2f, d50 %.2f, d90 %.2f mm, span %.2f\n", sizes.D10.Value*1e3, sizes.D50.Value*1e3, sizes.D90.Value*1e3, sizes.Span.Value)
	fmt.Printf("%.1f %% finer than 250 µm\n", 100*fines)
	// Output:
	// loss 0.16 %, closes: true
	// d10 0.31, d50 0.93, d90 1.77 mm, span 1.57
	// 7.2 % finer than 250 µm
}

// Which law fits, and what that means.
func ExampleJudge() {
	a, err := product()
	if err != nil {
		fmt.Println(err)
		return
	}
	fits, err := sieve.FitAll(a.Points(), sieve.Weighting{})
	if err != nil {
		fmt.Println(err)
		return
	}
	v, err := sieve.Judge(fits)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s, n = %.2f ± %.2f\n", v.Word, v.Best.Shape, v.Best.ShapeError)
	// Output:
	// fits roughly, n = 1.93 ± 0.08
}

// Two sieves of one's own are a simple test: the answer comes with its bounds.
func ExampleSimpleSize() {
	var s sieve.Stack
	for _, opening := range []float64{2e-3, 1e-3} {
		one, err := sieve.Own(opening, sieve.PlateRound)
		if err != nil {
			fmt.Println(err)
			return
		}
		s.Sieves = append(s.Sieves, one)
	}
	s.Portions = []sieve.Portion{{Rows: []sieve.Row{{Mass: 0.020}, {Mass: 0.050}, {Mass: 0.030}}}}
	a, err := sieve.Weigh(s)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range []float64{0.5, 0.95} {
		r, err := sieve.SimpleSize(a, p)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("d%.0f %.2f mm (%.2f to %.2f)\n", 100*p, r.Value*1e3, r.Low*1e3, r.High*1e3)
	}
	// Output:
	// d50 1.36 mm (1.30 to 1.43)
	// d95 2.66 mm (2.26 to 3.01)
}

// After three sound runs 9 % above 1.25 holes is too much for a sound screen.
func ExampleSound_Test() {
	screen := sieve.Screen{Hole: 2e-3, Density: 1240}
	known, err := sieve.NewSound(sieve.Prior{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, coarse := range []float64{0.008, 0.012, 0.009} {
		if known, err = known.After(screen, sieve.Sample{Mass: 0.06, Coarse: coarse}); err != nil {
			fmt.Println(err)
			return
		}
	}
	v, err := known.Test(screen, sieve.Sample{Mass: 0.06, Coarse: 0.09, Long: sieve.NotLooked}, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("alarm: %t, chance %.4f, odds for torn 10^%.1f\n", v.Alarm, v.ShareP, v.LogBayes)
	fmt.Printf("a sound screen here gives %.2g %% (%.2g to %.2g %%)\n", 100*v.Expected.Value, 100*v.Expected.Low, 100*v.Expected.High)
	// Output:
	// alarm: true, chance 0.0010, odds for torn 10^1.7
	// a sound screen here gives 0.95 % (0.16 to 3.1 %)
}

// Seven times the usual metal in the last run.
func ExampleMetal_Test() {
	m := sieve.Metal{Resolution: 0.1e-6}
	for _, mg := range []float64{2.1, 1.7, 2.6, 2.0, 1.8, 14} {
		m.Runs = append(m.Runs, sieve.MetalRun{Ground: 0.5, Found: mg * 1e-6})
	}
	c, err := m.Test(0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("alarm: %t, chance %.4f\n", c.Alarm, c.StepP)
	// Output:
	// alarm: true, chance 0.0002
}
