package figure_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"hopperful/figure"
	"hopperful/quantity"
)

// charge is a figure that uses every field.
func charge() figure.Figure {
	f, err := figure.FromDraws("charge_mass", "grams a charge", quantity.Mass, []float64{1.1, 1.2, 1.3, 1.4})
	if err != nil {
		panic(err)
	}
	speed := figure.Exact("rotor_speed", "rotor speed", quantity.Rotation, 100, figure.Measured).Cite("Reid1965", "eq. 3")
	speed.Records = []int64{4}
	return f.From("m = P·t/e", speed, figure.Exact("price", "price of power", quantity.MoneyPerEnergy, 0.3/3.6e6, figure.Entered)).
		Cite("Reid1965", "eq. 7").Cite("judgement", "").LearnedFrom(14).Warn("only two runs were this warm").
		Held(figure.Limit{Name: "room in the drum", Value: 2, Side: figure.Below, Holds: 0.93})
}

func schema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	file, err := os.Open("../docs/figure.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	doc, err := jsonschema.UnmarshalJSON(file)
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("figure.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("figure.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestJSONMeetsItsSchema(t *testing.T) {
	t.Parallel()
	s := schema(t)
	undrawn := charge()
	undrawn.Limit.Holds, undrawn.Limit.Basis = math.NaN(), figure.Guessed
	for _, f := range []figure.Figure{charge(), undrawn, figure.Exact("n", "charges", quantity.Count, 3, figure.Assumed)} {
		text, err := json.Marshal(f)
		if err != nil {
			t.Fatal(err)
		}
		got, err := jsonschema.UnmarshalJSON(strings.NewReader(string(text)))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(got); err != nil {
			t.Errorf("%s\n%v", text, err)
		}
	}
	for _, bad := range []string{`{}`, `{"key":"a"}`, `[]`} {
		got, _ := jsonschema.UnmarshalJSON(strings.NewReader(bad))
		if s.Validate(got) == nil {
			t.Errorf("the schema lets %s pass", bad)
		}
	}
}

func TestJSONSaysEverythingOnce(t *testing.T) {
	t.Parallel()
	text, err := json.Marshal(charge())
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		`"key":"charge_mass"`, `"unit":"kg"`, `"value":1.25`, `"low":1.13`, `"high":1.37`,
		`"shown":"1.2 kg"`, `"shown_range":"1.1–1.4 kg"`, `"basis":"learned","runs":14`,
		`"source":"Reid 1965, eq. 7; judgement"`, `"from":[{"key":"rotor_speed"`, `"records":[4]`,
		`"holds":0.93,"shown":"at most 2 kg"`, `"warnings":["only two runs`, `"unit":"per J"`,
	} {
		if !strings.Contains(string(text), want) {
			t.Errorf("%s is missing in\n%s", want, text)
		}
	}
	plain, err := json.Marshal(figure.Exact("n", "charges", quantity.Count, 3, figure.Assumed))
	if err != nil {
		t.Fatal(err)
	}
	const want = `{"key":"n","name":"charges","value":3,"unit":"","low":3,"high":3,"shown":"3","basis":"assumed","how":"","source":"","from":[]}`
	if string(plain) != want {
		t.Errorf("got  %s\nwant %s", plain, want)
	}
}

func TestUnfitFiguresAreRefusedByName(t *testing.T) {
	t.Parallel()
	loop := figure.Exact("loop", "loop", quantity.Number, 1, figure.Reckoned)
	loop.Inputs = make([]figure.Figure, 1)
	loop.Inputs[0] = loop // the slice now holds itself
	wide := figure.Exact("wide", "wide", quantity.Number, 1, figure.Reckoned)
	for range 20 {
		wide = figure.Exact("wide", "wide", quantity.Number, 1, figure.Reckoned).From("a+b", wide, wide)
	}
	change := func(edit func(*figure.Figure)) figure.Figure { f := charge(); edit(&f); return f }
	for want, f := range map[string]figure.Figure{
		`"charge_mass": its value is not a finite`:        change(func(f *figure.Figure) { f.Value = math.NaN() }),
		`"charge_mass": its high is not a finite`:         change(func(f *figure.Figure) { f.High = math.Inf(1) }),
		`"charge_mass": its value 1 lies outside`:         change(func(f *figure.Figure) { f.Value = 1 }),
		`"Charge": the key is no snake_case name`:         change(func(f *figure.Figure) { f.Key = "Charge" }),
		`"charge_mass": it has no name`:                   change(func(f *figure.Figure) { f.Name = "" }),
		`its basis "guessed" is none of`:                  change(func(f *figure.Figure) { f.Basis = "guessed" }),
		`it rests on -1 runs`:                             change(func(f *figure.Figure) { f.Runs = -1 }),
		`its limit "room in the drum" is not a number`:    change(func(f *figure.Figure) { f.Limit.Value = math.Inf(-1) }),
		`the side "beside" of its limit`:                  change(func(f *figure.Figure) { f.Limit.Side = "beside" }),
		`its limit holds in a share of 1.5`:               change(func(f *figure.Figure) { f.Limit.Holds = 1.5 }),
		`"rotor_speed": its low is not a finite number (`: change(func(f *figure.Figure) { f.Inputs[0].Low = math.NaN() }),
		`loop: its inputs are more than`:                  loop,
		`wide: its inputs are more than`:                  wide,
	} {
		text, err := json.Marshal(f)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, wanted %q (%d bytes)", err, want, len(text))
		}
	}
}

func TestFromDrawsRefusesWhatHasNoRange(t *testing.T) {
	t.Parallel()
	for _, draws := range [][]float64{nil, {}, {1, math.NaN()}, {math.Inf(1)}, {2, math.Inf(-1), 3}} {
		if f, err := figure.FromDraws("x", "x", quantity.Number, draws); err == nil || !strings.Contains(err.Error(), "figure x: ") {
			t.Errorf("%v gave %v, %v", draws, f, err)
		}
	}
}

// The wanted numbers are numpy 1.24 percentile, its default rule (linear), the
// type 7 of HyndmanFan1996.
func TestQuantilesAgainstNumpy(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		draws          []float64
		low, mid, high float64
	}{
		{[]float64{7}, 7, 7, 7},
		{[]float64{2, 1}, 1.1, 1.5, 1.9},
		{[]float64{3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5}, 1, 4, 6},
		{[]float64{0.2, 11.5, -4, 8.25, 3.125, 3}, -1.9, 3.0625, 9.875},
	} {
		before := slices.Clone(c.draws)
		f, err := figure.FromDraws("x", "x", quantity.Number, c.draws)
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range [][2]float64{{f.Low, c.low}, {f.Value, c.mid}, {f.High, c.high}} {
			if math.Abs(n[0]-n[1]) > 1e-12 {
				t.Errorf("%v: got %v %v %v, wanted %v %v %v", c.draws, f.Low, f.Value, f.High, c.low, c.mid, c.high)
				break
			}
		}
		if !slices.Equal(before, c.draws) {
			t.Errorf("the draws were reordered: %v", c.draws)
		}
	}
}

func TestShownByBasis(t *testing.T) {
	t.Parallel()
	weighed := figure.Exact("m", "mass", quantity.Mass, 1.2345, figure.Measured)
	weighed.Low, weighed.High = 1.2335, 1.2355 // the scale's own resolution
	cost := figure.Exact("cost", "cost", quantity.Money, 12.4, figure.Reckoned)
	cost.Currency = "EUR"
	price := figure.Exact("p", "price", quantity.MoneyPerEnergy, 0.3/3.6e6, figure.Entered)
	price.Currency = "EUR"
	mass := charge()
	mass.Currency = "EUR" // means nothing for a mass
	for _, c := range [][2]string{
		{weighed.Shown(), "1.23 kg"}, {weighed.ShownRange(), "1.234–1.236 kg"},
		{cost.Shown(), "12.40 EUR"}, {cost.ShownRange(), ""}, {cost.Unit(), "EUR"},
		{price.Shown(), "0.30 EUR per kWh"}, {price.Unit(), "EUR per J"},
		{mass.Shown(), "1.2 kg"}, {mass.ShownLimit(), "at most 2 kg"}, {cost.ShownLimit(), ""},
		{mass.Origin(), "from 14 runs"}, {mass.LearnedFrom(1).Origin(), "from 1 run"},
		{mass.LearnedFrom(0).Origin(), "learned"}, {cost.Origin(), "reckoned"},
	} {
		if c[0] != c[1] {
			t.Errorf("got %q, wanted %q", c[0], c[1])
		}
	}
}

func TestHelpersLeaveTheOriginalAlone(t *testing.T) {
	t.Parallel()
	base := figure.Exact("a", "a", quantity.Number, 1, figure.Books).Cite("Reid1965", "eq. 1")
	one, two := base.Cite("judgement", ""), base.Cite("invented", "")
	if len(base.Sources) != 1 || one.Sources[1].Key != "judgement" || two.Sources[1].Key != "invented" {
		t.Errorf("copies share their sources: %v %v %v", base.Sources, one.Sources, two.Sources)
	}
}

func ExampleFromDraws() {
	f, err := figure.FromDraws("charge_mass", "grams a charge", quantity.Mass, []float64{0.20, 0.22, 0.25, 0.27, 0.31})
	if err != nil {
		fmt.Println(err)
		return
	}
	f = f.LearnedFrom(14)
	fmt.Println(f.Shown(), "|", f.ShownRange(), "|", f.Origin())
	// Output: 250 g | 210–290 g | from 14 runs
}

func TestShownStaysInsideItsRange(t *testing.T) {
	t.Parallel()
	f := figure.Figure{Key: "density", Name: "density", Kind: quantity.Density, Value: 1240, Low: 1220, High: 1260, Basis: figure.Books}
	if got := f.Shown(); got != "1.24 g/cm³" {
		t.Errorf("got %q beside %q", got, f.ShownRange())
	}
}

// A limit nobody knows is kept by everything: it is no error, is not shown, and an
// answer with it is still JSON.
func TestALimitNobodyKnows(t *testing.T) {
	t.Parallel()
	for _, l := range []figure.Limit{{Name: "the jar", Value: math.Inf(1), Side: figure.Below, Holds: 1}, {Name: "the floor", Value: math.Inf(-1), Side: figure.Over, Holds: 1}} {
		f := charge().Held(l)
		text, err := json.Marshal(f)
		if err != nil || bytes.Contains(text, []byte(`"limit"`)) || f.ShownLimit() != "" {
			t.Errorf("%s: %s, %v, shown %q", l.Name, text, err, f.ShownLimit())
		}
		l.Value = math.NaN()
		if err := figure.Check(charge().Held(l)); err == nil {
			t.Errorf("%s that is no number is accepted", l.Name)
		}
	}
}
