package ageing

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"hopperful/process"
)

// shopOf makes a shop up: grades of fresh plastic about the book's rate, lots of
// them and of blends with some passes, and tests with errors as stated.
func shopOf(luck *rand.Rand, factor float64, fresh FreshFlow, tests int, water float64) []FlowTest {
	grades := []float64{fresh.Grade * luck.NormFloat64(), fresh.Grade * luck.NormFloat64()}
	off := luck.NormFloat64() // how wrong everybody is about water
	var all []FlowTest
	for i := range tests {
		w := luck.Float64()
		t := FlowTest{Doubt: 0.04 + 0.05*luck.Float64(), Passes: 4 * luck.Float64(), Gain: 1, Grades: []float64{w, 1 - w}}
		if i == 0 {
			t.Passes, t.Grades = 0, []float64{1, 0}
		}
		if i > 0 && water > 0 {
			t.Gain, t.GainDoubt = 1+luck.Float64(), water*luck.Float64()
		}
		t.Rate = fresh.Rate * t.Gain * math.Exp(w*grades[0]+(1-w)*grades[1])
		if i == 0 {
			t.Rate = fresh.Rate * math.Exp(grades[0])
		}
		t.Rate *= math.Exp(t.Passes*math.Log(factor) + off*t.GainDoubt + t.Doubt*luck.NormFloat64())
		all = append(all, t)
	}
	return all
}

// A shop whose factor is drawn from the prior has it in the range learned in
// eight cases of ten: 10 to 90 %. Of 600 shops, 480 ± 4 standard deviations of
// the binomial law.
func TestKnownFactorsAreRecoveredAtTheStatedRate(t *testing.T) {
	t.Parallel()
	for _, water := range []float64{0, 0.5} {
		luck := luckOf(11)
		prior, fresh := factorOf(math.Log(1.2), 0.15), FreshFlow{Rate: 1e-5, Grade: 0.5}
		const shops = 600
		inside, wide := 0, 0.0
		for range shops {
			truth := math.Exp(math.Log(1.2) + 0.15*luck.NormFloat64())
			got, err := LearnFlow(prior, fresh, shopOf(luck, truth, fresh, 2+luck.IntN(10), water))
			if err != nil {
				t.Fatal(err)
			}
			if got.Low <= truth && truth <= got.High {
				inside++
			}
			wide += got.spread() / prior.spread() / shops
		}
		if sd := math.Sqrt(shops * 0.8 * 0.2); math.Abs(float64(inside)-0.8*shops) > 4*sd {
			t.Errorf("water %g: %d of %d inside", water, inside, shops)
		}
		if wide > 0.6 {
			t.Errorf("water %g: the range stays %.0f %% as wide", water, 100*wide)
		}
	}
}

// Every test narrows or leaves the range as it is, and none with passes leaves
// it; the order of tests makes no difference.
func TestTestsNarrowTheFactor(t *testing.T) {
	t.Parallel()
	luck := luckOf(12)
	prior, fresh := Factor{1.15, 1, 1.5}, FreshFlow{Rate: 1e-5, Grade: 0.5}
	for range 100 {
		tests := shopOf(luck, 1.2, fresh, 8, 0.4)
		last := prior.spread()
		for n := 1; n <= len(tests); n++ {
			got, err := LearnFlow(prior, fresh, tests[:n])
			if err != nil {
				t.Fatal(err)
			}
			if n == 1 && got != prior {
				t.Fatalf("fresh plastic alone taught %+v", got)
			}
			if n > 1 && got.spread() >= last {
				t.Fatalf("test %d widened %g to %g", n, last, got.spread())
			}
			last = got.spread()
		}
		one, _ := LearnFlow(prior, fresh, tests)
		tests[1], tests[6] = tests[6], tests[1]
		if two, _ := LearnFlow(prior, fresh, tests); math.Abs(one.Median-two.Median) > 1e-9 {
			t.Fatalf("%g and %g in another order", one.Median, two.Median)
		}
	}
}

func TestFlowTestsOutOfRangeAreRefused(t *testing.T) {
	t.Parallel()
	prior, fresh := Factor{1.15, 1, 1.5}, FreshFlow{Rate: 1e-5, Grade: 0.5}
	good := FlowTest{Rate: 1e-5, Doubt: 0.05, Passes: 1, Gain: 1, Grades: []float64{1}}
	nan := math.NaN()
	for what, change := range map[string]func(*FlowTest){
		"no rate": func(f *FlowTest) { f.Rate = 0 }, "no doubt": func(f *FlowTest) { f.Doubt = 0 }, "passes of no number": func(f *FlowTest) { f.Passes = nan },
		"water joins": func(f *FlowTest) { f.Gain = 0.9 }, "no grades": func(f *FlowTest) { f.Grades = nil }, "gain's doubt": func(f *FlowTest) { f.GainDoubt = -1 },
	} {
		bad := good
		change(&bad)
		var r *process.RangeError
		if _, err := LearnFlow(prior, fresh, []FlowTest{good, bad}); !errors.As(err, &r) {
			t.Errorf("%s gave %v", what, err)
		}
	}
	var r *process.RangeError
	if _, err := LearnFlow(prior, fresh, nil); !errors.As(err, &r) {
		t.Errorf("no tests gave %v", err)
	}
}

// Every plastic that hydrolyses has a share of water that reacts, and the
// published case lies in PLA's range.
func TestReactionsRead(t *testing.T) {
	t.Parallel()
	all, err := reactions()
	if err != nil {
		t.Fatal(err)
	}
	chain, _ := chains()
	if len(all) != len(chain) {
		t.Errorf("%d reactions, %d chains", len(all), len(chain))
	}
	for _, c := range chain {
		if r := Reacts(c.Polymer); r.Polymer != c.Polymer || r.Source == "" || !(r.Low < r.Share && r.Share < r.High && r.High <= 1) {
			t.Errorf("%+v", r)
		}
	}
	if r := Reacts("PLA"); !(r.Low < 0.015 && 0.015 < r.High) {
		t.Errorf("the published case lies outside %+v", r)
	}
	for text, want := range map[string]string{
		"h\nPLA,0.2,0.3,1,judgement,,judgement\n": "0.2 lies not in 0.3 to 1",
		"h\nPLA,0.2,0.1,2,judgement,,judgement\n": "cannot react",
	} {
		text = strings.Replace(text, "h\n", "polymer,extent,low,high,source,place,mark\n", 1)
		if _, err := readReactions(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q gave %v", text, err)
		}
	}
}

// Strength falls with every cut chain, never below none.
func TestStrengthOnlyFalls(t *testing.T) {
	t.Parallel()
	luck := luckOf(13)
	for range 200 {
		fresh, b, cuts := 1+100*luck.Float64(), 0.05+0.5*luck.Float64(), 0.1*luck.Float64()
		less, err := StrengthLeft(fresh, cuts/2, b)
		if err != nil {
			t.Fatal(err)
		}
		more, err := StrengthLeft(fresh, cuts, b)
		if err != nil {
			t.Fatal(err)
		}
		if more < 0 || less > 1 || more > less {
			t.Fatalf("%g then %g", less, more)
		}
	}
}
