package fit_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"testing"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/plan/fit"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

func dry(t testing.TB, s *shop.State, req fit.DryRequest) fit.Drying {
	t.Helper()
	req.Now = shoptest.Noon
	if req.Draws == 0 {
		req.Draws = 80
	}
	d, err := fit.Dry(s, req)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := json.Marshal(d); err != nil {
		t.Fatal(err)
	}
	if d.Possible == (d.Blocked != nil) || d.Document.Head.Empty() {
		t.Errorf("possible %v, blocked %+v, %q", d.Possible, d.Blocked, d.Document.Head.Code)
	}
	return d
}

func room(t testing.TB, humidity float64, polymer string, more ...shop.Body) *shop.State {
	return ground(t, polymer, append([]shop.Body{&shop.ShopSet{Name: "Test bench", RoomTemperature: shoptest.P(293.15), RoomHumidity: shoptest.P(humidity)}}, more...)...)
}

func TestDryingWorksOrSaysWhyNot(t *testing.T) {
	t.Parallel()
	s := room(t, 0.5, "PLA")
	for _, c := range []struct {
		name  string
		req   fit.DryRequest
		limit string // "" where it works
		says  string
	}{
		{"dry air", fit.DryRequest{Way: shop.DryAir}, "", "dry.in_dry_air"},
		// PLA in room air of 20 °C and 50 %RH heated to 50 °C keeps 760 ppm, docs/models/moisture.md.
		{"an oven", fit.DryRequest{Way: shop.Oven}, "air", "dry.too_wet"},
		{"too hot", fit.DryRequest{Way: shop.DryAir, Temperature: shoptest.P(345)}, "softening", "dry.sticks"},
		{"too deep", fit.DryRequest{Way: shop.DesiccantBox, Humidity: shoptest.P(0.001), Bed: shoptest.P(1)}, "depth", "dry.too_deep"},
		{"dry already", fit.DryRequest{Way: shop.Oven, Start: shoptest.P(10e-6)}, "", "dry.is_dry"},
	} {
		c.req.Lot = "R1"
		d := dry(t, s, c.req)
		if d.By != c.limit || !says(d.Document.Head.Saying, c.says) {
			t.Errorf("%s: %q, %q", c.name, d.By, d.Document.Head.Code)
		}
		if d.Possible && d.Needed && (d.Time.Low <= 0 || len(d.Document.Steps) == 0 || len(d.Document.Charts) == 0) {
			t.Errorf("%s: %s in %d steps", c.name, d.Time.ShownRange(), len(d.Document.Steps))
		}
	}
	// A depth nobody asked for is chosen so that it works.
	if d := dry(t, s, fit.DryRequest{Lot: "R1", Way: shop.DesiccantBox, Humidity: shoptest.P(0.001)}); !d.Possible || d.Depth.Value > 0.02 {
		t.Errorf("%v at %s: %s", d.Possible, d.Depth.Shown(), d.Document.Head.Code)
	}
	halogen := shoptest.Bin(t, &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "ABS", Halogen: shop.Yes, Mass: 1})
	for _, d := range []fit.Drying{dry(t, halogen, fit.DryRequest{Lot: "R1"}), dry(t, s, fit.DryRequest{Polymer: "PVC"})} {
		if d.Possible || !d.Barred || d.By != "bar" || len(d.Document.Steps) > 0 {
			t.Errorf("halogen is dried: %q", d.Document.Head.Code)
		}
	}
}

func TestEveryPolymerCanBeDriedOrNeedNot(t *testing.T) {
	t.Parallel()
	for _, polymer := range []string{"PLA", "PETG", "PET", "ABS", "ASA", "HIPS", "PC", "PP", "PE-HD", "PA6", "PA12", "TPU", "PVA"} {
		d := dry(t, room(t, 0.4, "PLA"), fit.DryRequest{Polymer: polymer, Way: shop.DryAir, DewPoint: shoptest.P(233.15), Draws: 40})
		if !d.Possible {
			t.Errorf("%s: %s", polymer, d.By)
		}
	}
}

func TestDryingIsMonotone(t *testing.T) {
	t.Parallel()
	air := fit.DryRequest{Lot: "R1", Way: shop.DryAir}
	at := func(change func(*fit.DryRequest)) fit.DryRequest { r := air; change(&r); return r }
	s := room(t, 0.5, "PETG")
	for _, c := range []struct {
		name  string
		value func(fit.Drying) float64
		steps []fit.Drying
	}{
		{"wetter at the start takes longer", dryFor, []fit.Drying{dry(t, s, at(func(r *fit.DryRequest) { r.Start = shoptest.P(0.0008) })), dry(t, s, at(func(r *fit.DryRequest) { r.Start = shoptest.P(0.001) })), dry(t, s, at(func(r *fit.DryRequest) { r.Start = shoptest.P(0.003) }))}},
		{"colder takes longer", dryFor, []fit.Drying{dry(t, s, at(func(r *fit.DryRequest) { r.Temperature = shoptest.P(338.15) })), dry(t, s, at(func(r *fit.DryRequest) { r.Temperature = shoptest.P(328.15) })), dry(t, s, at(func(r *fit.DryRequest) { r.Temperature = shoptest.P(318.15) }))}},
		{"a lower limit takes longer", dryFor, []fit.Drying{dry(t, s, at(func(r *fit.DryRequest) { r.Limit = shoptest.P(500e-6) })), dry(t, s, at(func(r *fit.DryRequest) { r.Limit = shoptest.P(200e-6) })), dry(t, s, at(func(r *fit.DryRequest) { r.Limit = shoptest.P(100e-6) }))}},
		{"more of it takes longer", dryFor, []fit.Drying{dry(t, s, at(func(r *fit.DryRequest) { r.Mass = shoptest.P(0.1) })), dry(t, s, at(func(r *fit.DryRequest) { r.Mass = shoptest.P(1) })), dry(t, s, at(func(r *fit.DryRequest) { r.Mass = shoptest.P(20) }))}},
		{"wetter room leaves more in an oven", func(d fit.Drying) float64 { return d.Rest.Value }, []fit.Drying{
			dry(t, room(t, 0, "PETG"), fit.DryRequest{Lot: "R1", Way: shop.Oven}), dry(t, room(t, 0.2, "PETG"), fit.DryRequest{Lot: "R1", Way: shop.Oven}), dry(t, room(t, 0.9, "PETG"), fit.DryRequest{Lot: "R1", Way: shop.Oven})}},
		{"wetter room leaves less time in the open", func(d fit.Drying) float64 { return -d.Open.Value }, []fit.Drying{
			dry(t, room(t, 0, "PETG"), at(start)), dry(t, room(t, 0.5, "PETG"), at(start)), dry(t, room(t, 1, "PETG"), at(start))}},
	} {
		for i := 1; i < len(c.steps); i++ {
			if a, b := c.value(c.steps[i-1]), c.value(c.steps[i]); b < a {
				t.Errorf("%s: step %d has %g after %g", c.name, i, b, a)
			}
		}
	}
}

func dryFor(d fit.Drying) float64 { return d.Time.High }

// start is water that has to be dried off in any room.
func start(r *fit.DryRequest) { r.Start = shoptest.P(0.002) }

// In air without any water nothing is taken up, and nothing is divided by it.
func TestDryRoom(t *testing.T) {
	t.Parallel()
	s := room(t, 0, "PLA")
	if d := dry(t, s, fit.DryRequest{Lot: "R1"}); !d.Possible || d.Needed || d.Start.Value != 0 {
		t.Errorf("%q", d.Document.Head.Code)
	}
	d := dry(t, s, fit.DryRequest{Lot: "R1", Start: shoptest.P(0.002)})
	stays := slices.ContainsFunc(d.Document.Steps, func(a answer.Action) bool { return says(a.Why, "dry.stays_dry") })
	if !d.Possible || d.Rest.Value != 0 || !stays {
		t.Errorf("%q, steps %+v", d.Document.Head.Code, d.Document.Steps)
	}
}

func TestDryingRefusesWhatCannotBe(t *testing.T) {
	t.Parallel()
	s := room(t, 0.5, "PLA")
	for _, c := range []struct {
		req         fit.DryRequest
		field, says string
	}{
		{fit.DryRequest{Lot: "R9"}, "lot", "fit.no_lot"},
		{fit.DryRequest{Polymer: "cheese"}, "polymer", "refused.no_material"},
		{fit.DryRequest{Lot: "R1", Way: "sunshine"}, "way", "dry.no_way"},
		{fit.DryRequest{Lot: "R1", Temperature: shoptest.P(2000)}, "temperature_k", "fit.outside"},
		{fit.DryRequest{Lot: "R1", Bed: shoptest.P(-1)}, "bed_m", "fit.outside"},
		{fit.DryRequest{Lot: "R1", Humidity: shoptest.P(50)}, "humidity", "fit.outside"},
		{fit.DryRequest{Lot: "R1", Way: shop.DryAir, Temperature: shoptest.P(260), DewPoint: shoptest.P(300)}, "temperature_k", "dry.condenses"},
		{fit.DryRequest{Lot: "R1", Start: shoptest.P(0.9)}, "start", "fit.outside"},
		{fit.DryRequest{Lot: "R1", Draws: -3}, "draws", "fit.draws_outside"},
	} {
		_, err := fit.Dry(s, c.req)
		var refused *shop.Error
		if !errors.As(err, &refused) || refused.Field != c.field || refused.What.Code != c.says {
			t.Errorf("%+v: %v", c.req, err)
		}
	}
}

// Nobody has dried the regrind, and the day is an ordinary one.
func ExampleDry() {
	s, err := shop.Fold([]shop.Record{
		{ID: 1, At: shoptest.Noon, Body: &shop.ShopSet{Name: "Test bench", RoomTemperature: shoptest.P(293.15), RoomHumidity: shoptest.P(0.5)}},
		{ID: 2, At: shoptest.Noon, Body: &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Sure: shoptest.P(0.98), Mass: 0.8}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	d, err := fit.Dry(s, fit.DryRequest{Lot: "R1", Way: shop.Oven, Now: shoptest.Noon})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(d.Possible, d.By, d.Blocked.Code)
	fmt.Println(d.Rest.Shown(), d.Limit.Shown())
	// Output:
	// false air dry.too_wet
	// 0.054 % 0.025 %
}

// The same lot, and whether it is fit for a vase.
func ExampleJudge() {
	s, err := shop.Fold([]shop.Record{
		{ID: 1, At: shoptest.Noon, Body: &shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", Sure: shoptest.P(0.98), Mass: 0.8}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := fit.Judge(s, fit.Request{Lot: "R1", Need: shop.Need{Name: "vase", From: "typed", Mass: shoptest.P(0.2)}, Now: shoptest.Noon})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f.Verdict, "because of", f.Decides)
	for _, x := range f.Items[:5] {
		fmt.Println(x.Key, x.Verdict)
	}
	// Output:
	// unlikely because of dry
	// enough yes
	// polymer yes
	// metal not known yet
	// sizes not known yet
	// dry unlikely
}

// Where nothing was weighed, what is reckoned and the trade's hours are shown side
// by side and the answer lies between them.
func TestForecastAndBooksMeet(t *testing.T) {
	t.Parallel()
	for _, polymer := range []string{"PETG", "ABS", "PC", "PA6", "TPU"} {
		d := dry(t, room(t, 0.4, polymer), fit.DryRequest{Polymer: polymer, Way: shop.DryAir, DewPoint: shoptest.P(233.15), Start: nil})
		all := map[string]figure.Figure{}
		for _, f := range d.Figures {
			all[f.Key] = f
		}
		a, b := all["time_reckoned"].Value, all["time_books"].Value
		if !d.Possible || a <= 0 || b <= 0 || d.Time.Value < min(a, b)*0.999 || d.Time.Value > max(a, b)*1.001 {
			t.Errorf("%s: %g s, reckoned %g, books %g", polymer, d.Time.Value, a, b)
		}
	}
}

// With no dryer described every kind is shown and the shop is asked; described,
// its own dryer answers, cut to what it holds.
func TestTheShopsDryerAnswers(t *testing.T) {
	t.Parallel()
	none := dry(t, room(t, 0.4, "ABS"), fit.DryRequest{Lot: "R1"})
	if !none.Assumed || len(none.With) != 4 || none.Document.Steps[0].Do.Code != "do.describe_dryer" || none.Document.Steps[0].Why.Code != "dry.assumed" || len(none.Document.Tables[0].Rows) != 4 || none.Instruction().Code != "do.describe_dryer_for" {
		t.Errorf("%+v", none.Document.Steps)
	}
	with := room(t, 0.4, "ABS", &shop.DryerSet{Dryer: shop.Dryer{Name: "Old stove", Way: shop.Oven, Temperature: shoptest.P(343.15)}})
	d := dry(t, with, fit.DryRequest{Lot: "R1", Draws: 240})
	if d.Assumed || d.Way != shop.Oven || d.Dryer != "Old stove" || d.Temperature.Value > 343.15+1e-9 || !says(d.Document.Head.Saying, "dry.in_named") {
		t.Errorf("%v %q: %s", d.Way, d.Dryer, d.Document.Head.Code)
	}
	// The check of the lot says the same.
	f := judge(t, with, fit.Request{Lot: "R1", Need: vase(0.2, "ABS"), Draws: 240})
	if x := itemOf(t, f, "dry"); x.Change == nil || x.Change.Kind == fit.Treat && !reflect.DeepEqual(x.Change.Do, d.Instruction()) {
		t.Errorf("the check says %+v, the drying %v", x.Change, d.Instruction())
	}
}

// A lot of which nobody knows the plastic is dried as a plastic once one is named; a suspected one
// never, whatever is named.
func TestNamingAPlasticLiftsNoSuspicion(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		lot    shop.TakenIn
		named  string
		barred bool
	}{
		"unknown":            {shop.TakenIn{}, "", true},
		"unknown, named":     {shop.TakenIn{}, "PLA", false},
		"known":              {shop.TakenIn{Polymer: "PLA"}, "", false},
		"suspected":          {shop.TakenIn{Polymer: "ABS", Halogen: shop.Yes}, "", true},
		"suspected, named":   {shop.TakenIn{Polymer: "ABS", Halogen: shop.Yes}, "PLA", true},
		"named as forbidden": {shop.TakenIn{Polymer: "PLA"}, "PVC", true},
	} {
		c.lot.Lot, c.lot.Class, c.lot.Mass = "R1", shop.Regrind, 1
		if d := dry(t, shoptest.Bin(t, &c.lot), fit.DryRequest{Lot: "R1", Polymer: c.named, Way: shop.DryAir, Draws: 4}); d.Barred != c.barred {
			t.Errorf("%s: barred %t", name, d.Barred)
		}
	}
}
