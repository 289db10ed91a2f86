package fit

import (
	"math"
	"testing"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/figure"
	"hopperful/internal/checkrow"
	"hopperful/plan/traceability"
	"hopperful/polymer"
	"hopperful/process/metal"
	"hopperful/process/moisture"
	"hopperful/shop"
)

func TestFitChecks(t *testing.T) {
	t.Parallel()
	checkrow.Run(t, "checks.csv", map[string]checkrow.Func{
		"PressureSlope": pressureSlope, "NozzlePressure": nozzlePressure,
		"GammaOf": func(in checkrow.Inputs) ([]float64, error) {
			r, err := gammaOf(in.Num("median"), in.Num("high"))
			return []float64{r.Shape, r.Exposure}, err
		},
		"LearnChips": func(in checkrow.Inputs) ([]float64, error) {
			r, err := gammaOf(in.Num("median"), in.Num("high"))
			if err != nil {
				return nil, err
			}
			after, err := metal.Learn(r, int(in.Num("found")), in.Num("mass"))
			if err != nil {
				return nil, err
			}
			v, err := after.Quantile(0.5)
			return []float64{v}, err
		},
		"Narrow": func(in checkrow.Inputs) ([]float64, error) {
			var b beliefs
			b[0] = estimate.Belief{Family: estimate.LogNormal, Median: in.Num("median"), Low: in.Num("low"), High: in.Num("high")}
			b.narrow(0, in.Num("reading"), in.Num("spread"))
			return []float64{b[0].Median, b[0].Low, b[0].High}, nil
		},
		"NoMore":   func(in checkrow.Inputs) ([]float64, error) { return []float64{noMore(in.Num("mass"), 0.05)}, nil },
		"Passes":   passesRow,
		"Strength": strengthRow,
		"AtRest": func(in checkrow.Inputs) ([]float64, error) {
			rh := in.Num("humidity")
			j := &job{state: &shop.State{Shop: shop.ShopSet{RoomHumidity: &rh}}}
			row := make([]float64, fitParams)
			row[fWater], row[fSaturation] = in.Num("half"), in.Num("saturated")/in.Num("half")
			return []float64{j.wet(row)}, nil
		},
	})
}

// passesRow is the mean number of passes when a print of so much regrind in
// fresh material is ground and goes into the next, so many times.
func passesRow(in checkrow.Inputs) ([]float64, error) {
	r := in.Num("regrind")
	last := &shop.Lot{ID: "V1", Polymer: "ABS", Class: shop.Virgin, In: 100}
	lots, records := []*shop.Lot{last}, []shop.Record(nil)
	for n := range int(in.Num("times")) {
		blend := &shop.Lot{ID: shop.LotID(rune('a' + n)), Polymer: "ABS", Class: shop.Blend, In: 1, Parents: []shop.Edge{{Lot: "V1", Mass: 1}}}
		if n > 0 {
			blend.Parents = []shop.Edge{{Lot: "V1", Mass: 1 - r}, {Lot: last.ID, Mass: r}}
		}
		melted := shop.Record{ID: shop.RecordID(n + 1), Body: &shop.Printed{From: blend.ID, Into: blend.ID + "p", Mass: 1}}
		print := &shop.Lot{ID: blend.ID + "p", Polymer: "ABS", Class: shop.Print, In: 1, Parents: []shop.Edge{{Lot: blend.ID, Mass: 1, Record: melted.ID}}}
		lots, records = append(lots, blend, print), append(records, melted)
		last = print
	}
	s := &shop.State{Lots: shop.Shelved(lots...), Records: shop.Listed(records...)}
	k, err := strengthIn(s, last)
	if err != nil {
		return nil, err
	}
	p, err := k.Age.Mean()
	return []float64{p.Value}, err
}

func strengthIn(s *shop.State, lot *shop.Lot) (traceability.Strength, error) {
	ages, err := traceability.NewAger(s)
	if err != nil {
		return traceability.Strength{}, err
	}
	return ages.StrengthOf(lot)
}

// strengthRow is the strength of a lot of ABS printed so often.
func strengthRow(in checkrow.Inputs) ([]float64, error) {
	lot := &shop.Lot{ID: "a", Polymer: "ABS", Class: shop.Virgin, In: 1}
	lots, records := []*shop.Lot{lot}, []shop.Record(nil)
	for n := range int(in.Num("passes")) {
		melted := shop.Record{ID: shop.RecordID(n + 1), Body: &shop.Printed{From: lot.ID, Into: lot.ID + "p", Mass: 1}}
		lot = &shop.Lot{ID: lot.ID + "p", Polymer: "ABS", Class: shop.Print, In: 1, Parents: []shop.Edge{{Lot: lot.ID, Mass: 1, Record: melted.ID}}}
		lots, records = append(lots, lot), append(records, melted)
	}
	s := &shop.State{Lots: shop.Shelved(lots...), Records: shop.Listed(records...)}
	j := &job{}
	var err error
	if j.strength, err = strengthIn(s, lot); err != nil {
		return nil, err
	}
	row := make([]float64, fitParams)
	row[fKeeps] = in.Num("keeps")
	var r run
	err = j.strongEnough(row, &r)
	return []float64{r.strength}, err
}

func TestTheWorstDecides(t *testing.T) {
	t.Parallel()
	items := []Item{{Key: "a", Verdict: answer.Likely, Chance: 0.8}, {Key: "b", Verdict: answer.Unknown, Chance: 0.6}, {Key: "c", Verdict: answer.Unknown, Chance: 0.5}, {Key: "d", Verdict: answer.Yes, Chance: 1}}
	if w := worst(items); w.Key != "c" {
		t.Errorf("%s decides", w.Key)
	}
	for i, v := range []answer.Verdict{answer.Unlikely, answer.No} {
		items = append(items, Item{Key: string(v), Verdict: v, Chance: 0.9})
		if w := worst(items); w.Key != string(v) {
			t.Errorf("%d: %s decides over %s", i, w.Key, v)
		}
	}
}

// Every parameter has its line in the table, and every line is a belief.
func TestFitBooksAreWhole(t *testing.T) {
	t.Parallel()
	keys := map[string]bool{}
	for i, b := range prior() {
		if b.Key == "" || b.Name == "" || keys[b.Key] {
			t.Errorf("parameter %d has no line of its own", i)
		}
		keys[b.Key] = true
		if err := b.Check(); err != nil {
			t.Error(err)
		}
	}
}

// The books' hours stretch all a drying takes, each part by as much, and by more the surer they are.
func TestBooksStretchEveryPart(t *testing.T) {
	t.Parallel()
	of := func(high float64) dryDraw {
		j := &dryJob{job: &job{beliefs: prior(), rows: [][]float64{make([]float64, fitParams)}}, draws: []dryDraw{{Drying: moisture.Drying{Time: 1000, Grain: 100, Bed: 200, Air: 300, Warm: 400}}}}
		j.join(figure.Figure{Value: 4000, Low: 16e6 / high, High: high})
		return j.draws[0]
	}
	x := of(5000)
	if x.stretch <= 1 || x.stretch >= 4 {
		t.Fatalf("stretched by %g", x.stretch)
	}
	for part, got := range map[float64]float64{1000: x.Time, 100: x.Grain, 200: x.Bed, 300: x.Air, 400: x.Warm} {
		if math.Abs(got-part*x.stretch) > 1e-9 {
			t.Errorf("%g became %g, not %g times as much", part, got, x.stretch)
		}
	}
	if wide := of(40000); wide.stretch >= x.stretch || wide.stretch <= 1 {
		t.Errorf("rough hours stretch by %g, sure ones by %g", wide.stretch, x.stretch)
	}
}

// Of a plastic nobody knows the grains stick as those of the softest common ones do, at 58 °C (judgement).
func TestWhatNobodyKnowsSticksEarly(t *testing.T) {
	t.Parallel()
	if got := softening(polymer.Polymer{}); got != 331.15 {
		t.Errorf("sticks at %g K", got)
	}
}
