package ageing

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"hopperful/process"
)

func luckOf(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 11)) }

func anyAge(luck *rand.Rand) Age {
	a := Age{Shares: make([]float64, 1+luck.IntN(6)), Cuts: 1e-3 * luck.Float64()}
	sum := 0.0
	for i := range a.Shares {
		a.Shares[i] = luck.ExpFloat64()
		sum += a.Shares[i]
	}
	for i := range a.Shares {
		a.Shares[i] /= sum
	}
	return a
}

func total(a Age) float64 {
	sum := 0.0
	for _, s := range a.Shares {
		sum += s
	}
	return sum
}

func alike(a, b Age) bool {
	for n := range max(len(a.Shares), len(b.Shares)) {
		x, y := 0.0, 0.0
		if n < len(a.Shares) {
			x = a.Shares[n]
		}
		if n < len(b.Shares) {
			y = b.Shares[n]
		}
		if math.Abs(x-y) > 1e-12 {
			return false
		}
	}
	return math.Abs(a.Cuts-b.Cuts) <= 1e-12
}

// Whatever a shop blends and melts, shares stay shares of a whole, a melt adds
// one pass, and a blend's mean is the mean of its parts by mass.
func TestSharesSumToOneThroughAnyHistory(t *testing.T) {
	t.Parallel()
	luck := luckOf(1)
	lots := []Age{Virgin()}
	for range 400 {
		a, b := lots[luck.IntN(len(lots))], lots[luck.IntN(len(lots))]
		m, n := luck.Float64(), luck.Float64()
		mix, err := Blend(Part{a, m}, Part{b, n})
		if err != nil {
			t.Fatal(err)
		}
		if want := (m*a.mean() + n*b.mean()) / (m + n); math.Abs(mix.mean()-want) > 1e-9 {
			t.Fatalf("mean %g, wanted %g", mix.mean(), want)
		}
		after, err := mix.Melted(1e-6)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(total(after)-1) > 1e-12 || math.Abs(after.mean()-mix.mean()-1) > 1e-9 || after.Shares[0] != 0 {
			t.Fatalf("after a melt the shares sum to %.15g and the mean is %g after %g", total(after), after.mean(), mix.mean())
		}
		lots = append(lots, after)
	}
}

func TestBlendingIsFreeOfOrder(t *testing.T) {
	t.Parallel()
	luck := luckOf(2)
	for range 100 {
		a, b, c := Part{anyAge(luck), luck.Float64()}, Part{anyAge(luck), luck.Float64()}, Part{anyAge(luck), luck.Float64()}
		all, err := Blend(a, b, c)
		if err != nil {
			t.Fatal(err)
		}
		other, err := Blend(c, a, b)
		if err != nil {
			t.Fatal(err)
		}
		pair, err := Blend(b, c)
		if err != nil {
			t.Fatal(err)
		}
		steps, err := Blend(Part{pair, b.Mass + c.Mass}, a)
		if err != nil {
			t.Fatal(err)
		}
		if !alike(all, other) || !alike(all, steps) {
			t.Fatalf("%v in one order, %v and %v in others", all, other, steps)
		}
	}
}

// The loop runs into the settled loop and never past it.
func TestLoopSettles(t *testing.T) {
	t.Parallel()
	for _, r := range []float64{0, 0.1, 0.3, 0.5, 0.8, 0.9} {
		end, err := Steady(r, 3e-6)
		if err != nil {
			t.Fatal(err)
		}
		last := 0.0
		for _, b := range []int{1, 2, 4, 8, 16, 400} {
			a, err := Loop(r, b, 3e-6)
			if err != nil {
				t.Fatal(err)
			}
			want, _ := MeanAfter(r, b)
			if m := a.mean(); math.Abs(m-want) > 1e-9 || m < last-1e-12 || m > end.mean()+1e-9 {
				t.Errorf("share %g batch %d: mean %g after %g, formula %g, settled %g", r, b, m, last, want, end.mean())
			} else {
				last = m
			}
			if b == 400 && !alike(a, end) {
				t.Errorf("share %g: the loop does not end in the settled one", r)
			}
		}
		if math.Abs(total(end)-1) > 1e-12 {
			t.Errorf("share %g: shares sum to %.15g", r, total(end))
		}
	}
}

// The closed form is the sum over the passes of the settled loop, and the share
// that just keeps a property is where it says so.
func TestSettledPropertyIsTheSum(t *testing.T) {
	t.Parallel()
	luck := luckOf(8)
	for range 200 {
		r, q := mostRegrind*luck.Float64(), leastFactor+(1-leastFactor)*luck.Float64()
		age, err := Steady(r, 0)
		if err != nil {
			t.Fatal(err)
		}
		want, err := Retained(age, q)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := SteadyRetained(r, q); err != nil || math.Abs(got-want) > 1e-9 {
			t.Fatalf("share %g, factor %g: %g, the sum is %g, %v", r, q, got, want, err)
		}
		edge, err := ShareForStrength(q, 0.8)
		if err != nil {
			t.Fatal(err)
		}
		if at, err := SteadyRetained(edge, q); err != nil || math.Abs(at/q-0.8) > 1e-9 {
			t.Fatalf("factor %g: %g of it is left, want 0.8: %v", q, at/q, err)
		}
	}
}

// The age at hand does not change when it is blended or melted on.
func TestAgesAreNotShared(t *testing.T) {
	t.Parallel()
	a := Age{Shares: []float64{0.5, 0.5}}
	next, err := a.Melted(0)
	if err != nil {
		t.Fatal(err)
	}
	mix, err := Blend(Part{a, 1})
	if err != nil {
		t.Fatal(err)
	}
	next.Shares[1], mix.Shares[0] = 9, 9
	if !slices.Equal(a.Shares, []float64{0.5, 0.5}) {
		t.Errorf("the age became %v", a.Shares)
	}
}

func TestMolarMassOnlyFalls(t *testing.T) {
	t.Parallel()
	luck := luckOf(3)
	for range 200 {
		fresh, water := 1+200*luck.Float64(), 1e-3*luck.Float64()
		full, _ := CutsBy(water, 1)
		half, _ := CutsBy(water/2, 1)
		whole, err := MolarMass(fresh, full)
		if err != nil {
			t.Fatal(err)
		}
		less, _ := MolarMass(fresh, half)
		if whole > fresh || less < whole || math.Abs((1/whole-1/fresh)-2*(1/less-1/fresh)) > 1e-12 {
			t.Fatalf("fresh %g: %g with the water, %g with half of it", fresh, whole, less)
		}
	}
}

// The answers keep what they promise, and a little more regrind does not.
func TestLargestSharesAreTheEdge(t *testing.T) {
	t.Parallel()
	luck := luckOf(4)
	for range 100 {
		q, keep := 0.7+0.29*luck.Float64(), 0.7+0.29*luck.Float64()
		r, err := ShareForStrength(q, keep)
		if err != nil {
			t.Fatal(err)
		}
		left := func(r float64) float64 {
			a, err := Steady(min(r, 0.97), 0)
			if err != nil {
				t.Fatal(err)
			}
			v, err := Retained(a, q)
			if err != nil {
				t.Fatal(err)
			}
			return v / q
		}
		if r < 0.96 && (left(r) < keep-1e-9 || left(r+0.01) >= keep) {
			t.Fatalf("factor %g keep %g: share %g leaves %g, a little more %g", q, keep, r, left(r), left(r+0.01))
		}
	}
}

func TestTablesRead(t *testing.T) {
	t.Parallel()
	all, err := studies()
	if err != nil {
		t.Fatal(err)
	}
	chain, err := chains()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 20 || len(chain) < 5 {
		t.Errorf("%d studies and %d chains", len(all), len(chain))
	}
	marks := []string{"published", "computed", "from memory", "judgement"}
	for _, s := range all {
		if !slices.Contains([]Property{MeltFlow, TensileStrength, ImpactStrength, Toughness}, s.Property) || !slices.Contains(marks, s.Mark) || s.Passes > 50 {
			t.Errorf("%+v", s)
		}
		f, from, err := PerPass(s.Polymer, s.Property)
		if err != nil || f.Check() != nil || len(from) == 0 || f.Low < 0.5 || f.High > 2 {
			t.Errorf("%s %s: factor %v, %v", s.Polymer, s.Property, f, err)
		}
	}
	for _, c := range chain {
		if got, ok := Hydrolyses(c.Polymer); !ok || got != c || !slices.Contains(marks, c.Mark) || c.High > 500 {
			t.Errorf("%+v", c)
		}
	}
	if _, ok := Hydrolyses("PP"); ok {
		t.Error("polypropylene does not hydrolyse")
	}
}

func TestTablesRefuseNonsense(t *testing.T) {
	t.Parallel()
	const head = "polymer,property,passes,ratio,low,high,condition,source,place,mark\n"
	for text, want := range map[string]string{
		"":                   "studies.csv: EOF",
		"polymer,property\n": "wrong number of fields",
		strings.Replace(head, "ratio", "factor", 1):                   "studies.csv:1: the first line must be",
		head + "PLA,melt_flow_rate,1,2\n":                             "wrong number of fields",
		head + "PLA,melt_flow_rate,0,1,1,1,,judgement,,judgement\n":   "studies.csv:2",
		head + "PLA,melt_flow_rate,1,2,1,1.5,,judgement,,judgement\n": "2 lies not in 1 to 1.5",
		head + "PLA,melt_flow_rate,1,NaN,1,1,,judgement,,judgement\n": "no number above 0",
		head + "PLA,melt_flow_rate,1,1,1,1,,,,judgement\n":            "no source",
	} {
		if got, err := readStudies(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q gave %v, %v", text, got, err)
		}
	}
	if got, err := readChains("polymer,molar,low,high,unit,source,place,mark\nPLA,1,1,1,g/mol,judgement,,judgement\n"); err == nil || !strings.Contains(err.Error(), "must be kg/mol") {
		t.Errorf("got %v, %v", got, err)
	}
}

func TestUnknownPolymersAreNamed(t *testing.T) {
	t.Parallel()
	_, _, err := PerPass("wood", MeltFlow)
	var no *UnknownError
	if !errors.As(err, &no) || !strings.Contains(err.Error(), "PLA") || !strings.Contains(err.Error(), "melt flow rate") {
		t.Errorf("got %v", err)
	}
	if _, _, err = PerPass("PLA", "taste"); err == nil || !strings.Contains(err.Error(), "no polymer") {
		t.Errorf("got %v", err)
	}
}

func TestNonsenseIsRefused(t *testing.T) {
	t.Parallel()
	nan := math.NaN()
	hollow := Age{}
	torn := Age{Shares: []float64{0.5, 0.4}}
	calls := map[string]error{}
	_, calls["an age of nothing"] = hollow.Mean()
	_, calls["an age torn"] = torn.Beyond(1)
	_, calls["no share"] = Virgin().Oldest(2)
	_, calls["water joins"] = Virgin().Melted(-1)
	_, calls["cuts of no number"] = Virgin().Melted(nan)
	_, calls["passes below none"] = Passed(-1)
	_, calls["no parts"] = Blend()
	_, calls["a part torn"] = Blend(Part{torn, 1})
	_, calls["mass of no number"] = Blend(Part{Virgin(), nan})
	_, calls["all regrind"] = SteadyBeyond(1, 3)
	_, calls["regrind of no number"] = Loop(nan, 3, 0)
	_, calls["wet as a pond"] = CutsBy(0.5, 1)
	_, calls["no molar mass"] = MolarMass(0, 0)
	_, calls["no power"] = FlowGain(100, 0, 0)
	_, calls["no flows"] = BlendFlow(nil, nil)
	_, calls["flows without shares"] = BlendFlow([]float64{1e-6}, nil)
	_, calls["no flow known"] = ForecastFlow(KnownFlow{}, Factor{1, 0.9, 1.2}, 1, 1)
	_, calls["a flow beyond all"] = ForecastFlow(KnownFlow{1e-6, 0, 0}, Factor{20, 20, 20}, 500, 1)
	_, calls["keeps more than all"] = ShareForStrength(0.9, 1.1)
	for what, err := range calls {
		var r *process.RangeError
		if !errors.As(err, &r) {
			t.Errorf("%s gave %v", what, err)
		}
	}
	old, err := Passed(mostPasses)
	if err != nil {
		t.Fatal(err)
	}
	var r *process.RangeError
	if _, err := old.Melted(0); !errors.As(err, &r) {
		t.Errorf("a pass too many gave %v", err)
	}
}

func BenchmarkBlend20(b *testing.B) {
	luck := luckOf(6)
	var parts []Part
	for range 20 {
		parts = append(parts, Part{anyAge(luck), luck.Float64()})
	}
	for b.Loop() {
		if _, err := Blend(parts...); err != nil {
			b.Fatal(err)
		}
	}
}
