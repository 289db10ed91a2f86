package trace_test

import (
	"fmt"

	"hopperful/process/trace"
)

// A mill that idles at 120 W grinds for a minute and runs empty for half a one.
func ExampleRuns() {
	var readings []trace.Reading
	for i := range 120 {
		p := 0.0
		switch {
		case i >= 10 && i < 70:
			p = 380
		case i >= 70 && i < 100:
			p = 122
		}
		readings = append(readings, trace.Reading{At: float64(i), Value: p})
	}
	runs, err := trace.Runs(readings, trace.Known{Idle: 120})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range runs {
		fmt.Printf("ran %.0f s, %.1f kJ of which %.1f kJ above idling; breaking ended after %.0f s, ± %.0f s\n",
			r.Time(), r.Energy.Mid/1000, r.Net.Mid/1000, r.End.At-r.Start.At, r.End.Doubt)
	}
	// Output:
	// ran 90 s, 26.5 kJ of which 15.7 kJ above idling; breaking ended after 68 s, ± 26 s
}

// Half a minute empty, a wall that cools, and one that warms.
func Example() {
	var empty, wall []trace.Reading
	for i := range 31 {
		empty = append(empty, trace.Reading{At: float64(i), Value: 119 + float64(i%3)})
	}
	for i, kelvin := range []float64{318.2, 316.1, 314.3, 312.6, 311.1, 309.7, 308.4, 307.3, 306.3, 305.4} {
		wall = append(wall, trace.Reading{At: float64(60 * i), Value: kelvin})
	}
	drawn, err := trace.Energy(empty, 5, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	cooling, err := trace.Cool(wall, 295.2)
	if err != nil {
		fmt.Println(err)
		return
	}
	soon, err := trace.Ahead(wall[5:], 660)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("drew %.1f kJ\n", drawn.Mid/1000)
	fmt.Printf("falls to 1/e in %.0f s, %.0f to %.0f s; two minutes on it is about %.0f K\n", cooling.Tau.Mid, cooling.Tau.Low, cooling.Tau.High, soon.Mid)
	// Output:
	// drew 3.6 kJ
	// falls to 1/e in 658 s, 654 to 663 s; two minutes on it is about 303 K
}

// As it comes: what is seen is said at once.
func ExampleNewFollower() {
	f, err := trace.NewFollower(trace.Known{Idle: 120})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, power := range []float64{0, 0, 350, 352, 349, 351, 350, 0, 0, 0, 0} {
		events, err := f.Add(trace.Reading{At: float64(i), Value: power})
		if err != nil {
			fmt.Println(err)
			return
		}
		for _, e := range events {
			fmt.Printf("at %d s: %s at %.1f s ± %.1f s\n", i, e.What, e.At.At, e.At.Doubt)
		}
	}
	// Output:
	// at 5 s: started at 1.5 s ± 0.5 s
	// at 10 s: stopped at 6.5 s ± 0.5 s
}
