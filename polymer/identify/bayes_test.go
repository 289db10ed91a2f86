package identify

import (
	"math"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// aFinding draws something a bench might show.
func aFinding(r *rapid.T, i int) Finding {
	b := Books()
	test := b.Tests[rapid.IntRange(0, len(b.Tests)-1).Draw(r, "test")]
	if rapid.IntRange(0, 9).Draw(r, "weighed") == 0 {
		return Finding{Test: Weighed, At: rapid.Float64Range(lightest, heaviest).Draw(r, "density"), Within: rapid.Float64Range(1, 100).Draw(r, "within")}
	}
	return Finding{Test: test.Name, Yes: rapid.Bool().Draw(r, "yes"), At: test.At}
}

func someFindings(r *rapid.T) []Finding {
	var all []Finding
	for i := range rapid.IntRange(0, 12).Draw(r, "findings") {
		all = append(all, aFinding(r, i))
	}
	return all
}

func weigh(t rapid.TB, findings ...Finding) []float64 {
	t.Helper()
	b := Books()
	shares, err := b.Weigh(b.Prior(), findings)
	if err != nil {
		t.Fatal(err)
	}
	return shares
}

func TestSharesSumToOneAndStayCapped(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		prior, shares, sum := Books().Prior(), weigh(r, someFindings(r)...), 0.0
		for i, p := range shares {
			if !(p > 0 && p <= MostOdds/(MostOdds+1.0)+1e-12) {
				r.Fatalf("a share of %g", p)
			}
			sum += p
			for j, q := range shares { // evidence for i against j, prior taken out
				if odds := p / q / (prior[i] / prior[j]); odds > MostOdds*mostByDensity*(1+1e-9) {
					r.Fatalf("evidence of %g to 1", odds)
				}
			}
		}
		if math.Abs(sum-1) > 1e-12 {
			r.Fatalf("the shares sum to %g", sum)
		}
	})
}

func TestOrderOfTestsDoesNotMatter(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		findings := someFindings(r)
		first := weigh(r, findings...)
		rand.New(rand.NewSource(rapid.Int64().Draw(r, "seed"))).Shuffle(len(findings), func(i, j int) { findings[i], findings[j] = findings[j], findings[i] })
		for i, p := range weigh(r, findings...) {
			if math.Abs(p-first[i]) > 1e-12 {
				r.Fatalf("%g became %g", first[i], p)
			}
		}
	})
}

// What a test is expected to tell is the mutual information, reckoned here the
// other way round: entropy of the answer less its entropy once the polymer is
// known. It lies between nothing and one bit.
func TestInformationIsMutual(t *testing.T) {
	t.Parallel()
	b := Books()
	rapid.Check(t, func(r *rapid.T) {
		shares := weigh(r, someFindings(r)...)
		sums := b.ByPolymer(shares)
		for _, test := range b.Tests {
			got, err := b.Informs(shares, test)
			if err != nil {
				r.Fatal(err)
			}
			chances, err := b.Chances(Finding{Test: test.Name, Yes: true, At: test.At})
			if err != nil {
				r.Fatal(err)
			}
			yes, yesOf := 0.0, map[string]float64{}
			for i, c := range b.Candidates {
				yes += shares[i] * chances[i]
				yesOf[c.Polymer] += shares[i] * chances[i]
			}
			want := Entropy([]float64{yes, 1 - yes})
			for name, p := range sums {
				want -= p * Entropy([]float64{yesOf[name] / p, 1 - yesOf[name]/p})
			}
			if math.Abs(got.Bits-want) > 1e-9 || got.Bits > 1 || math.Abs(got.Yes-yes) > 1e-12 {
				r.Fatalf("%s at %g tells %g bit, the other way round %g", test.Name, test.At, got.Bits, want)
			}
		}
	})
}

// A finding of the book's own table, by hand: Bayes with two numbers.
func TestLimpInHotWaterByHand(t *testing.T) {
	t.Parallel()
	prior, shares := Books().Prior(), weigh(t, Finding{Test: "limp70", Yes: true})
	i, _ := Books().index("PLA")
	j, _ := Books().index("PETG")
	if got, want := shares[i]/shares[j], prior[i]/prior[j]*0.95/0.12; math.Abs(got/want-1) > 1e-12 {
		t.Errorf("PLA against PETG %g to 1, wanted %g", got, want)
	}
	if name, share := Books().Best(shares); name != "PLA" || share < 0.9 {
		t.Errorf("got %s with %g", name, share)
	}
}

// The weak liquid of the sources: 4.0 to 1 when it floats, 2.6 to 1 when it sinks.
func TestSugarWaterPartsPLAFromPETGWeakly(t *testing.T) {
	t.Parallel()
	for yes, want := range map[bool]float64{true: 4.0, false: 2.6} {
		c, err := Books().Chances(Finding{Test: "floats", Yes: yes, At: 1255})
		if err != nil {
			t.Fatal(err)
		}
		i, _ := Books().index("PLA")
		j, _ := Books().index("PETG")
		odds := c[i] / c[j]
		if !yes {
			odds = 1 / odds
		}
		if math.Abs(odds-want) > 0.05 {
			t.Errorf("floats=%v: %g to 1, wanted %g", yes, odds, want)
		}
	}
}

func TestPriors(t *testing.T) {
	t.Parallel()
	b := Books()
	if err := b.fits(b.Prior()); err != nil {
		t.Fatal(err)
	}
	base := b.ByPolymer(b.Prior())
	none, err := b.WithCounts(nil)
	if err != nil || !slices.EqualFunc(none, b.Prior(), func(x, y float64) bool { return math.Abs(x-y) < 1e-12 }) {
		t.Errorf("no lots moved the prior: %v, %v", none, err)
	}
	moved, err := b.WithCounts(map[string]float64{"ABS": 30, "wood flour": 2, "PLA": 8})
	if err != nil || b.fits(moved) != nil {
		t.Fatalf("%v, %v", moved, b.fits(moved))
	}
	got := b.ByPolymer(moved)
	for name, want := range map[string]float64{"ABS": (20*0.04 + 30) / 60, "PLA": (20*0.7 + 8) / 60, "unknown": (20*0.004 + 2) / 60, "PETG": 20 * 0.15 / 60} {
		if math.Abs(got[name]-want) > 1e-12 {
			t.Errorf("%s %g, wanted %g", name, got[name], want)
		}
	}
	labelled, err := b.WithLabel(b.Prior(), "ABS", HandLabel)
	if err != nil || b.fits(labelled) != nil {
		t.Fatal(err, b.fits(labelled))
	}
	got = b.ByPolymer(labelled)
	if math.Abs(got["ABS"]-0.9) > 1e-12 || math.Abs(got["PLA"]/got["PETG"]-base["PLA"]/base["PETG"]) > 1e-9 {
		t.Errorf("got %v", got)
	}
	for _, bad := range []map[string]float64{{"PLA": -1}, {"PLA": math.NaN()}, {"PLA": math.Inf(1)}} {
		if _, err := b.WithCounts(bad); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
	if _, err := b.WithLabel(b.Prior(), "PLA", 1); err == nil {
		t.Error("a label that is always right was taken")
	}
	if _, err := b.Weigh([]float64{1}, nil); err == nil {
		t.Error("one share for all was taken")
	}
}

func TestRankLeavesOutWhatWasTriedAndWhatIsHot(t *testing.T) {
	t.Parallel()
	b := Books()
	tried := []Finding{{Test: "snaps", Yes: false}, {Test: "floats", Yes: false, At: 1031}}
	all, err := b.Rank(weigh(t, tried...), tried)
	if err != nil {
		t.Fatal(err)
	}
	if len(all) != len(b.Tests)-4 { // two tried, two hotter than PVC bears
		t.Errorf("%d of %d tests left", len(all), len(b.Tests))
	}
	for i, w := range all {
		if w.Name == "snaps" || w.Name == "floats" && w.At == 1030 {
			t.Errorf("%s was tried already", w.Name)
		}
		if i > 0 && w.PerMinute > all[i-1].PerMinute {
			t.Errorf("%s stands below a worse one", w.Name)
		}
	}
	vinyl, err := b.WithLabel(b.Prior(), "PVC", 0.02)
	if err != nil {
		t.Fatal(err)
	}
	all, err = b.Rank(vinyl, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range all {
		if w.Kind == Hot {
			t.Errorf("%s at %g K is offered for what could be PVC", w.Name, w.At)
		}
	}
	if b.Suspect(vinyl) || b.Suspect(b.Prior()) {
		t.Error("two in a hundred is no suspicion yet")
	}
	if vinyl, err = b.WithLabel(b.Prior(), "PVC", HandLabel); err != nil || !b.Suspect(vinyl) {
		t.Errorf("a label that says PVC is a suspicion: %v", err)
	}
}

// Whatever the prior says of PVC, metal hotter than it bears waits for a density that
// excludes it: 150 °C after floating in brine of 1.19 g/cm³, not before.
func TestHotMetalWaitsForDensity(t *testing.T) {
	t.Parallel()
	b := Books()
	for _, c := range []struct {
		tried   []Finding
		hottest float64
	}{
		{nil, 120},
		{[]Finding{{Test: "snaps", Yes: true}, {Test: "limp70", Yes: false}}, 120},
		{[]Finding{{Test: "floats", At: 998}}, 120},
		{[]Finding{{Test: "floats", Yes: true, At: 1190}}, 190},
		{[]Finding{{Test: Weighed, At: 1230, Within: 10}}, 190},
		{[]Finding{{Test: Weighed, At: 1380, Within: 10}}, 0},
	} {
		all, err := b.Rank(weigh(t, c.tried...), c.tried)
		if err != nil {
			t.Fatal(err)
		}
		hottest := 0.0
		for _, w := range all {
			if w.Kind == Hot {
				hottest = math.Max(hottest, w.At-zero)
			}
		}
		if math.Abs(hottest-c.hottest) > 1e-9 {
			t.Errorf("after %+v metal of %g °C is offered, wanted %g", c.tried, hottest, c.hottest)
		}
	}
}

// Solid and afloat in water: only polypropylene and polyethylene are lighter than
// water in the table of plastics, so it is neither PLA nor PETG.
func TestWhatFloatsInWaterIsNotPLA(t *testing.T) {
	t.Parallel()
	b := Books()
	sums := b.ByPolymer(weigh(t, Finding{Test: "floats", Yes: true, At: 998}))
	if sums["PLA"] > 0.05 || sums["PETG"] > 0.02 || sums["PP"]+sums["PE-HD"] < 0.6 {
		t.Errorf("%v", sums)
	}
	// 1.38 g/cm³ is within the grades of both (polymers.csv: PET 1.33 to 1.40, PVC 1.30 to 1.58).
	sums = b.ByPolymer(weigh(t, Finding{Test: Weighed, At: 1380, Within: 10}))
	if !(sums["PET"] > 0.1 && sums["PVC"] > 0.1) || !b.Suspect(weigh(t, Finding{Test: Weighed, At: 1380, Within: 10})) {
		t.Errorf("%v", sums)
	}
}

// A heavy piece that sinks in everything and goes limp in boiling water may be
// PVC, and that stops everything.
func TestHeavyPieceRaisesSuspicion(t *testing.T) {
	t.Parallel()
	shares := weigh(t, Finding{Test: "floats", At: 1300}, Finding{Test: "floats", At: 1255}, Finding{Test: "snaps"})
	if !Books().Suspect(shares) {
		t.Errorf("PVC at %g is no suspicion", Books().ByPolymer(shares)["PVC"])
	}
}

func TestBadFindingsAreRefused(t *testing.T) {
	t.Parallel()
	for _, f := range []Finding{
		{Test: "burns", Yes: true}, {Test: "floats", At: 0}, {Test: "floats", At: math.NaN()}, {Test: "sticks", At: 20},
		{Test: Weighed, At: 1250}, {Test: Weighed, At: 5000, Within: 10}, {Test: strings.Repeat("x", 500)},
	} {
		if got, err := Books().Weigh(Books().Prior(), []Finding{f}); err == nil {
			t.Errorf("%+v gave %v", f, got)
		} else if len(err.Error()) > 200 {
			t.Errorf("the refusal is %d bytes long", len(err.Error()))
		}
	}
}
