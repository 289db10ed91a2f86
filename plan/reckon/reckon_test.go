package reckon_test

import (
	"errors"
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/fit"
	"hopperful/plan/reckon"
	"hopperful/polymer"
	"hopperful/process/colour"
	"hopperful/shop"
)

func ask(t *testing.T, topic string, numbers map[string]float64, words map[string]string) reckon.Reckoning {
	t.Helper()
	r, err := reckon.Answer(nil, topic, reckon.Given{Numbers: numbers, Words: words})
	if err != nil {
		t.Fatalf("%s: %v", topic, err)
	}
	return r
}

// noted reports whether the answer or one of its notes says that, itself or in a part.
func noted(r reckon.Reckoning, code string) bool {
	return says(r.Head.Saying, code) || slices.ContainsFunc(r.Spoilers, func(f answer.Finding) bool { return says(f.Saying, code) })
}

func says(s fact.Saying, code string) bool {
	return s.Code == code || slices.ContainsFunc(s.Facts, func(f fact.Fact) bool {
		return slices.ContainsFunc(f.Parts, func(p fact.Saying) bool { return says(p, code) })
	})
}

// same reports whether the saying has that number.
func same(s fact.Saying, name string, v float64) bool {
	f, ok := s.Fact(name)
	return ok && f.Value == v
}

func valueOf(t *testing.T, r reckon.Reckoning, key string) float64 {
	t.Helper()
	for _, f := range r.Figures {
		if f.Key == key {
			return f.Value
		}
	}
	t.Fatalf("%s has no figure %s", r.Topic.Key, key)
	return 0
}

func TestEveryTopicAnswersAtItsDefaults(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	if n := len(reckon.Topics()); n < 12 {
		t.Errorf("%d topics", n)
	}
	for _, topic := range reckon.Topics() {
		t.Run(topic.Key, func(t *testing.T) {
			t.Parallel()
			r := ask(t, topic.Key, nil, nil)
			if r.Head.Empty() || len(r.Figures) == 0 || len(r.Reasons) != 1 {
				t.Errorf("answer %q with %d figures", r.Head.Code, len(r.Figures))
			}
			keys := map[string]bool{}
			for _, f := range r.Figures {
				if err := figure.Check(f); err != nil {
					t.Error(err)
				}
				if keys[f.Key] || f.How == "" {
					t.Errorf("%s stands twice or without a reason", f.Key)
				}
				keys[f.Key] = true
			}
			for _, c := range r.Charts {
				for _, curve := range c.Curves {
					if len(curve.X) < 2 || len(curve.X) != len(curve.Mid) || len(curve.X) != len(curve.Low) || len(curve.X) != len(curve.High) || c.Summary == "" {
						t.Errorf("chart %s: %d points", c.Key, len(curve.X))
					}
				}
			}
		})
		if seen[topic.Key] || topic.Model == "" {
			t.Errorf("topic %q is not whole, or there twice", topic.Key)
		}
		seen[topic.Key] = true
		inputs := map[string]bool{}
		for _, in := range topic.Inputs {
			if inputs[in.Key] || in.Name == "" || in.IsNumber() && !(in.Low <= in.Default && in.Default <= in.High) {
				t.Errorf("%s: input %q is not whole, or there twice", topic.Key, in.Key)
			}
			inputs[in.Key] = true
		}
	}
}

// Every topic answers or refuses, never worse, wherever its inputs lie inside
// their ranges and whatever the material.
func TestTopicsTakeWhatTheyAllow(t *testing.T) {
	t.Parallel()
	materials := polymer.Names()
	for _, topic := range reckon.Topics() {
		seed := fnv.New64a()
		seed.Write([]byte(topic.Key))
		rng := rand.New(rand.NewPCG(seed.Sum64(), 4)) // its own, so that a new topic changes no other
		answered := 0
		const tries = 60
		for range tries {
			given := reckon.Given{Numbers: map[string]float64{}, Words: map[string]string{}}
			for _, in := range topic.Inputs {
				switch {
				case in.Key == "material":
					given.Words[in.Key] = materials[rng.IntN(len(materials))]
				case in.Form != "":
					giveForm(rng, &given, in)
				case in.IsWord():
					given.Words[in.Key] = in.Choices[rng.IntN(len(in.Choices))]
				case rng.IntN(3) == 0:
					given.Numbers[in.Key] = in.Low + (in.High-in.Low)*rng.Float64()
				case rng.IntN(8) == 0:
					given.Numbers[in.Key] = []float64{in.Low, in.High}[rng.IntN(2)]
				}
			}
			r, err := reckon.Answer(nil, topic.Key, given)
			var refused *shop.Error
			switch {
			case err == nil:
				answered++
				for _, f := range r.Figures {
					if e := figure.Check(f); e != nil {
						t.Errorf("%s: %v with %v", topic.Key, e, given)
					}
				}
			case !errors.As(err, &refused) || refused.What.Empty():
				t.Errorf("%s: %v with %v", topic.Key, err, given)
			}
		}
		if answered == 0 {
			t.Errorf("%s answered none of %d", topic.Key, tries)
		}
	}
}

// giveForm gives some colours, sometimes.
func giveForm(rng *rand.Rand, given *reckon.Given, in reckon.Input) {
	code := func() colour.RGB {
		return colour.RGB{R: float64(rng.IntN(256)) / 255, G: float64(rng.IntN(256)) / 255, B: float64(rng.IntN(256)) / 255}
	}
	switch {
	case in.Form == reckon.Code && rng.IntN(2) == 0:
		given.Words[in.Key], _ = code().Hex()
	case in.Form == reckon.Colours && rng.IntN(2) == 0:
		var list []colour.Portion
		for range 1 + rng.IntN(5) {
			list = append(list, colour.Portion{Colour: code(), Weight: float64(rng.IntN(40))})
		}
		given.Colours = map[string][]colour.Portion{in.Key: list}
	}
}

// The topics give what the processes are checked for, through other units and
// defaults.
func TestTopicsAgreeWithPublishedCases(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		topic         string
		numbers       map[string]float64
		words         map[string]string
		key           string
		want, tol     float64
		source, place string
	}{
		{"air", map[string]float64{"room": 293.15, "humidity": 0.5}, nil, "dew_point", 282.4224, 1e-3, "MeyerThevenard2019", "psychrolib 1.1.1 GetTDewPointFromRelHum"},
		{"noise", map[string]float64{"level": 90, "time": 8 * 3600}, nil, "osha", 1, 1e-9, "OSHA2026", "8 h at 90 dB(A)"},
		{"noise", map[string]float64{"level": 88, "time": 4 * 3600}, nil, "niosh", 1, 1e-9, "NIOSH1998", "4 h at 88 dB(A)"},
		{"melt-flow", map[string]float64{"cut": 0.3e-3, "time": 60}, nil, "rate", 3.0 / 6e5, 1e-12, "from memory", "ISO 1133: 0.3 g in 60 s is 3 g/10 min"},
		{"weighing", map[string]float64{"step": 1e-3, "limit": 250e-6}, nil, "sample", 12, 1e-9, "own derivation", "3 × 1 g ÷ 250 ppm"},
		{"packing", map[string]float64{"jar": 200e-6, "poured": 0.188, "tapped": 0.188}, nil, "packing", 0.7580645, 1e-6, "own derivation", "188 g from 200 ml of PLA: 940/1240"},
		{"blocked", map[string]float64{"found": 0, "mass": 3}, nil, "most", 0.998577, 1e-6, "Owiki2026", "rule of three, exactly −ln 0.05"},
		{"loop", map[string]float64{"regrind": 0.8}, nil, "mean_passes", 5, 1e-12, "Scipy2020", "scipy.stats.geom mean"},
		{"loop", map[string]float64{"regrind": 0.5}, nil, "beyond_three", 0.125, 1e-12, "Scipy2020", "scipy.stats.geom sf"},
		{"loop", map[string]float64{"regrind": 0.5, "rounds": 2}, nil, "mean_after", 1.5, 1e-12, "own derivation", "half has two passes, half has one"},
		{"loop", map[string]float64{"regrind": 0.5, "loss": 0.2}, nil, "for_kept", 0.5 / 0.375, 1e-12, "own derivation", "of 1 kg 0.625 come back, 0.5 arrive, 0.375 are kept"},
		{"loop", map[string]float64{"keep": 0.9}, map[string]string{"material": "ABS", "property": "toughness"}, "factor", math.Cbrt(0.63), 1e-12, "Cress2021", "toughness 37 % lower after three recycles"},
		{"purge", map[string]float64{"life": 1e5}, nil, "shortest", 0.75, -1, "PintoTadmor1970", "three quarters of the mean stay"},
	} {
		r := ask(t, c.topic, c.numbers, c.words)
		got := valueOf(t, r, c.key)
		if c.tol < 0 { // as a share of the mean stay
			got, c.tol = got/valueOf(t, r, "residence"), 1e-12
		}
		if math.Abs(got-c.want) > c.tol {
			t.Errorf("%s %s: %.9g, want %.9g (%s, %s)", c.topic, c.key, got, c.want, c.source, c.place)
		}
	}
}

func TestTopicsRefuse(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		topic   string
		numbers map[string]float64
		words   map[string]string
		says    string
	}{
		{"dryng", nil, nil, "reckon.no_topic"},
		{"air", map[string]float64{"humdity": 0.5}, nil, "reckon.no_number"},
		{"air", nil, map[string]string{"way": "oven"}, "reckon.no_choice"},
		{"air", map[string]float64{"humidity": 50}, nil, "reckon.outside"},
		{"air", map[string]float64{"humidity": math.NaN()}, nil, "reckon.outside"},
		{"drying", nil, map[string]string{"way": "sunshine"}, "reckon.none_of"},
		{"drying", map[string]float64{"temperature": 345}, nil, "refused.sticks"},
		{"drying", nil, map[string]string{"way": "oven"}, "refused.too_wet"},
		{"drying", map[string]float64{"bed": 0.9}, map[string]string{"way": "desiccant box"}, "refused.too_wet"},
		{"viscosity", map[string]float64{"temperature": 560}, nil, "refused.melt_hot"},
		{"viscosity", nil, map[string]string{"material": "PVC"}, "bar.plastic"},
		{"viscosity", nil, map[string]string{"material": "cheese"}, "refused.no_material"},
		{"screw", map[string]float64{"lead": 1e-3}, nil, "refused.about"},
		{"screw", map[string]float64{"bore": 0.018, "entry": 0.02}, nil, "reckon.wide_nozzle"},
		{"nozzle", map[string]float64{"entry": 1e-4}, nil, "reckon.narrow_cone"},
		{"packing", map[string]float64{"poured": 0.5, "tapped": 0.1}, nil, "reckon.tapped_less"},
		{"loop", nil, map[string]string{"material": "PVC"}, "bar.plastic"},
		{"loop", nil, map[string]string{"property": "colour"}, "reckon.none_of"},
	} {
		_, err := reckon.Answer(nil, c.topic, reckon.Given{Numbers: c.numbers, Words: c.words})
		var refused *shop.Error
		if !errors.As(err, &refused) || refused.What.Code != c.says {
			t.Errorf("%s %v %v: %v, want %q", c.topic, c.numbers, c.words, err, c.says)
		}
	}
}

// 188 g of PLA out of a jar of 200 ml: can that be?
func ExampleAnswer() {
	r, err := reckon.Answer(nil, "packing", reckon.Given{Numbers: map[string]float64{"jar": 200e-6, "poured": 0.188, "tapped": 0.188}})
	if err != nil {
		fmt.Println(err)
		return
	}
	verdict, _ := r.Head.Fact("verdict")
	fmt.Println(r.Head.Code, r.Figures[0].Shown(), verdict.Parts[0].Code)
	// Output: reckon.packing 0.94 g/cm³ packed.too_dense
}

// The calculator quotes the answer that every other room gives to how a material is
// dried, for the same dryer, grains apart.
func TestTheCalculatorQuotesTheOneDrying(t *testing.T) {
	t.Parallel()
	r, err := reckon.Answer(nil, "drying", reckon.Given{Words: map[string]string{"material": "PETG"}})
	if err != nil {
		t.Fatal(err)
	}
	v := map[string]*float64{}
	for _, f := range r.Inputs {
		v[f.Key] = &f.Value
	}
	s := &shop.State{Shop: shop.ShopSet{RoomTemperature: v["room"], RoomHumidity: v["humidity"]}}
	d, err := fit.Dry(s, fit.DryRequest{Polymer: "PETG", Way: shop.DryAir, Temperature: v["temperature"], Bed: v["bed"], DewPoint: v["dew_point"],
		Flow: v["air_flow"], Humidity: v["box_humidity"], Mass: v["mass"], Start: v["start"], Limit: v["limit"]})
	if err != nil || !d.Possible {
		t.Fatalf("%v %s", err, d.By)
	}
	for _, f := range r.Figures {
		if f.Key == "plan_for" {
			if f.Value != d.Time.Value || f.High != d.Time.High || !same(r.Head.Saying, "plan", d.Time.High) {
				t.Errorf("the calculator says %s (%s): %+v; the drying %s (%s)", f.Shown(), f.ShownRange(), r.Head, d.Time.Shown(), d.Time.ShownRange())
			}
			return
		}
	}
	t.Error("the calculator does not quote the drying")
}
