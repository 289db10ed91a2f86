package estimate_test

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"hopperful/estimate"
)

var plain = estimate.Target{Polymer: "PLA", Screen: "3 mm"}

func fitted(t interface {
	Helper()
	Fatal(...any)
}, runs []estimate.Run) *estimate.Fitted {
	t.Helper()
	f, err := estimate.Fit(setup(), runs)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// width is how many times the upper end of a belief is the lower one, by odds
// where it is a share.
func width(b estimate.Belief) float64 {
	if b.Family == estimate.Logit {
		return b.High / (1 - b.High) / (b.Low / (1 - b.Low))
	}
	return b.High / b.Low
}

func TestWithoutRunsTheDrawsAreTheBooks(t *testing.T) {
	t.Parallel()
	priors, f := shelf(), fitted(t, nil)
	got, err := f.Draws(priors, plain, 50, rand.New(rand.NewPCG(3, 3)))
	if err != nil {
		t.Fatal(err)
	}
	want, err := estimate.Hypercube(priors.List(), 50, rand.New(rand.NewPCG(3, 3)))
	if err != nil {
		t.Fatal(err)
	}
	for i := range want {
		for p := range want[i] {
			if estimate.Param(p) != estimate.Discharge && got[i][p] != want[i][p] { // no two sheets are alike
				t.Fatalf("draw %d of parameter %d: %g, the books draw %g", i, p, got[i][p], want[i][p])
			}
		}
	}
	if after := f.Beliefs(priors, plain); !reflect.DeepEqual(after, priors) {
		t.Error("beliefs moved without a record")
	}
}

func TestOneRunTeachesOnlyWhatItSpeaksOf(t *testing.T) {
	t.Parallel()
	runs, _ := notes(t, 1, rand.New(rand.NewPCG(4, 4)), 0)
	runs[0].Time, runs[0].Product = 30, ptr(0.4*runs[0].Charge)                               // far from done, so that it tells how fast
	runs[0].WallAfter, runs[0].ChargeAfter, runs[0].Energy, runs[0].Left = nil, nil, nil, nil // product and time alone
	priors := shelf()
	after := fitted(t, runs).Beliefs(priors, plain)
	for _, p := range []estimate.Param{estimate.Film, estimate.WallCapacity, estimate.WallLoss, estimate.LidFactor, estimate.Softening, estimate.Noise, estimate.StallShift} {
		if !reflect.DeepEqual(after[p], priors[p]) {
			t.Errorf("a product says something of %s: %+v", priors[p].Key, after[p])
		}
	}
	if after[estimate.BreakRate].Runs != 1 || width(after[estimate.BreakRate]) >= width(priors[estimate.BreakRate]) {
		t.Errorf("a product says nothing of the break rate: %+v", after[estimate.BreakRate])
	}
}

// A cooling curve alone is a one-parameter problem: wall over room falls by
// exp(−UA·lid·t/C), so only the time constant is learned.
func TestACoolingCurveTeachesTheTimeConstant(t *testing.T) {
	t.Parallel()
	const room, tau = 293.15, 2400.0
	var runs []estimate.Run
	for i := range 12 {
		rest := 300 + 200*float64(i)
		runs = append(runs, estimate.Run{Record: int64(i + 1), Polymer: "PLA", Screen: "3 mm", Charge: 0.1, Time: 60, Largest: 0.035, Thickness: 0.0016,
			Room: room, Rest: &rest, WallStopped: ptr(room + 40), WallBefore: ptr(room + 40*math.Exp(-rest/tau))})
	}
	priors := shelf()
	rows, err := fitted(t, runs).Draws(priors, plain, 400, rand.New(rand.NewPCG(1, 1)))
	if err != nil {
		t.Fatal(err)
	}
	var taus []float64
	for _, row := range rows {
		taus = append(taus, row[estimate.WallCapacity]/(row[estimate.WallLoss]*row[estimate.LidFactor]))
	}
	slices.Sort(taus)
	if middle := taus[len(taus)/2]; math.Abs(middle-tau) > 0.05*tau || taus[360]/taus[40] > 1.15 {
		t.Errorf("time constant %g s (%g to %g), made with %g s", middle, taus[40], taus[360], tau)
	}
}

func TestWhatOnePolymerTaughtHelpsAnother(t *testing.T) {
	t.Parallel()
	runs, _ := notes(t, 8, rand.New(rand.NewPCG(5, 5)), 1)
	priors := shelf()
	other := fitted(t, runs).Beliefs(priors, estimate.Target{Polymer: "PETG", Screen: "3 mm"})
	if width(other[estimate.BreakRate]) >= 0.9*width(priors[estimate.BreakRate]) {
		t.Errorf("PETG learns nothing of the mill: %+v", other[estimate.BreakRate])
	}
	if !reflect.DeepEqual(other[estimate.Toughness], priors[estimate.Toughness]) {
		t.Errorf("PETG's own toughness moved: %+v", other[estimate.Toughness])
	}
	sheet := fitted(t, runs).Beliefs(priors, estimate.Target{Polymer: "PLA", Screen: "3 mm, new"})
	same := fitted(t, runs).Beliefs(priors, plain)
	if width(sheet[estimate.Discharge]) <= width(same[estimate.Discharge]) || width(sheet[estimate.Discharge]) >= 1.05*width(priors[estimate.Discharge]) { // a sheet's own scatter comes on top of the book's
		t.Errorf("a new sheet: discharge %g to %g", sheet[estimate.Discharge].Low, sheet[estimate.Discharge].High)
	}
}

func TestOrderOfRecordsDoesNotMatter(t *testing.T) {
	t.Parallel()
	runs, _ := notes(t, 9, rand.New(rand.NewPCG(6, 6)), 1)
	mixed := slices.Clone(runs)
	rand.New(rand.NewPCG(9, 9)).Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
	priors := shelf()
	if one, two := fitted(t, runs).Beliefs(priors, plain), fitted(t, mixed).Beliefs(priors, plain); !reflect.DeepEqual(one, two) {
		t.Error("the same records in another order teach something else")
	}
}

// The same run again and again, without error: never wider. Where a book's
// range reaches farther to one side, a belief that moves there may widen by the
// difference; such parameters have a tenth to spare.
func TestMoreOfTheSameNeverWidens(t *testing.T) {
	t.Parallel()
	one, _ := notes(t, 1, rand.New(rand.NewPCG(8, 8)), 0)
	before := shelf()
	for _, n := range []int{1, 2, 4, 8, 16} {
		var runs []estimate.Run
		for i := range n {
			r := one[0]
			r.Record, r.Since = int64(i+1), 0
			runs = append(runs, r)
		}
		priors := shelf()
		after := fitted(t, runs).Beliefs(priors, plain)
		for p := range after {
			if a, b := after[p], before[p]; b.Low > 0 && b.Kind.SI() != "K" && width(a) > spare(b)*width(b) {
				t.Errorf("after %d records %s is wider: %g to %g, before %g to %g", n, a.Key, a.Low, a.High, b.Low, b.High)
			}
		}
		before = after
	}
}

// spare is how much wider a belief may get: by moving into the longer tail, or by
// the sheet in use, which is like no other.
func spare(b estimate.Belief) float64 {
	if b.Key == "discharge" {
		return 1.15
	}
	if up, down := math.Log(b.High/b.Median), math.Log(b.Median/b.Low); up > 1.05*down || down > 1.05*up {
		return 1.1
	}
	return 1.03
}

func TestContradictoryRunsWiden(t *testing.T) {
	t.Parallel()
	runs, _ := notes(t, 20, rand.New(rand.NewPCG(12, 2)), 1)
	agree := foretold(t, runs, runs[3])
	for i := range runs { // every other product a third less
		if i%2 == 0 {
			runs[i].Product = ptr(*runs[i].Product * 0.65)
		}
	}
	if differ := foretold(t, runs, runs[3]); differ < 1.3*agree {
		t.Errorf("the product of a charge spreads by a factor %g after runs that contradict each other, %g after runs that agree", differ, agree)
	}
}

// foretold is how wide the forecast of a run's product is, as the logarithm of the
// upper over the lower end of its 80 % range.
func foretold(t testing.TB, runs []estimate.Run, of estimate.Run) float64 {
	t.Helper()
	f, err := estimate.Fit(setup(), runs)
	if err != nil {
		t.Fatal(err)
	}
	return spans(t, f, of, func(o estimate.Outcome) float64 { return o.Product })
}

func TestOneSlipHasABoundedPull(t *testing.T) {
	t.Parallel()
	runs, _ := notes(t, 12, rand.New(rand.NewPCG(2, 14)), 1)
	priors := shelf()
	right := fitted(t, runs).Beliefs(priors, plain)
	for _, factor := range []float64{0.1, 10, 0.001} {
		slipped := slices.Clone(runs)
		slipped[5].Product = ptr(*runs[5].Product * factor)
		f := fitted(t, slipped)
		wrong := f.Beliefs(priors, plain)
		for p := range wrong {
			if v := wrong[p].Median; v < right[p].Low || v > right[p].High {
				t.Errorf("a product times %g moves %s to %g, out of %g to %g", factor, wrong[p].Key, v, right[p].Low, right[p].High)
			}
		}
		checked := f.Without()
		named := 0
		for _, c := range checked {
			if c.Suspicious() {
				named++
				if c.Record != 6 || c.Of != estimate.OfProduct || c.Weight > 0.1 {
					t.Errorf("suspicious: %+v", c)
				}
			}
		}
		if named != 1 {
			t.Errorf("%d readings are suspicious, one was mistyped by %g", named, factor)
		}
	}
}

func TestStallsTeachHowReadilyTheMillStalls(t *testing.T) {
	t.Parallel()
	at := func(stalls, smooth int) estimate.Belief {
		var runs []estimate.Run
		for i := range stalls + smooth {
			runs = append(runs, estimate.Run{Record: int64(i + 1), Polymer: "PLA", Screen: "3 mm", Charge: 0.3, Time: 20, Largest: 0.035, Thickness: 0.0016,
				Room: 293.15, Stalled: i < stalls, StallOdds: ptr(-3.0)})
		}
		priors := shelf()
		return fitted(t, runs).Beliefs(priors, plain)[estimate.StallShift]
	}
	never, often := at(0, 20), at(3, 3)
	if never.Median >= 0 || often.Median <= 0.5 || often.Low <= never.Low {
		t.Errorf("never stalled: %g, stalled every other time: %g", never.Median, often.Median)
	}
}

// A mill that loses 2 % of its break rate a kilogram shows it, and a new blade
// takes it back.
func TestABladeGoingBluntIsSeen(t *testing.T) {
	t.Parallel()
	chance := rand.New(rand.NewPCG(21, 1))
	priors := shelf()
	row := make([]float64, estimate.Params)
	for p, b := range priors {
		row[p] = b.Median
	}
	var runs []estimate.Run
	for i := range 60 {
		since := 0.4 * float64(i)
		worn := slices.Clone(row)
		worn[estimate.BreakRate] *= math.Exp(-0.02 * since)
		r := estimate.Run{Record: int64(i + 1), Polymer: "PLA", Screen: "3 mm", Since: since, Charge: 0.1, Time: 60, Room: 293.15, Resolution: 0.001,
			Load: estimate.Load{Watts: 550, Spread: 1.35}, Largest: 0.035, Thickness: 0.0016}
		o, err := estimate.Reckon(worn, 0.05, r)
		if err != nil {
			t.Fatal(err)
		}
		r.Product, r.Left = ptr(o.Product*(1+0.02*chance.NormFloat64())), ptr(o.Left*(1+0.02*chance.NormFloat64()))
		runs = append(runs, r)
	}
	f := fitted(t, runs)
	d := f.Drift(0)
	if !d.Told || d.Slope > -0.01 || d.Slope < -0.03 {
		t.Errorf("slope %g ± %g a kilogram, made with -0.02", d.Slope, d.Spread)
	}
	var end estimate.Worn
	for _, p := range d.Points {
		if !p.Forecast {
			end = p
		}
	}
	want := math.Exp(-0.02 * end.Since)
	if want < end.Low || want > end.High || end.Low >= end.High {
		t.Errorf("after %g kg the rate is %g (%g to %g) of the first, made with %g", end.Since, end.Rate, end.Low, end.High, want)
	}
	low, mid, high := f.Until(0.5)
	if !(low <= mid && mid <= high) || mid < 20 || mid > 70 {
		t.Errorf("half the rate in %g kg (%g to %g), made with 35", mid, low, high)
	}
	fresh := f.Beliefs(priors, estimate.Target{Polymer: "PLA", Screen: "3 mm", Chapter: 1})[estimate.BreakRate]
	blunt := f.Beliefs(priors, estimate.Target{Polymer: "PLA", Screen: "3 mm", Since: 24})[estimate.BreakRate]
	if fresh.Median <= blunt.Median {
		t.Errorf("a new blade breaks at %g, the blunt one at %g", fresh.Median, blunt.Median)
	}
}

func TestThousandsOfRunsAreTaken(t *testing.T) {
	t.Parallel()
	one, _ := notes(t, 1, rand.New(rand.NewPCG(8, 8)), 0)
	runs := make([]estimate.Run, 5000)
	for i := range runs {
		runs[i] = one[0]
		runs[i].Record, runs[i].Since = int64(i+1), 0.1*float64(i)
		runs[i].Product, runs[i].Left, runs[i].Energy, runs[i].ChargeAfter = nil, nil, nil, nil
		runs[i].Load = estimate.Load{} // nobody noted the level: cheap
	}
	fitted(t, runs)
}

// Runs plausible and silly: always an answer that is a distribution.
func TestNoRunMakesTheFitSpeakNonsense(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		number := func(name string, lo, hi float64) *float64 {
			if rapid.IntRange(0, 3).Draw(t, name+" read") == 0 {
				return nil
			}
			v := rapid.OneOf(rapid.Float64Range(lo, hi), rapid.SampledFrom([]float64{0, -1, 1e9, math.NaN(), math.Inf(1), lo, hi})).Draw(t, name)
			return &v
		}
		must := func(name string, lo, hi float64) float64 {
			if v := number(name, lo, hi); v != nil {
				return *v
			}
			return lo
		}
		runs := make([]estimate.Run, rapid.IntRange(0, 4).Draw(t, "runs"))
		for i := range runs {
			runs[i] = estimate.Run{Record: int64(i), Polymer: rapid.SampledFrom([]string{"PLA", "PETG", "wood"}).Draw(t, "polymer"), Screen: "s",
				Charge: must("charge", 0.01, 2), Time: must("time", 1, 3000), Largest: 0.035, Thickness: 0.0016, Room: must("room", 270, 310),
				Load:    estimate.Load{Watts: must("watts", 0, 3000), Spread: 1.3, IdleShare: rapid.Float64Range(0, 0.9).Draw(t, "idle")},
				Product: number("product", 0, 3), Left: number("left", 0, 3), Energy: number("energy", 0, 1e6), Stalled: rapid.Bool().Draw(t, "stalled"),
				StallOdds: number("odds", -10, 5), WallBefore: number("wall before", 270, 350), WallAfter: number("wall after", 270, 350),
				ChargeBefore: number("charge before", 270, 350), ChargeAfter: number("charge after", 270, 400), Rest: number("rest", 0, 1e5),
				WallStopped: number("wall stopped", 270, 350), Follows: rapid.Bool().Draw(t, "follows"), Since: must("since", 0, 50), Resolution: 0.001}
		}
		f := fitted(t, runs)
		priors := shelf()
		for _, b := range f.Beliefs(priors, plain) {
			if err := b.Check(); err != nil {
				t.Fatal(err)
			}
		}
		rows, err := f.Draws(priors, plain, 5, rand.New(rand.NewPCG(1, 1)))
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			for p, v := range row {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("parameter %d is %g", p, v)
				}
			}
		}
		checked := f.Without()
		for _, c := range checked {
			if math.IsNaN(c.Deviation()) || !(c.Spread > 0) || c.Weight < 0 || c.Weight > 1 {
				t.Fatalf("%+v", c)
			}
		}
	})
}

// A watt for a second cannot have taken a gigajoule: a run whose readings leave the
// other readings' errors all but alike is left out without a panic.
func TestARunBeyondAllReasonIsLeftOut(t *testing.T) {
	t.Parallel()
	energy, after := 1e9, 270.0
	f := fitted(t, []estimate.Run{{Polymer: "PLA", Screen: "s", Charge: 0.01, Time: 1, Largest: 0.035, Thickness: 0.0016, Room: 270,
		Load: estimate.Load{Watts: 1, Spread: 1.3, IdleShare: 0.9}, Energy: &energy, ChargeAfter: &after, Resolution: 0.001}})
	for _, c := range f.Without() {
		if math.IsNaN(c.Deviation()) {
			t.Errorf("%+v", c)
		}
	}
}
